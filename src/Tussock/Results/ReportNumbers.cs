using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Review;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>What a report needs beyond <see cref="SeasonResults"/>, computed in one place: bands of curves, exposure days, losses by cause, what more nests might have shown, models, segments, findings.</summary>
/// <remarks>Same results, same bits. May be shared between threads.</remarks>
public sealed record ReportNumbers
{
    /// <summary>Nests of another set that a landowner can picture.</summary>
    public const int AnotherNests = 24;

    /// <summary>Lines of that set.</summary>
    public const int AnotherLines = 4;

    /// <summary>The answer of the season.</summary>
    public required SeasonResults Results { get; init; }

    /// <summary>Groups with a curve: season, properties, pastures.</summary>
    public required ImmutableArray<ReportGroup> Groups { get; init; }

    /// <summary>Verdict by verdict, in the order of <see cref="SeasonResults.Verdicts"/>.</summary>
    public required ImmutableArray<ReportVerdict> Verdicts { get; init; }

    /// <summary>Segments of all lines, of the classes that count towards the benchmark.</summary>
    public required ImmutableArray<SegmentDensity> Segments { get; init; }

    /// <summary>What goes with survival: the models of the whole season.</summary>
    public required ReportModels Models { get; init; }

    /// <summary>What the inspector found, worst first.</summary>
    public required ImmutableArray<Problem> Findings { get; init; }

    /// <summary>Computes what a report of a season needs.</summary>
    /// <param name="results">The answer of the season.</param>
    /// <param name="cancel">Stops the work.</param>
    public static ReportNumbers Of(SeasonResults results, CancellationToken cancel = default) => Of(results, null, cancel);

    /// <summary>Computes what a report of a season needs, from an earlier answer where that still holds.</summary>
    /// <param name="results">The answer of the season.</param>
    /// <param name="before">Numbers of an earlier answer of the season, from which those of groups are taken whose nests say the same; the bits are the same with and without it.</param>
    /// <param name="cancel">Stops the work.</param>
    public static ReportNumbers Of(SeasonResults results, ReportNumbers? before, CancellationToken cancel)
    {
        var season = results.Season;
        var groups = results.Groups.Where(g => g.Level is GroupLevel.Season or GroupLevel.Property or GroupLevel.Pasture).ToArray();
        var belts = Belts.Of(season);
        var made = new ReportGroup[groups.Length];
        ReportModels? models = null;
        var earlier = before is not null && before.Results.Trial == results.Trial && before.Results.Options.Seed == results.Options.Seed ? before.Groups.DistinctBy(g => EarlierGroups.Key(g.Group)).ToDictionary(g => EarlierGroups.Key(g.Group)) : [];
        Ordered.For(1 + groups.Length, i =>
        {
            if (i == 0) models = ReportModels.Of(results);
            else made[i - 1] = earlier.TryGetValue(EarlierGroups.Key(groups[i - 1]), out var same) && same.Group.Spans.SaysTheSame(groups[i - 1].Spans) ? same with { Group = groups[i - 1] } : ReportGroup.Of(groups[i - 1], results.Trial, results.Options.Seed);
        }, cancel);
        return new ReportNumbers
        {
            Results = results,
            Groups = [.. made],
            Models = models!,
            Verdicts = [.. results.Verdicts.Select(v => ReportVerdict.Of(v, results))],
            Segments = SegmentDensity.Along(belts.Units, belts.Question(season.Settings)),
            Findings = Inspector.Findings(season),
        };
    }

    /// <summary>The report's numbers of a group.</summary>
    public ReportGroup Of(GroupResults group) => Groups.First(g => ReferenceEquals(g.Group, group));
}

/// <summary>A group with its curve's band, exposure days and losses by cause.</summary>
/// <param name="Group">Its survival estimates.</param>
/// <param name="Band">The curve with limits at the middle of each of its flat pieces; empty without a curve.</param>
/// <param name="Exposure">Daily survival from exposure days.</param>
/// <param name="Incidence">Share of nests lost to each cause by the end of the trial.</param>
public sealed record ReportGroup(GroupResults Group, ImmutableArray<BandPoint> Band, Estimate Exposure, Answer<ImmutableArray<CauseShare>> Incidence)
{
    internal static ReportGroup Of(GroupResults group, Trial trial, ulong seed) => new(
        group,
        group.Curve.HasValue && group.Spans.Count > 0 ? TurnbullBand.Around(group.Spans, MiddleDays(group.Curve.Value, trial), seed) : [],
        Mayfield.Of(group.Spans),
        CumulativeIncidence.Of(group.Spans, trial));

