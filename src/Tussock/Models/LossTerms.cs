using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>What a loss within an interval of cumulative hazard H adds to the log-likelihood, by the logarithm of the hazard, in a form that keeps its digits for every H.</summary>
/// <param name="Log">ψ(H) = log(1 − e^(−H)), ≤ 0.</param>
/// <param name="Slope">A = H·ψ′(H) = H/(e^H − 1), from 1 (H → 0) to 0 (H → ∞): the derivative of ψ by log H.</param>
/// <param name="Bend">C = 1 − H − A ≤ 0: the second derivative of ψ by log H is A·C.</param>
/// <remarks>
/// With u = h′/h and v = h″/h of one piece: dψ/dη = A·u, d²ψ/dη² = A·(v − u² + u²·C). Bernoulli numbers give
/// C = −(H/2 + H²/12 − H⁴/720 + H⁶/30240 − …), which replaces the exponential where 1 − A would lose its digits (H ≤ 0.7).
/// </remarks>
internal readonly record struct LossTerms(double Log, double Slope, double Bend)
{
    private const double Small = 0.7, Sure = 700;

    /// <summary>The terms at H ≥ 0, whose logarithm is known even where H itself is too small for a number.</summary>
    public static LossTerms At(double hazard, double log)
    {
        if (hazard > Sure) return new LossTerms(0, 0, -hazard);
        if (hazard > Small)
        {
            var odds = 1 / (Math.Exp(hazard) - 1);
            var slope = hazard * odds;
            return new LossTerms(-Exponentials.Log1p(odds), slope, 1 - slope - hazard);
        }

        var bend = Series(hazard);
        return new LossTerms(LogOneMinusExp.At(hazard, log), 1 - hazard - bend, bend);
    }

    private static double Series(double h)
    {
        var y = h * h;
        return -(h / 2 + y * (1.0 / 12 - y * (1.0 / 720 - y * (1.0 / 30240 - y * (1.0 / 1209600 - y * (1.0 / 47900160 - y * (691.0 / 1307674368000 - y / 74724249600)))))));
    }
}
