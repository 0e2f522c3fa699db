using Tussock.Cover;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Simulation;
using Tussock.Survival;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>What one invented season would have been told.</summary>
/// <param name="Share">The counted share with its limits; NaN where there is none.</param>
/// <param name="SurvivalChance">Chance of the benchmark of survival; NaN where there is none.</param>
/// <param name="Survival">The call on survival.</param>
/// <param name="DensityChance">Chance of the benchmark of density; NaN where there is none.</param>
/// <param name="Density">The call on density.</param>
internal readonly record struct SeasonOutcome((double Value, double Low, double High) Share, double SurvivalChance, CallKind Survival, double DensityChance, CallKind Density)
{
    /// <summary>The verdict of the two calls.</summary>
    internal VerdictKind Verdict => Verdicts.Verdict.KindOf(Survival, Density);
}

/// <summary>Which parts of a season's answer are computed.</summary>
[Flags]
internal enum SeasonParts
{
    /// <summary>The counted share and its interval.</summary>
    Share = 1,

    /// <summary>The chance and the call on survival.</summary>
    Survival = 2,

    /// <summary>The chance and the call on density.</summary>
    Density = 4,

    /// <summary>All.</summary>
    All = Share | Survival | Density,
}

/// <summary>Draws seasons and asks the estimators of every season about them: one room a thread.</summary>
internal sealed class JudgedSeasons(PowerQuestion question, SeasonDesign design)
{
    private readonly SimulatedNests nests = new(design, question.Truth, question.Trial);
    private readonly DensityQuestion belts = new() { BenchmarkPerAcre = question.DensityBenchmark };

    /// <summary>The answers of all seasons of a design, each from its own stream of chance: the same bits at any number of threads.</summary>
    internal static SeasonOutcome[] Of(PowerQuestion question, SeasonDesign design, int seasons, SeasonParts parts, Action? done = null, CancellationToken cancel = default)
    {
        var outcomes = new SeasonOutcome[seasons];
        Ordered.WithRoom(seasons, () => new JudgedSeasons(question, design), (season, room) =>
        {
            outcomes[season] = room.Season(season, parts);
            done?.Invoke();
        }, cancel);
        return outcomes;
    }

    private SeasonOutcome Season(int season, SeasonParts parts)
    {
        nests.Draw(Seeded.Of(question.Seed, (ulong)season + 1));
        var share = parts.HasFlag(SeasonParts.Share) ? CountedShare.Of(nests.Spans, question.Trial, TrialDay.End).Share : null;
        var survival = parts.HasFlag(SeasonParts.Survival) ? Survival() : (double.NaN, CallKind.None);
        var density = parts.HasFlag(SeasonParts.Density) ? Density() : (double.NaN, CallKind.None);
        return new SeasonOutcome((share?.Value ?? double.NaN, share?.Low ?? double.NaN, share?.High ?? double.NaN), survival.Item1, survival.Item2, density.Item1, density.Item2);
    }

    /// <summary>The extremes of open fates can only take a call back, so they are asked for only where there is one.</summary>
    private (double Chance, CallKind Call) Survival()
    {
        var fit = TwoPiece.Fit(nests.Spans, question.Trial);
        var chance = BenchmarkChance.AtOwnShape(nests.Spans, fit, question.SurvivalBenchmark, question.Trial).Then(p => p.Chance);
        var side = new SurvivalSide { Chance = chance, Lines = fit.Lines, Benchmark = question.SurvivalBenchmark };
        var call = side.Call(question.Certainty).Kind;
        if (call != CallKind.None && nests.HasOpen) call = OpenFates.AtBothEnds(side, nests.Spans, nests.IsOpen, question.Trial).Call(question.Certainty).Kind;
        return (chance.HasValue ? chance.Value : double.NaN, call);
    }

    private (double Chance, CallKind Call) Density()
    {
        var density = ClumpDensity.Of(nests.Belts, belts);
        return (density.ChanceAtLeastBenchmark.Or(double.NaN), Calls.Of(density.ChanceAtLeastBenchmark, density.Lines, question.Certainty).Kind);
    }
}
