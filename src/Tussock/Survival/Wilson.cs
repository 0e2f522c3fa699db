using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Score interval of a share of independent nests.</summary>
public static class Wilson
{
    /// <summary>Within which limits does the true share lie, when k of n independent nests survived?</summary>
    /// <param name="k">Nests that survived, 0 ≤ k ≤ n.</param>
    /// <param name="n">Nests of known fate, n ≥ 1.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Limits in [0, 1]; the lower one is exactly 0 when k = 0, the upper one exactly 1 when k = n.</returns>
    /// <exception cref="ArgumentOutOfRangeException">k, n or level is outside its range.</exception>
    /// <remarks>Roots of (p̂ − p)² = z²·p(1 − p)/n. Ignores that nests of one line share their predators: too narrow when lines differ.</remarks>
    /// <source>Wilson 1927, J. Am. Stat. Assoc. 22, 209–212; Newcombe 1998, Stat. Med. 17, 857–872, method 3</source>
    /// <check>published-values</check>
    public static (double Low, double High) Limits(int k, int n, double level = 0.95)
    {
        ShareRange.Require(k, n, level);
        var z = Tails.NormalQuantile((1 + level) / 2);
        double p = (double)k / n, zz = z * z / n;
        var middle = (p + zz / 2) / (1 + zz);
        var half = z / (1 + zz) * Math.Sqrt(p * (1 - p) / n + zz / (4 * n));
        return (k == 0 ? 0 : middle - half, k == n ? 1 : middle + half);
    }
}
