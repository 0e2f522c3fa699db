using System.Collections.Immutable;
using Tussock.Results;

namespace Tussock.Desk;

/// <summary>What of a season's answer stands beside other years: the counted share of the season and of each pasture.</summary>
/// <param name="Benchmark">The season's benchmark of survival, a share.</param>
/// <param name="Groups">The whole season first, then its pastures.</param>
public sealed record YearNumbers(double Benchmark, ImmutableArray<YearGroup> Groups)
{
    /// <summary>Takes it from an answer, and lets the rest of it go.</summary>
    public static YearNumbers Of(SeasonResults results)
    {
        ArgumentNullException.ThrowIfNull(results);
        return new YearNumbers(results.Season.Settings.SurvivalBenchmark, [.. results.Groups.Where(g => g.Level is GroupLevel.Season or GroupLevel.Pasture).Select(g => new YearGroup(g.Level == GroupLevel.Season ? null : g.Property, g.Name, g.Counts, g.Day28))]);
    }
}

/// <summary>One group of nests in one year.</summary>
/// <param name="Property">Property of a pasture; null for the whole season.</param>
/// <param name="Name">Name of the group.</param>
/// <param name="Counts">Counts of its fates.</param>
/// <param name="Whole">Counted share whole at the end.</param>
public sealed record YearGroup(string? Property, string Name, FateCounts Counts, Estimate Whole);
