using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Groups of nests that share luck: the groups of the table, and further groupings above or across them.</summary>
/// <param name="OfNest">Name of the table's group of each row of the frame.</param>
/// <param name="Above">Further groupings by name, each with the name of the level of every row of the frame.</param>
internal sealed record NestGroups(Func<int, string> OfNest, ImmutableArray<(string Name, Func<int, string> Level)> Above)
{
    /// <summary>The lines: what clusters are without groups.</summary>
    internal static NestGroups Lines(ModelFrame frame) => new(Level(frame, "transect"), []);

    /// <summary>The groups with these names: transect, pasture, year; transects first where they are among them.</summary>
    /// <remarks>A line in several pastures or years is a group in each.</remarks>
    internal static NestGroups Of(ModelNests nests, ImmutableArray<string> names)
    {
        if (names.IsEmpty) return Lines(nests.Frame);
        var first = names.Contains("transect") ? "transect" : names[0];
        var own = Level(nests.Frame, first);
        ImmutableArray<(string Name, Func<int, string> Level)> above = [.. names.Where(n => n != first).Select(n => (n, Level(nests.Frame, n)))];
        string Cell(int row) => string.Join(", ", above.Select(a => a.Level(row)));
        var isSplit = above.Length > 0 && nests.Rows.GroupBy(own, StringComparer.Ordinal).Any(g => g.Select(Cell).Distinct(StringComparer.Ordinal).Count() > 1);
        return new NestGroups(isSplit ? row => own(row) + ", " + Cell(row) : own, above);
    }

    /// <summary>The groupings above, by the order of the table's groups.</summary>
    internal ImmutableArray<Grouping> Groupings(ModelTable table, ModelNests nests)
    {
        var member = nests.Rows.GroupBy(OfNest, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First(), StringComparer.Ordinal);
        return [.. Above.Select(a =>
        {
            var levels = table.GroupNames.Select(g => a.Level(member[g])).ToArray();
            var index = levels.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).Select((l, i) => (l, i)).ToDictionary(l => l.l, l => l.i, StringComparer.Ordinal);
            return new Grouping(a.Name, [.. levels.Select(l => index[l])]);
        })];
    }

    private static Func<int, string> Level(ModelFrame frame, string name)
    {
        if (name == "year" && frame.Effect(name) is { } year) return row => year.Levels[(int)year.At(row, 0)];
        if (name != "pasture") return row => frame.Nests[row].Nest.Transect.Line;
        return row =>
        {
            var pasture = frame.Nests[row].Nest.Transect.Pasture;
            return pasture.Property + ", " + pasture.Name;
        };
    }
}
