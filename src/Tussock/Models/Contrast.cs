using System.Collections.Immutable;
using System.Globalization;

namespace Tussock.Models;

/// <summary>What an effect does in survival terms: the same nest with the effect at different points.</summary>
/// <param name="Given">What else is set; other effects are as on the season's typical nest.</param>
/// <param name="Effect">Name of the effect.</param>
/// <param name="Points">Its classes, the reference first; of a number a low and a high value of this season.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record Contrast(Pattern Given, string Effect, ImmutableArray<string> Points)
{
    /// <summary>Share of the days watched below the low point of a number, and above the high one.</summary>
    private const double Tail = 0.1;

    /// <summary>The patterns of the points.</summary>
    public IEnumerable<Pattern> Patterns => Points.Select(p => Given.With(Effect, p));

    /// <summary>One contrast for each effect that acts by itself, and for an interaction one at each point of its second effect.</summary>
    /// <param name="design">The design.</param>
    /// <returns>Contrasts in the order of the effects, interactions last; none for an effect that has one value.</returns>
    public static ImmutableArray<Contrast> Of(ModelDesign design)
    {
        var table = design.Table();
        var points = design.Effects.ToDictionary(e => e.Name, e => e.IsNumber ? Ends(design, table, e) : e.Levels, StringComparer.Ordinal);
        var inPairs = design.Choice.Interactions.SelectMany(i => new[] { i.First, i.Second }).ToHashSet(StringComparer.Ordinal);
        var contrasts = design.Choice.Effects.Where(e => !inPairs.Contains(e)).Select(e => new Contrast(Pattern.Typical, e, points[e]))
            .Concat(design.Choice.Interactions.SelectMany(i => points[i.Second].Select(p => new Contrast(Pattern.Typical.With(i.Second, p), i.First, points[i.First]))));
        return [.. contrasts.Where(c => c.Points.Length > 1)];
    }

    /// <summary>The values of a number below and above which a tenth of the days watched lie; the ends of its range where these are one.</summary>
    private static ImmutableArray<string> Ends(ModelDesign design, ModelTable table, Effect effect)
    {
        var column = design.Columns.IndexOf(effect.Name);
        if (column < 0) return [];
        var values = Enumerable.Range(0, table.Patterns).Select(p => (Value: table.Row(p)[column], Days: table.Watched[p])).OrderBy(v => v.Value).ToArray();
        double low = At(values, Tail), high = At(values, 1 - Tail);
        if (low == high) (low, high) = (values[0].Value, values[^1].Value);
        return low == high ? [] : [Text(low), Text(high)];
    }

    private static double At((double Value, double Days)[] values, double share)
    {
        var left = share * values.Sum(v => v.Days);
        foreach (var (value, days) in values) if ((left -= days) <= 0) return value;
        return values[^1].Value;
    }

    private static string Text(double x) => x.ToString("R", CultureInfo.InvariantCulture);
}
