using System.Collections.Immutable;
using Tussock.Simulation;

namespace Tussock.Planning.Power;

/// <summary>Chance of each call at one truth.</summary>
/// <param name="Truth">True survival, or true clumps an acre.</param>
/// <param name="Likely">Called at the benchmark or above.</param>
/// <param name="Unlikely">Called below it.</param>
public readonly record struct CallsAtTruth(double Truth, double Likely, double Unlikely)
{
    /// <summary>Not called.</summary>
    public double NotCalled => 1 - Likely - Unlikely;
}

/// <summary>Chance of each call for every truth: the operating characteristic of a design.</summary>
/// <param name="Seasons">Invented seasons at each truth.</param>
/// <param name="Survival">By true survival, ascending.</param>
/// <param name="Density">By true density, ascending; empty when density was not asked.</param>
/// <remarks>Calls on survival and on density rest on separate counts: the chance of a verdict is the product of its two calls. May be shared between threads.</remarks>
public sealed record OperatingCurve(int Seasons, ImmutableArray<CallsAtTruth> Survival, ImmutableArray<CallsAtTruth> Density)
{
    /// <summary>True survivals that are tried.</summary>
    public static ImmutableArray<double> Survivals { get; } = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9];

    /// <summary>True densities that are tried, as factors of the benchmark.</summary>
    public static ImmutableArray<double> DensityFactors { get; } = [0.4, 0.55, 0.7, 0.85, 1, 1.15, 1.3, 1.6, 2];

    /// <summary>How does the chance of each call depend on what is true?</summary>
    /// <param name="question">Spread of lines, what is not found, benchmarks, seed; its own survival and density are passed over.</param>
    /// <param name="design">Lines that are judged together and nests on each.</param>
    /// <param name="seasons">Invented seasons at each truth.</param>
    /// <param name="done">Told after each season with nests, from any thread.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <source>Operating characteristics by simulation of the whole trial: common practice, no source.</source>
    /// <check>verdict-errors</check>
    public static OperatingCurve Of(PowerQuestion question, SeasonDesign design, int seasons, Action? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        var nests = question with { HasDensity = false };
        var survival = Survivals.Select(s => (Truth: s, Rates: CallRates.Of(nests with { Truth = question.Truth with { Survival = s } }, design, seasons, done, cancel)));
        var density = !question.HasDensity ? [] : DensityFactors.Select(f => f * question.DensityBenchmark)
            .Select(d => (Truth: d, Rates: CallRates.OfDensity(question with { Truth = question.Truth with { PerAcre = d } }, design, seasons, null, cancel)));
        return new OperatingCurve(seasons, [.. survival.Select(s => new CallsAtTruth(s.Truth, s.Rates.SurvivalLikely, s.Rates.SurvivalUnlikely))],
            [.. density.Select(d => new CallsAtTruth(d.Truth, d.Rates.DensityLikely ?? 0, d.Rates.DensityUnlikely ?? 0))]);
    }
}
