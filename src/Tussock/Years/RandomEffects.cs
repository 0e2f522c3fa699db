using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>Estimates from several places or years put together, which differ truly and not only by their errors; with covariates where asked.</summary>
/// <remarks>y_i = x_i·β + u_i + e_i, u_i ~ N(0, τ²), e_i ~ N(0, v_i) with v_i known. May be shared between threads.</remarks>
public sealed record RandomEffects
{
    private const int MostSteps = 200;
    private const double Tolerance = 1e-13;

    private RandomEffects()
    {
    }

    /// <summary>Number of estimates, k.</summary>
    public required int Count { get; init; }

    /// <summary>Coefficients β: the mean, or intercept and slopes.</summary>
    public required ImmutableArray<double> Coefficients { get; init; }

    /// <summary>Their covariance, row by row, without small-sample correction: (X′WX)⁻¹.</summary>
    public required ImmutableArray<double> Covariance { get; init; }

    /// <summary>Variance τ² of true values around the mean or line, by restricted maximum likelihood, ≥ 0.</summary>
    public required double Tau2 { get; init; }

    /// <summary>Standard error of τ² by expected information.</summary>
    public required double Tau2Se { get; init; }

    /// <summary>Limits of τ² by inverting Q; the upper one null where every τ² fits.</summary>
    public required (double Low, double? High) Tau2Limits { get; init; }

    /// <summary>Cochran's Q around the common mean or line.</summary>
    public required double Q { get; init; }

    /// <summary>Upper tail of χ²(k − p) at Q.</summary>
    public required double QP { get; init; }

    /// <summary>Share of the variance of estimates that is true variation, I² in [0, 1].</summary>
    public required double I2 { get; init; }

    /// <summary>Total over sampling variance, H² ≥ 1.</summary>
    public required double H2 { get; init; }

    /// <summary>Knapp and Hartung's factor: weighted residual square by its degrees of freedom.</summary>
    public required double Factor { get; init; }

    /// <summary>Degrees of freedom, k − p ≥ 1.</summary>
    public int Degrees => Count - Coefficients.Length;

    /// <summary>Standard error of a coefficient without small-sample correction.</summary>
    public double Se(int coefficient) => Math.Sqrt(Covariance[(coefficient * Coefficients.Length) + coefficient]);

    /// <summary>Knapp and Hartung's standard error of a coefficient.</summary>
    public double KnappHartungSe(int coefficient) => Math.Sqrt(Factor) * Se(coefficient);

    /// <summary>A coefficient with Knapp–Hartung limits on k − p degrees of freedom.</summary>
    /// <param name="coefficient">Which.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <remarks>The factor is not let below 1: estimates that agree by luck would make the interval as narrow as nothing.</remarks>
    public Estimate Limits(int coefficient, double level = 0.95)
    {
        var se = Math.Sqrt(Math.Max(1, Factor)) * Se(coefficient);
        var half = Tails.StudentQuantile((1 + level) / 2, Degrees) * se;
        var b = Coefficients[coefficient];
        return new Estimate { Value = b, Low = b - half, High = b + half, Se = se, Level = level, Method = "random effects by restricted maximum likelihood, Knapp-Hartung t(k - p), factor at least 1" };
    }

    /// <summary>Where the true value of one more place or year lies, if it is like these.</summary>
    /// <param name="level">Level in (0, 1).</param>
    /// <returns>Limits around the mean of a synthesis without covariates; null with fewer than 3 estimates.</returns>
    /// <source>Higgins, Thompson &amp; Spiegelhalter 2009, J. R. Stat. Soc. A 172, 137–159: t on k − 2 degrees of freedom (from memory, to be confirmed)</source>
    public (double Low, double High)? Prediction(double level = 0.95)
    {
        if (Count < 3) return null;
        var half = Tails.StudentQuantile((1 + level) / 2, Count - 2) * Math.Sqrt(Tau2 + (Math.Max(1, Factor) * Covariance[0]));
        return (Coefficients[0] - half, Coefficients[0] + half);
    }

