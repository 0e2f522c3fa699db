using System.Collections.Immutable;
using Tussock.Simulation;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>How often invented seasons of one design get which answer, and how often it is wrong.</summary>
/// <remarks>Shares of all seasons, in [0, 1]. Chance alone moves a share s of K seasons by about √(s(1 − s)/K). May be shared between threads.</remarks>
public sealed record CallRates
{
    /// <summary>Seasons.</summary>
    public required int Seasons { get; init; }

    /// <summary>The design that was judged.</summary>
    public required SeasonDesign Design { get; init; }

    /// <summary>Seasons whose counted share has an interval.</summary>
    public required int WithInterval { get; init; }

    /// <summary>Of these, how many intervals hold the true survival; null when there are none.</summary>
    public required double? Coverage { get; init; }

    /// <summary>Mean width of these intervals; null when there are none.</summary>
    public required double? MeanWidth { get; init; }

    /// <summary>Standard deviation of the widths.</summary>
    public required double? SdWidth { get; init; }

    /// <summary>Mean of the counted shares.</summary>
    public required double? MeanShare { get; init; }

    /// <summary>Standard deviation of the counted shares.</summary>
    public required double? SdShare { get; init; }

    /// <summary>Survival called likely at the benchmark or above.</summary>
    public required double SurvivalLikely { get; init; }

    /// <summary>Survival called unlikely to reach it.</summary>
    public required double SurvivalUnlikely { get; init; }

    /// <summary>Survival called on the side where the truth is not; at the benchmark itself either call is right.</summary>
    public required double SurvivalWrong { get; init; }

    /// <summary>Density called likely at the benchmark or above; null when it was not asked.</summary>
    public required double? DensityLikely { get; init; }

    /// <summary>Density called unlikely to reach it.</summary>
    public required double? DensityUnlikely { get; init; }

    /// <summary>Density called on the side where the truth is not.</summary>
    public required double? DensityWrong { get; init; }

    /// <summary>Each verdict, in the order of <see cref="VerdictKind"/>; empty when density was not asked.</summary>
    public required ImmutableArray<double> Verdicts { get; init; }

    /// <summary>Wrong side by the naive rule that knows neither chance nor lines: the share itself at or above the benchmark, or below.</summary>
    public required double? NaiveWrong { get; init; }

    /// <summary>Chance of a clear answer: a verdict where density was asked, else a call on survival.</summary>
    public double Clear => Verdicts.IsEmpty ? SurvivalLikely + SurvivalUnlikely : 1 - Verdicts[(int)VerdictKind.NotEnoughData];

    /// <summary>Chance of not enough data.</summary>
    public double NotEnough => 1 - Clear;

    /// <summary>The largest standard error that chance alone gives a share of so many seasons.</summary>
    public double LargestChanceError => 0.5 / Math.Sqrt(Seasons);

    /// <summary>How often do seasons of this design get which answer?</summary>
    /// <param name="question">Truth, benchmarks, seasons and seed.</param>
    /// <param name="design">Lines that are judged together and nests on each.</param>
    /// <param name="seasons">How many seasons, ≥ 1.</param>
    /// <param name="done">Told after each season, from any thread.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <remarks>
    /// Visits and belts are drawn, then counted share, chance, calls and verdict are those of every season: the same functions. A season has its own
    /// stream of chance, and sums run in the order of seasons: the same bits at any number of threads. Cost: about 2 ms of one core a season of 12 × 12, 3 ms where nests are not found.
    /// Assumes lines drawn at random, lines alike but for their own luck, nests of a line alike but for cover.
    /// </remarks>
    /// <source>Operating characteristics by simulation of the whole trial: common practice, no source.</source>
    /// <check>power-of-cover-tests</check>
    /// <check>verdict-errors</check>
    public static CallRates Of(PowerQuestion question, SeasonDesign design, int seasons, Action? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(design);
        var parts = question.HasDensity ? SeasonParts.All : SeasonParts.Share | SeasonParts.Survival;
        return Summed(question, design, JudgedSeasons.Of(question, design, seasons, parts, done, cancel));
    }

    /// <summary>The same for clump density alone: belts are drawn and nothing is asked of the nests, which is a hundred times quicker.</summary>
    /// <param name="question">Truth, benchmarks, seasons and seed.</param>
    /// <param name="design">Lines that are judged together and nests on each: the belt runs along them.</param>
    /// <param name="seasons">How many seasons, ≥ 1.</param>
    /// <param name="done">Told after each season, from any thread.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <returns>Rates of calls on density; those of survival are 0.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <source>Operating characteristics by simulation of the whole trial: common practice, no source.</source>
    /// <check>verdict-errors</check>
    public static CallRates OfDensity(PowerQuestion question, SeasonDesign design, int seasons, Action? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(design);
        return Summed(question with { HasDensity = true }, design, JudgedSeasons.Of(question, design, seasons, SeasonParts.Density, done, cancel));
    }

    internal static CallRates Summed(PowerQuestion question, SeasonDesign design, SeasonOutcome[] outcomes)
    {
        var truth = question.Truth.Survival;
        var counted = outcomes.Where(o => !double.IsNaN(o.Share.Value)).ToArray();
        var limited = counted.Where(o => !double.IsNaN(o.Share.Low)).ToArray();
        var widths = limited.Select(o => o.Share.High - o.Share.Low).ToArray();
        var shares = counted.Select(o => o.Share.Value).ToArray();
        double Rate(Func<SeasonOutcome, bool> of) => (double)outcomes.Count(of) / outcomes.Length;
        double Wrong(Func<SeasonOutcome, CallKind> call, double true_, double benchmark) => true_ == benchmark ? 0 : Rate(o => call(o) == (true_ > benchmark ? CallKind.Unlikely : CallKind.Likely));
        return new CallRates
        {
            Seasons = outcomes.Length,
            Design = design,
            WithInterval = limited.Length,
            Coverage = limited.Length == 0 ? null : (double)limited.Count(o => o.Share.Low <= truth && truth <= o.Share.High) / limited.Length,
            MeanWidth = Mean(widths),
            SdWidth = Sd(widths),
            MeanShare = Mean(shares),
            SdShare = Sd(shares),
            SurvivalLikely = Rate(o => o.Survival == CallKind.Likely),
            SurvivalUnlikely = Rate(o => o.Survival == CallKind.Unlikely),
            SurvivalWrong = Wrong(o => o.Survival, truth, question.SurvivalBenchmark),
            DensityLikely = question.HasDensity ? Rate(o => o.Density == CallKind.Likely) : null,
            DensityUnlikely = question.HasDensity ? Rate(o => o.Density == CallKind.Unlikely) : null,
            DensityWrong = question.HasDensity ? Wrong(o => o.Density, question.Truth.PerAcre, question.DensityBenchmark) : null,
            Verdicts = question.HasDensity ? [.. Enum.GetValues<VerdictKind>().Select(v => Rate(o => o.Verdict == v))] : [],
            NaiveWrong = counted.Length == 0 ? null : truth == question.SurvivalBenchmark ? 0 : (double)counted.Count(o => o.Share.Value >= question.SurvivalBenchmark != truth >= question.SurvivalBenchmark) / counted.Length,
        };
    }

    private static double? Mean(double[] x) => x.Length == 0 ? null : x.Sum() / x.Length;

    private static double? Sd(double[] x)
    {
        if (x.Length < 2) return null;
        var mean = x.Sum() / x.Length;
        return Math.Sqrt(x.Sum(v => (v - mean) * (v - mean)) / (x.Length - 1));
    }
}
