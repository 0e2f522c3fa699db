using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>The survival curve without any assumed shape, from nests lost between visits and nests lost at a camera's time.</summary>
public static class Turnbull
{
    /// <summary>Masses at or below this are no mass: far under what one nest in any season weighs, far over rounding.</summary>
    private const double NoMass = 1e-11;

    /// <summary>How many nests are still whole at each day, when losses are only known to lie between visits?</summary>
    /// <param name="nests">n nests in any order; days since set-out, 0 ≤ a &lt; b; a loss lies in (a, b], or at t. Nests never watched carry nothing and are left out.</param>
    /// <returns>The curve, or the reason: no nest was watched.</returns>
    /// <remarks>
    /// The maximum of the likelihood over all distributions, mass on innermost intervals only, found by a constrained Newton method and held to the
    /// Kuhn–Tucker condition. The masses are unique, so they are the limit of expectation–maximisation from equal masses: each
    /// innermost interval j ends where some nest's interval ends, a row that holds j and nothing after it; one such row for each j makes a triangular
    /// system, and the probabilities of rows are unique because the log-likelihood is strictly concave in them.
    /// Edges: all lost or all whole gives a single interval with mass 1. Cost: n log n once, then n + k a step (k innermost intervals).
    /// Assumes that visits come regardless of fate; it misleads where lost nests are harder to find again.
    /// </remarks>
    /// <source>Turnbull 1976, Journal of the Royal Statistical Society B 38:290–295; closed and open ends as for exact times in mixture, common practice, no source.</source>
    /// <check>published-values</check>
    /// <check>reference-seasons</check>
    public static Answer<SurvivalCurve> CurveFrom(NestSpans nests)
    {
        ArgumentNullException.ThrowIfNull(nests);
        var places = InnermostIntervals.Of(nests);
        return places.Weight.Length == 0 ? NoAnswer.Because("curve.nothing_watched") : Fit(places, out _);
    }

    /// <summary>The curve and the mass of every place, also of those that hold none.</summary>
    internal static SurvivalCurve Fit(InnermostIntervals places, out double[] masses)
    {
        var fit = new ConstrainedNewton(places.From, places.To, places.Left.Length);
        var diary = fit.Maximise(places.Weight, start: default);
        masses = fit.Mass;
        var (left, right, mass) = (ImmutableArray.CreateBuilder<double>(), ImmutableArray.CreateBuilder<double?>(), ImmutableArray.CreateBuilder<double>());
        for (var j = 0; j < places.Left.Length; j++)
        {
            if (fit.Mass[j] <= NoMass) continue;
            left.Add(places.Left[j]);
            right.Add(double.IsPositiveInfinity(places.Right[j]) ? null : places.Right[j]);
            mass.Add(fit.Mass[j]);
        }

        return new SurvivalCurve
        {
            Left = left.ToImmutable(),
            Right = right.ToImmutable(),
            Mass = mass.ToImmutable(),
            Nests = (int)places.Weight.Sum(),
            LogLikelihood = fit.LogLikelihood,
            Diary = diary,
        };
    }
}