    /// <summary>What do several estimates say together?</summary>
    /// <param name="y">Estimates, k values, on a scale where errors are near normal (log odds, log ratio).</param>
    /// <param name="v">Their error variances, &gt; 0.</param>
    /// <param name="covariates">Columns of k values beside the intercept; none: a mean.</param>
    /// <param name="level">Level of the limits of τ², in (0, 1).</param>
    /// <returns>The synthesis; a reason with fewer estimates than coefficients + 1, or covariates that say nothing.</returns>
    /// <exception cref="ArgumentException">Lengths differ, or a variance is not positive.</exception>
    /// <remarks>
    /// Fisher scoring from the moment estimate, steps halved where τ² would fall below 0; the end is held against τ² = 0. Cost: k a step, some ten steps.
    /// Few estimates say little about τ²: its limits are given beside it. It misleads when estimates are few and their variances badly known.
    /// </remarks>
    /// <source>Viechtbauer 2010, J. Stat. Softw. 36(3), 1–48; Knapp &amp; Hartung 2003, Stat. Med. 22, 2693–2710; limits of τ²: Viechtbauer 2007, Stat. Med. 26, 37–52 (the last two from memory, to be confirmed)</source>
    /// <check>published-values</check>
    public static Answer<RandomEffects> Of(ReadOnlySpan<double> y, ReadOnlySpan<double> v, ReadOnlySpan<double[]> covariates = default, double level = 0.95)
    {
        if (y.Length != v.Length) throw new ArgumentException("As many variances as estimates", nameof(v));
        foreach (var one in v) if (!(one > 0) || !double.IsFinite(one)) throw new ArgumentException("A variance is above 0", nameof(v));
        var p = covariates.Length + 1;
        if (y.Length <= p) return NoAnswer.Because("years.too_few", ("count", y.Length), ("needed", p + 1));
        var design = new WeightedFit(y.ToArray(), v.ToArray(), [.. covariates]);
        if (design.At(0) is not { } common) return NoAnswer.Because("years.says_nothing");
        var tau2 = Maximum(design);
        var end = design.At(tau2)!;
        var typical = (y.Length - p) / common.TraceP;
        return new RandomEffects
        {
            Count = y.Length,
            Coefficients = [.. end.Beta],
            Covariance = [.. end.Covariance],
            Tau2 = tau2,
            Tau2Se = Math.Sqrt(2 / end.TracePP),
            Tau2Limits = ByQ(design, y.Length - p, level),
            Q = common.Residual,
            QP = Tails.ChiSquareAbove(common.Residual, y.Length - p),
            I2 = tau2 / (tau2 + typical),
            H2 = (tau2 / typical) + 1,
            Factor = end.Residual / (y.Length - p),
        };
    }

    private static double Maximum(WeightedFit design)
    {
        var tau2 = design.Moment;
        for (var step = 0; step < MostSteps; step++)
        {
            var at = design.At(tau2)!;
            var move = (at.SquaredP - at.TraceP) / at.TracePP;
            var next = tau2 + move;
            while (next < 0 && move < -Tolerance) next = tau2 + (move /= 2);
            next = Math.Max(0, next);
            if (Math.Abs(next - tau2) <= Tolerance * (1 + tau2)) break;
            tau2 = next;
        }

        // Halved steps come near 0 and never there.
        return tau2 > 0 && design.At(0)!.LogLikelihood >= design.At(tau2)!.LogLikelihood ? 0 : tau2;
    }

    /// <summary>The τ² at which Q, weighted by it, is as large as chance makes it in the middle 95 of 100.</summary>
    private static (double Low, double? High) ByQ(WeightedFit design, int degrees, double level)
    {
        double high = Tails.ChiSquareQuantile((1 + level) / 2, degrees), low = Tails.ChiSquareQuantile((1 - level) / 2, degrees);
        return (Where(design, high) ?? 0, Where(design, low) is { } upper ? upper : design.At(0)!.Residual <= low ? 0 : null);
    }

    /// <summary>Where the falling residual square crosses a level; null where it is below it at 0 already, or never falls so far.</summary>
    private static double? Where(WeightedFit design, double level)
    {
        if (design.At(0)!.Residual <= level) return null;
        double below = 0, above = 1;
        while (design.At(above)!.Residual > level && above < 1e9) above *= 4;
        if (design.At(above)!.Residual > level) return null;
        for (var i = 0; i < 200 && above - below > 1e-12 * (1 + below); i++)
        {
            var middle = (below + above) / 2;
            if (design.At(middle)!.Residual > level) below = middle;
            else above = middle;
        }

        return (below + above) / 2;
    }
}
