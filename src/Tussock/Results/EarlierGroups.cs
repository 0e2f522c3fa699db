using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Groups of an earlier answer of a season: where the nests of a group say the same as then, its estimates are the same too.</summary>
internal sealed class EarlierGroups
{
    private readonly Dictionary<(GroupLevel, string, string?, string?, string?), GroupResults> groups = [];

    private EarlierGroups(SeasonResults before)
    {
        foreach (var group in before.Groups) groups.TryAdd(Key(group), group);
    }

    /// <summary>Groups that may be taken over; null when lines, classes, trial or benchmark are others than then.</summary>
    internal static EarlierGroups? Of(SeasonResults? before, Season season, NestSpans spans, Trial trial) =>
        before is not null && before.Trial == trial && before.Season.Settings.SurvivalBenchmark == season.Settings.SurvivalBenchmark
        && before.Fates.Spans.LineNames.SequenceEqual(spans.LineNames) && before.Fates.Spans.CoverNames.SequenceEqual(spans.CoverNames) ? new EarlierGroups(before) : null;

    /// <summary>The estimates of a group whose nests say the same; null when they don't. Season and nests in it are still the earlier ones.</summary>
    internal GroupResults? Same(GroupDefinition group, NestSpans spans) =>
        groups.TryGetValue((group.Level, group.Name, group.Property, group.Pasture?.Name, group.Cover), out var earlier) && earlier.Spans.SaysTheSame(spans) ? earlier : null;

    /// <summary>What makes two groups of two answers the same group.</summary>
    internal static (GroupLevel Level, string Name, string? Property, string? Pasture, string? Cover) Key(GroupResults group) => (group.Level, group.Name, group.Property, group.Pasture, group.Cover);
}
