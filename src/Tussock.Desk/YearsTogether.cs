using System.Collections.Immutable;
using Tussock.Models;
using Tussock.Records;
using Tussock.Results;

namespace Tussock.Desk;

/// <summary>What the seasons of a data file say together, as its page shows it: the rest of the answer is let go.</summary>
/// <param name="Pooled">Which seasons, and what must be said first.</param>
/// <param name="Benchmark">Benchmark of survival of the newest, a share.</param>
/// <param name="Days">Length of the trial, days.</param>
/// <param name="Rows">All seasons together first, then each year, then each pasture with its years.</param>
/// <param name="Effects">How many times the odds to live through a day are those of the first year, and the p of no difference; empty where there is one year.</param>
/// <param name="Says">The same in survival terms.</param>
/// <param name="Why">Why there is no effect of the year; null where there is.</param>
public sealed record YearsTogether(PooledYears Pooled, double Benchmark, double Days, ImmutableArray<TogetherRow> Rows, ImmutableArray<YearEffect> Effects, ImmutableArray<Phrase> Says, Phrase? Why)
{
    /// <summary>Computes what the page shows.</summary>
    /// <param name="season">The seasons put together.</param>
    public static YearsTogether Of(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        var results = SeasonResults.Of(season);
        var pooled = season.Tables.Pooled ?? throw new ArgumentException("The season was not pooled", nameof(season));
        var rows = results.Groups.Where(g => g.Level is GroupLevel.Season or GroupLevel.Year or GroupLevel.PastureYear)
            .Select(g => new TogetherRow(g.Level, g.Property, g.Pasture, g.Year ?? "", g.Lines, g.Counts, g.Day28)).ToImmutableArray();
        if (pooled.Years.Length < 2) return new YearsTogether(pooled, season.Settings.SurvivalBenchmark, season.Settings.TrialDays, rows, [], [], Phrase.Of("pooling.one_year"));
        var model = SeasonModel.Of(season, new ModelRequest { Effects = EffectChoice.Read(PooledYears.Column) });
        if (!model.HasValue) return new YearsTogether(pooled, season.Settings.SurvivalBenchmark, season.Settings.TrialDays, rows, [], [], model.Why);
        var effects = model.Value.Effects.Where(e => e.Name.StartsWith(PooledYears.Column + " = ", StringComparison.Ordinal))
            .Select(e => new YearEffect(e.Name[(PooledYears.Column.Length + 3)..], e.Clustered ?? e.Estimate, e.Clustered is null ? e.P : e.ClusteredP));
        return new YearsTogether(pooled, season.Settings.SurvivalBenchmark, season.Settings.TrialDays, rows, [.. effects], [.. ModelSentences.Of(model.Value), .. model.Value.Warnings], null);
    }
}

/// <summary>One group of nests of the seasons together.</summary>
/// <param name="Level">All, a year, or a pasture in a year.</param>
/// <param name="Property">Property of the pasture.</param>
/// <param name="Pasture">The pasture.</param>
/// <param name="Year">The year; empty for all.</param>
/// <param name="Lines">Lines with a nest of known end.</param>
/// <param name="Counts">Counts of fates.</param>
/// <param name="Whole">Counted share whole at the end.</param>
public sealed record TogetherRow(GroupLevel Level, string? Property, string? Pasture, string Year, int Lines, FateCounts Counts, Estimate Whole);

/// <summary>A year against the first.</summary>
/// <param name="Year">The year.</param>
/// <param name="LogOdds">Difference of the log odds to live through a day, with the standard error between lines.</param>
/// <param name="P">Two-sided p of no difference; null when it can't be had.</param>
public sealed record YearEffect(string Year, Estimate LogOdds, double? P);
