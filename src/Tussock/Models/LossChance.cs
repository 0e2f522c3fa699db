using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>ψ(H) = log(1 − e^(−H)), the log chance to be lost over a cumulative hazard H, with its derivatives by H.</summary>
/// <param name="Log">ψ, ≤ 0.</param>
/// <param name="First">ψ′ = r = 1/(e^H − 1), the odds of surviving.</param>
/// <param name="Second">ψ″ = −r(1 + r).</param>
/// <param name="Third">ψ‴ = r(1 + r)(1 + 2r).</param>
/// <param name="Fourth">ψ⁗ = −r(1 + r)(1 + 6r + 6r²).</param>
/// <remarks>H must be &gt; 0; for H → 0 the derivatives grow like 1/H, 1/H² …, so a caller that multiplies them by H keeps digits as long as H⁴ can be held (H above 1e−70).</remarks>
/// <source>Common practice, no source; the derivatives are worked out above.</source>
/// <check>reference-seasons</check>
public readonly record struct LossChance(double Log, double First, double Second, double Third, double Fourth)
{
    /// <summary>ψ and its first four derivatives at H &gt; 0.</summary>
    public static LossChance At(double hazard)
    {
        double r = 1 / Exponentials.Expm1(hazard), rr = r * (1 + r);
        return new LossChance(LogOneMinusExp.At(hazard), r, -rr, rr * (1 + 2 * r), -rr * (1 + 6 * r + 6 * r * r));
    }
}
