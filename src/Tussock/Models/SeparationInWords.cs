namespace Tussock.Models;

/// <summary>Which effects are infinite, and what in the table makes them so.</summary>
internal static class SeparationInWords
{
    /// <summary>Columns without a finite effect: those that a direction without end touches.</summary>
    public static int[] Infinite(EffectsFit fit) =>
        [.. Enumerable.Range(0, fit.Table.Width).Where(j => fit.Maximum.Infinite.Any(u => u[j] != 0))];

    public static Phrase Of(EffectsFit fit)
    {
        var maximum = fit.Maximum;
        if (maximum.Columns.Table.Patterns == 0 && fit.Table.Losses == 0) return Phrase.Of("models.nothing_lost");
        if (maximum.Columns.Table.Patterns == 0 && fit.Table.Watched.All(days => days == 0)) return Phrase.Of("models.everything_lost");
        var columns = Infinite(fit);
        if (columns.Length == 1 && maximum.Gone.Length == 1 && Value(maximum.Gone[0], columns[0]) is { } value)
        {
            var lost = maximum.Gone[0].Signs.Any(s => s > 0);
            return Phrase.Of(lost ? "models.all_lost_where" : "models.none_lost_where", ("column", fit.Table.Columns[columns[0]]), ("value", value));
        }

        return Phrase.Of("models.separated", ("columns", string.Join(", ", columns.Select(c => fit.Table.Columns[c]))));
    }

    /// <summary>The one value of a column in all patterns that went to infinity, all the same way.</summary>
    private static double? Value((ModelTable Table, sbyte[] Signs) gone, int column)
    {
        double? value = null;
        var way = 0;
        for (var p = 0; p < gone.Signs.Length; p++)
        {
            if (gone.Signs[p] == 0) continue;
            var x = gone.Table.Row(p)[column];
            if ((value ?? x) != x || (way != 0 && way != gone.Signs[p])) return null;
            (value, way) = (x, gone.Signs[p]);
        }

        return value;
    }
}
