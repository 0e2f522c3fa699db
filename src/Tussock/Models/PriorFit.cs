using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The bounded answer beside a likelihood without a finite maximum: the most likely effects under a weakly informative prior.</summary>
/// <param name="Effects">Posterior mode, with the inverse of the posterior's curvature as covariance.</param>
/// <param name="Coefficients">One a chosen column: mode with normal limits; null with why for columns left out.</param>
/// <param name="Diary">What Newton's method did.</param>
/// <param name="Prior">The prior in words.</param>
public sealed record PriorFit(FittedEffects Effects, ImmutableArray<Estimate> Coefficients, NewtonDiary Diary, Phrase Prior)
{
    /// <summary>Standard deviation of an effect: of a column of two values over the step from one to the other, of any other column over two standard deviations.</summary>
    public const double EffectSd = 2.5;

    /// <summary>Standard deviation of the intercept where every column stands at its mean.</summary>
    public const double InterceptSd = 10;

    /// <summary>The mode in scaled effects, a start for searches.</summary>
    internal double[] Scaled { get; init; } = [];

    private const string Method = "posterior mode, normal(0, 2.5) prior on scaled effects";

    /// <summary>The most likely effects of a fitted model under the prior.</summary>
    /// <param name="fit">A fit, separated or not.</param>
    /// <returns>Finite for every table; columns left out have none.</returns>
    /// <remarks>
    /// Newton on log-likelihood + log prior, concave for intervals of one piece. The prior says: from one class to the other, or over the bulk of a covariate, daily odds or hazard hardly change more than e⁵-fold.
    /// A bounded answer is the prior's wherever the data say nothing; it never replaces the maximum likelihood.
    /// </remarks>
    /// <source>Scaling: Gelman, Jakulin, Pittau and Su 2008, Annals of Applied Statistics 2, 1360–1383, who take Cauchy priors; from memory, to be confirmed. The normal with sd 2.5 in its place: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static PriorFit Of(EffectsFit fit)
    {
        var columns = fit.Maximum.First;
        var ascent = new NewtonAscent(new IntervalLikelihood(columns.Table, fit.Link, columns.Scaled, columns.Width), EffectsMaximum.Start(columns, fit.Link), Precision(columns));
        var diary = ascent.Run(100);
        var factor = ascent.Curvature();
        Cholesky.Factor(factor, columns.Width);
        var (beta, covariance) = EffectsSpread.Placed(columns, ascent.Point, Cholesky.Inverse(factor, columns.Width));
        var effects = new FittedEffects { Link = fit.Link, Columns = fit.Table.Columns, Beta = beta, Covariance = covariance, Method = Method, Unknown = fit.Maximum.Aliases };
        return new PriorFit(effects, EffectsTable.Bounded(fit, effects), diary, Phrase.Of("models.prior", ("sd", EffectSd), ("intercept_sd", InterceptSd))) { Scaled = ascent.Point };
    }

    private static double[] Precision(EffectColumns columns)
    {
        var precision = new double[columns.Width];
        for (var j = 0; j < precision.Length; j++)
        {
            var column = columns.Scaled.AsSpan(j * columns.Table.Patterns, columns.Table.Patterns);
            var unit = j == columns.Intercept ? 1 : Step(column) ?? 2;
            var sd = (j == columns.Intercept ? InterceptSd : EffectSd) / unit;
            precision[j] = 1 / (sd * sd);
        }

        return precision;
    }

    /// <summary>The step between the values of a column that has only two.</summary>
    private static double? Step(ReadOnlySpan<double> column)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var x in column) (low, high) = (Math.Min(low, x), Math.Max(high, x));
        foreach (var x in column) if (x != low && x != high) return null;
        return high - low;
    }
}
