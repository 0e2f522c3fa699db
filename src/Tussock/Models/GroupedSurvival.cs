using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Survival over days by a grouped fit: on a typical line, and averaged over lines. The two differ, so each is always named.</summary>
/// <remarks>
/// Limits from the standard error of log(−log S), by the delta method with the covariance of coefficients and standard deviations together.
/// With a spread of 0 the two are equal, and the standard error is that of the coefficients alone, said in a note.
/// </remarks>
public static class GroupedSurvival
{
    private static readonly GaussHermite Rule = GaussHermite.Of(60);

    /// <summary>How many nests survive the pieces on a typical line, whose random intercept is 0?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="pieces">At least one piece, for example one of 28 days.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Survival in [0, 1]; a reason where an effect that the pieces use has no finite value.</returns>
    /// <source>Common practice, no source: delta method on log(−log S).</source>
    /// <check>reference-seasons</check>
    public static Estimate Typical(GroupedFit fit, ReadOnlySpan<SurvivalPiece> pieces, double level = 0.95)
    {
        const string Method = "survival on a typical line (random intercept 0), delta method on log(-log S)";
        if (Unknown(fit, pieces) is { } why) return Estimate.None(Method, why);
        var slope = new double[fit.Point.Length];
        var hazard = Hazard(fit, pieces, 0, slope, out _);
        for (var i = 0; i < slope.Length; i++) slope[i] /= Math.Max(hazard, 1e-300);
        return Between(fit, Math.Exp(-hazard), hazard, slope, level, Method);
    }

    /// <summary>How many nests survive the pieces averaged over all lines that could have been walked, ∫S(η + σz)φ(z)dz?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="pieces">At least one piece, for example one of 28 days.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Survival in [0, 1]; a reason where an effect that the pieces use has no finite value.</returns>
    /// <remarks>60 Gauss–Hermite nodes. Several spreads act as one: the standard deviation of their sum.</remarks>
    /// <source>Common practice, no source: marginal survival of a random-intercept model, delta method on log(−log S).</source>
    /// <check>reference-seasons</check>
    public static Estimate Average(GroupedFit fit, ReadOnlySpan<SurvivalPiece> pieces, double level = 0.95)
    {
        const string Method = "survival averaged over lines, 60-node quadrature, delta method on log(-log S)";
        if (Unknown(fit, pieces) is { } why) return Estimate.None(Method, why);
        int size = fit.Point.Length, width = fit.Effects.Length;
        var total = Total(fit, width);
        var (slope, node) = (new double[size], new double[size]);
        var survival = 0.0;
        for (var k = 0; k < Rule.Nodes.Length; k++)
        {
            Array.Clear(node);
            var share = Rule.Weights[k] * Math.Exp(-Hazard(fit, pieces, total * Rule.Nodes[k], node, out var byShift));
            survival += share;
            for (var i = 0; i < width; i++) slope[i] -= share * node[i];
            for (var i = width; i < size && total > 0; i++) slope[i] -= share * byShift * Rule.Nodes[k] * fit.Point[i] / total;
        }

        survival = Math.Min(survival, 1);
        var hazard = -Math.Log(survival);
        for (var i = 0; i < size; i++) slope[i] /= -Math.Max(survival * hazard, 1e-300);
        return Between(fit, survival, hazard, slope, level, Method);
    }

    private static double Total(GroupedFit fit, int width)
    {
        var sum = 0.0;
        for (var i = width; i < fit.Point.Length; i++) sum += fit.Point[i] * fit.Point[i];
        return Math.Sqrt(sum);
    }

    /// <summary>The cumulative hazard with all linear predictors shifted, and its slopes by the coefficients and by the shift.</summary>
    private static double Hazard(GroupedFit fit, ReadOnlySpan<SurvivalPiece> pieces, double shift, double[] slope, out double byShift)
    {
        double sum = 0;
        byShift = 0;
        foreach (var piece in pieces)
        {
            var eta = piece.Offset + shift;
            for (var i = 0; i < piece.Effects.Length; i++) if (piece.Effects[i] != 0) eta += piece.Effects[i] * fit.Point[i];
            var h = DailyHazard.At(fit.Link, eta);
            sum += piece.Days * h.H;
            byShift += piece.Days * h.First;
            for (var i = 0; i < piece.Effects.Length; i++) slope[i] += piece.Days * h.First * piece.Effects[i];
        }

        return sum;
    }

    private static Estimate Between(GroupedFit fit, double survival, double hazard, double[] slope, double level, string method)
    {
        var variance = 0.0;
        for (var i = 0; i < slope.Length; i++)
            for (var j = 0; j < slope.Length; j++) variance += slope[i] * slope[j] * fit.Covariance[i * slope.Length + j];
        double se = Math.Sqrt(Math.Max(variance, 0)), reach = Tails.NormalQuantile((1 + level) / 2) * se;
        var notes = fit.Spreads.All(s => s.Sd.Value is 0 or null) ? [Phrase.Of("grouped.prediction_at_zero")] : System.Collections.Immutable.ImmutableArray<Phrase>.Empty;
        return hazard > 0 && survival > 0 && double.IsFinite(se)
            ? new Estimate { Value = survival, Low = Math.Exp(-hazard * Math.Exp(reach)), High = Math.Exp(-hazard * Math.Exp(-reach)), Se = survival * hazard * se, Level = level, Method = method, Notes = notes }
            : new Estimate { Value = survival, Level = level, Method = method, Notes = notes, Why = Phrase.Of("grouped.prediction_at_end") };
    }

    private static Phrase? Unknown(GroupedFit fit, ReadOnlySpan<SurvivalPiece> pieces)
    {
        foreach (var piece in pieces)
            for (var i = 0; i < piece.Effects.Length; i++)
                if (piece.Effects[i] != 0 && fit.Effects[i].Coefficient.Value is null) return fit.Effects[i].Coefficient.Why;
        return null;
    }
}
