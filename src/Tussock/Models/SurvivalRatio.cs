using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The ratio of two survivals that a grouped fit predicts, averaged over lines.</summary>
public static class SurvivalRatio
{
    /// <summary>How many times as many nests like the one as like the other survive to a day?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="one">Course of the one, from day 0 on.</param>
    /// <param name="other">Course of the other.</param>
    /// <param name="day">Day, &gt; 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>S_one/S_other, each averaged over lines, with limits on the log scale; without limits and with a reason where the covariance can't be had.</returns>
    /// <remarks>Delta method with the covariance of coefficients and spread together; both survivals move together, so the limits are narrower than those of either suggest.</remarks>
    /// <source>Common practice, no source: delta method on the logarithm of the ratio.</source>
    /// <check>reference-seasons</check>
    public static Estimate Of(GroupedFit fit, IReadOnlyList<PatternDays> one, IReadOnlyList<PatternDays> other, double day, double level = 0.95)
    {
        const string method = "ratio of survival averaged over lines, delta method on the log scale";
        if (!one.Concat(other).All(piece => fit.Typical.Knows(piece.X))) return Estimate.None(method, Phrase.Of("models.prediction_unknown")) with { Level = level };
        var (s1, slope1) = GroupedSurvival.Averaged(fit, PatternDays.Until(one, day));
        var (s2, slope2) = GroupedSurvival.Averaged(fit, PatternDays.Until(other, day));
        if (!(s1 > 0 && s2 > 0)) return Estimate.None(method, Phrase.Of("models.prediction_at_end")) with { Level = level };
        var bare = new Estimate { Value = s1 / s2, Level = level, Method = method };
        if (fit.Covariance.IsEmpty) return bare with { Why = fit.Typical.Why };
        var slope = new double[slope1.Length];
        for (var i = 0; i < slope.Length; i++) slope[i] = (slope1[i] / s1) - (slope2[i] / s2);
        var se = Math.Sqrt(GroupedSurvival.Variance(fit, slope));
        var reach = Math.Exp(Tails.NormalQuantile((1 + level) / 2) * se);
        return double.IsFinite(reach * s1 / s2) ? bare with { Se = se * s1 / s2, Low = s1 / s2 / reach, High = s1 / s2 * reach } : bare with { Why = Phrase.Of("models.prediction_at_end") };
    }
}
