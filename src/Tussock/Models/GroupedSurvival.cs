using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Survival over days by a grouped fit: on a typical line, and averaged over lines. The two differ, so each is always named.</summary>
/// <remarks>
/// Limits from the standard error of log(−log S), by the delta method with the covariance of coefficients and standard deviations together, and Student's t with
/// lines less effects constant within lines as degrees of freedom.
/// With a spread of 0 the two are equal, and the standard error is that of the coefficients alone, said in a note.
/// </remarks>
public static class GroupedSurvival
{
    private static readonly GaussHermite Rule = GaussHermite.Of(60);

    /// <summary>What share of nests like this one survives to a day on a typical line, whose random intercept is 0?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="course">Pieces of days with constant effects from day 0 on, at least one; the last goes on as long as needed.</param>
    /// <param name="day">Day, ≥ 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>S in [0, 1]; limits and reasons as for <see cref="SurvivalPrediction.At"/>.</returns>
    /// <source>Common practice, no source: delta method on log(−log S).</source>
    /// <check>reference-seasons</check>
    public static Estimate Typical(GroupedFit fit, IReadOnlyList<PatternDays> course, double day, double level = 0.95) =>
        SurvivalPrediction.At(fit.Typical, course, day, level) is var found && found.Value is null ? found : found with { Method = "predicted survival on a typical line (random intercept 0), " + fit.Typical.Method };

    /// <summary>What share of nests like this one survives to a day, averaged over all lines that could have been walked, ∫S(η + σz)φ(z)dz?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="course">Pieces of days with constant effects from day 0 on, at least one; the last goes on as long as needed.</param>
    /// <param name="day">Day, ≥ 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>S in [0, 1] with limits on log(−log S); without limits, and with a reason, where the covariance can't be had, on day 0, or where S is 0 or 1 in any digit. Null with a reason where the table says nothing about such nests.</returns>
    /// <remarks>60 Gauss–Hermite nodes. Several spreads act as one: the standard deviation of their sum.</remarks>
    /// <source>Common practice, no source: marginal survival of a random-intercept model, delta method on log(−log S).</source>
    /// <check>reference-seasons</check>
    public static Estimate Average(GroupedFit fit, IReadOnlyList<PatternDays> course, double day, double level = 0.95)
    {
        var method = "predicted survival averaged over lines, " + fit.Typical.Method;
        if (!course.All(piece => fit.Typical.Knows(piece.X))) return Estimate.None(method, Phrase.Of("models.prediction_unknown")) with { Level = level };
        var (survival, slope) = Averaged(fit, PatternDays.Until(course, day));
        var bare = new Estimate { Value = survival, Level = level, Method = method, Notes = fit.Spreads.All(s => s.Sd.Value is 0) ? [Phrase.Of("grouped.prediction_at_zero")] : [] };
        if (fit.Covariance.IsEmpty) return bare with { Why = fit.Typical.Why };
        var hazard = -Math.Log(survival);
        if (!(survival > 0 && hazard > 0)) return bare with { Why = Phrase.Of("models.prediction_at_end") };
        double se = Math.Sqrt(Variance(fit, slope)), reach = fit.Typical.Reach(level) * se / (survival * hazard);
        return bare with { Se = se, Low = Math.Exp(-hazard * Math.Exp(reach)), High = Math.Exp(-hazard * Math.Exp(-reach)) };
    }

    /// <summary>Average survival and its slopes by coefficients and standard deviations.</summary>
    internal static (double Survival, double[] Slope) Averaged(GroupedFit fit, IReadOnlyList<PatternDays> pieces)
    {
        int width = fit.Typical.Beta.Length;
        var spreads = fit.Spreads.Select(s => s.Sd.Value ?? 0).ToArray();
        var total = Math.Sqrt(spreads.Sum(s => s * s));
        var (slope, node, survival) = (new double[width + spreads.Length], new double[width], 0.0);
        for (var k = 0; k < Rule.Nodes.Length; k++)
        {
            Array.Clear(node);
            var (hazard, byShift) = Hazard(fit.Typical, pieces, total * Rule.Nodes[k], node);
            var share = Rule.Weights[k] * Math.Exp(-hazard);
            survival += share;
            if (share == 0) continue;
            for (var i = 0; i < width; i++) slope[i] -= share * node[i];
            for (var s = 0; s < spreads.Length && total > 0; s++) slope[width + s] -= share * byShift * Rule.Nodes[k] * spreads[s] / total;
        }

        return (Math.Min(survival, 1), slope);
    }

    /// <summary>The cumulative hazard with all linear predictors shifted, and its slopes by the coefficients and by the shift.</summary>
    private static (double Hazard, double ByShift) Hazard(FittedEffects effects, IReadOnlyList<PatternDays> pieces, double shift, double[] slope)
    {
        double sum = 0, byShift = 0;
        foreach (var piece in pieces)
        {
            var eta = piece.Offset + shift;
            for (var i = 0; i < slope.Length; i++) eta += piece.X[i] * effects.Beta[i];
            var h = DailyHazard.At(effects.Link, eta);
            sum += piece.Days * h.H;
            byShift += piece.Days * h.First;
            for (var i = 0; i < slope.Length; i++) slope[i] += piece.Days * h.First * piece.X[i];
        }

        return (sum, byShift);
    }

    internal static double Variance(GroupedFit fit, double[] slope)
    {
        var sum = 0.0;
        for (var i = 0; i < slope.Length; i++)
            for (var j = 0; j < slope.Length; j++) sum += slope[i] * slope[j] * fit.Covariance[i * slope.Length + j];
        return Math.Max(sum, 0);
    }
}
