using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>The whole answer of a season, computed in one place. Command line, report and desk all read this.</summary>
/// <remarks>Same season and options, same bits, whatever the number of threads. May be shared between threads.</remarks>
public sealed class SeasonResults
{
    private SeasonResults()
    {
    }

    /// <summary>The season.</summary>
    public required Season Season { get; init; }

    /// <summary>What it was computed with.</summary>
    public required ResultsOptions Options { get; init; }

    /// <summary>Check day, length and window of the trial.</summary>
    public required Trial Trial { get; init; }

    /// <summary>Fates of the nests.</summary>
    public required SeasonFates Fates { get; init; }

    /// <summary>Estimates of every group: season, properties, pastures, transects, cover classes, pastures by class.</summary>
    public required ImmutableArray<GroupResults> Groups { get; init; }

    /// <summary>Cover classes against the reference, for the season and each pasture.</summary>
    public required ImmutableArray<CoverComparisonRow> CoverComparisons { get; init; }

    /// <summary>The clump density at which other cover and grass survive alike, over the whole season.</summary>
    public required ParityDensity Parity { get; init; }

    /// <summary>Runs of losses along the line.</summary>
    public required ImmutableArray<RunsRow> Runs { get; init; }

    /// <summary>Clump densities.</summary>
    public required ImmutableArray<DensityRow> Densities { get; init; }

    /// <summary>Who was it: beliefs over culprit classes and the composition of losses.</summary>
    public required Culprits Culprits { get; init; }

    /// <summary>Verdicts by pasture or property.</summary>
    public required ImmutableArray<VerdictRow> Verdicts { get; init; }

    /// <summary>Estimates of the whole season.</summary>
    public GroupResults Whole => Groups[0];

    /// <summary>Computes the whole answer.</summary>
    /// <param name="season">The season.</param>
    /// <param name="options">Seed, certainty, progress, cancel.</param>
    /// <param name="before">An earlier answer of the season, from which the estimates of groups are taken whose nests say the same; the bits are the same with and without it.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static SeasonResults Of(Season season, ResultsOptions? options = null, SeasonResults? before = null)
    {
        var asked = options ?? new ResultsOptions();
        var (first, days, window) = season.Settings.TrialNumbers;
        var trial = new Trial(first, days, window);
        var fates = SeasonFates.Of(season);
        var definitions = GroupDefinition.Of(season, fates.Spans);
        var belts = Belts.Of(season);
        var earlier = EarlierGroups.Of(before, season, fates.Spans, trial);
        var groups = new GroupResults[definitions.Length];
        ImmutableArray<RunsRow> runs = [];
        ImmutableArray<DensityRow> densities = [];
        Culprits? culprits = null;
        ParityDensity? parity = null;
        Action[] others = [() => runs = RunsOf(season, fates, asked.Seed, trial), () => densities = DensityRows.Of(season, belts), () => culprits = Culprits.Of(season, fates, asked.Seed), () => parity = ParityOf(season, fates.Spans, belts)];
        var done = 0;
        Ordered.For(others.Length + definitions.Length, i =>
        {
            if (i < others.Length) others[i]();
            else groups[i - others.Length] = GroupEstimates.Of(definitions[i - others.Length], fates, season.Settings, trial, earlier);
            asked.Progress?.Invoke((double)Interlocked.Increment(ref done) / (others.Length + definitions.Length));
        }, asked.Cancel);
        var all = ImmutableArray.Create(groups);
        return new SeasonResults
        {
            Season = season,
            Options = asked,
            Trial = trial,
            Fates = fates,
            Groups = all,
            CoverComparisons = Comparisons(all, fates.Spans.CoverNames, trial, asked.Cancel),
            Parity = parity!,
            Runs = runs,
            Densities = densities,
            Culprits = culprits!,
            Verdicts = VerdictRows.Of(season, all, belts, trial, asked),
        };
    }

    private static ImmutableArray<CoverComparisonRow> Comparisons(ImmutableArray<GroupResults> groups, ImmutableArray<string> covers, Trial trial, CancellationToken cancel)
    {
        var compared = groups.Where(g => g.Level is GroupLevel.Season or GroupLevel.Pasture).ToArray();
        var rows = new ImmutableArray<CoverComparisonRow>[compared.Length];
        Ordered.For(rows.Length, i =>
        {
            var group = compared[i];
            var hazards = HazardRatio.Of(group.Spans, trial);
            rows[i] = [.. hazards.Select((hazard, c) => new CoverComparisonRow(group.Property, group.Pasture, covers[0], covers[c + 1], MantelHaenszel.Compare(group.Spans, 0, c + 1), hazard))];
        }, cancel);
        return [.. rows.SelectMany(r => r)];
    }

    private static ParityDensity ParityOf(Season season, NestSpans spans, Belts belts)
    {
        var roles = season.Settings.CoverClasses.ToDictionary(c => c.Name, c => c.Role, StringComparer.Ordinal);
        return ParityDensity.Of(spans, [.. spans.CoverNames.Select(name => roles.GetValueOrDefault(name, CoverRole.Other) != CoverRole.Grass)], LineDensities.Of(season, belts));
    }

    private static ImmutableArray<RunsRow> RunsOf(Season season, SeasonFates fates, ulong seed, Trial trial)
    {
        var rows = ImmutableArray.CreateBuilder<RunsRow>();
        foreach (var (day, column) in ((int, FateAt[])[])[((int)trial.FirstCheck, fates.Spans.Day14), ((int)trial.Days, fates.Spans.Day28)])
        {
            var lines = RunsTest.Lines(fates.Spans, column, seed);
            rows.Add(new RunsRow(GroupLevel.Season, season.Settings.Name, day, RunsTest.Together(lines)));
            foreach (var line in lines.OrderBy(l => l.Transect)) rows.Add(new RunsRow(GroupLevel.Transect, season.Transects[line.Transect].Name, day, RunsTest.Together([line])));
        }

        return rows.ToImmutable();
    }
}
