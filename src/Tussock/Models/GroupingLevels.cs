namespace Tussock.Models;

/// <summary>A grouping of a fit: its name and how many of its levels have something to say.</summary>
internal readonly record struct GroupingLevels(string Name, int Informative)
{
    /// <summary>The groups of a table.</summary>
    public static GroupingLevels Of(ModelTable table, string name) => new(name, Enumerable.Range(0, table.Groups).Count(g => Speaks(table, g)));

    /// <summary>A grouping above them.</summary>
    public static GroupingLevels Of(ModelTable table, Grouping grouping) =>
        new(grouping.Name, Enumerable.Range(0, table.Groups).Where(g => Speaks(table, g)).Select(g => grouping.Level[g]).Distinct().Count());

    /// <summary>Whether a group has a day watched or a loss.</summary>
    public static bool Speaks(ModelTable table, int group)
    {
        if (table.GroupLosses[group + 1] > table.GroupLosses[group]) return true;
        for (var p = table.GroupPatterns[group]; p < table.GroupPatterns[group + 1]; p++)
            if (table.Watched[p] > 0 || table.Timed[p] > 0) return true;
        return false;
    }
}