    /// <summary>The middle day of each flat piece of a curve, to the end of the last check's window.</summary>
    private static double[] MiddleDays(SurvivalCurve curve, Trial trial)
    {
        var days = new List<double>();
        var (from, end) = (0.0, trial.Days + trial.Window);
        for (var i = 0; i < curve.Mass.Length && from < end; i++)
        {
            days.Add((from + Math.Min(end, Math.Max(from, curve.Left[i]))) / 2);
            from = curve.Right[i] ?? double.PositiveInfinity;
        }

        if (from < end) days.Add((from + end) / 2);
        return [.. days];
    }
}

/// <summary>A verdict with what a page says beside it.</summary>
public sealed record ReportVerdict
{
    private const int FewLines = 6;

    /// <summary>The verdict.</summary>
    public required VerdictRow Row { get; init; }

    /// <summary>What another set of nests on new lines might have shown; a reason where there is no posterior.</summary>
    public required Answer<PredictiveShare> Another { get; init; }

    /// <summary>Losses that cameras saw, by culprit class, the most first; ties in ordinal order.</summary>
    public required ImmutableArray<(string Culprit, int Losses)> Confirmed { get; init; }

    /// <summary>Shares of the culprit classes.</summary>
    public required CompositionRow? Composition { get; init; }

    /// <summary>Names of the group's pastures.</summary>
    public required ImmutableArray<Pasture> Pastures { get; init; }

    /// <summary>Whether losses other than to predators come first in what is said.</summary>
    public bool OthersLead => Row.Verdict.Because.Any(b => b.Key == "verdict.lost_to");

    /// <summary>Losses that cameras saw.</summary>
    public int ConfirmedLosses => Confirmed.Sum(c => c.Losses);

    /// <summary>The lesser of the certainties of the two calls, in [0, 1]; null unless both are made.</summary>
    public double? Certainty => Row.Verdict is { Survival: { IsMade: true, Chance: { } s }, Density: { IsMade: true, Chance: { } d } }
        ? Math.Min(Math.Max(s, 1 - s), Math.Max(d, 1 - d))
        : null;

    /// <summary>The survival interval that a page shows first: with few lines the posterior one, else that of the counted share; the two-piece one where no share is counted.</summary>
    public Estimate FirstInterval => Row.Group switch
    {
        { Day28.Value: null, TwoPieceDay28.Value: not null } g => g.TwoPieceDay28,
        { Lines: < FewLines, Day28Posterior.Low: not null } g => g.Day28Posterior,
        var g => g.Day28,
    };

    internal static ReportVerdict Of(VerdictRow row, SeasonResults results)
    {
        ImmutableArray<Pasture> pastures = [.. results.Season.Pastures.Where(p => p.Property == row.Property && (row.Pasture is null || p == row.Pasture))];
        var seen = results.Culprits.Nests.Where(n => n.Confirmed is not null && pastures.Contains(n.Fate.Nest.Transect.Pasture));
        return new ReportVerdict
        {
            Row = row,
            Pastures = pastures,
            Another = row.Group.Posterior.Then(p => PredictiveShare.Of(p, ReportNumbers.AnotherNests, ReportNumbers.AnotherLines)),
            Confirmed = [.. seen.GroupBy(n => n.Confirmed!, StringComparer.Ordinal).Select(g => (g.Key, g.Count())).OrderByDescending(g => g.Item2).ThenBy(g => g.Key, StringComparer.Ordinal)],
            Composition = results.Culprits.Compositions.FirstOrDefault(c => row.Pasture is null ? c.Level == GroupLevel.Property && c.Name == row.Property : c.Level == GroupLevel.Pasture && c.Property == row.Property && c.Name == row.Pasture.Name),
        };
    }
}
