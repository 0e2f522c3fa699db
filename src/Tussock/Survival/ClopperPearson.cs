using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Exact interval of a share of independent nests.</summary>
public static class ClopperPearson
{
    /// <summary>Which true shares are not refused by either one-sided exact test, when k of n independent nests survived?</summary>
    /// <param name="k">Nests that survived, 0 ≤ k ≤ n.</param>
    /// <param name="n">Nests of known fate, n ≥ 1.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Limits in [0, 1]; the lower one is exactly 0 when k = 0, the upper one exactly 1 when k = n.</returns>
    /// <exception cref="ArgumentOutOfRangeException">k, n or level is outside its range.</exception>
    /// <remarks>Beta quantiles. Never covers less than it says for independent nests; wider than needed. Ignores clustering by line.</remarks>
    /// <source>Clopper and Pearson 1934, Biometrika 26, 404–413; Newcombe 1998, Stat. Med. 17, 857–872, method 5</source>
    /// <check>published-values</check>
    public static (double Low, double High) Limits(int k, int n, double level = 0.95)
    {
        ShareRange.Require(k, n, level);
        var tail = (1 - level) / 2;
        return (k == 0 ? 0 : Tails.BetaQuantile(tail, k, n - k + 1), k == n ? 1 : Tails.BetaQuantile(1 - tail, k + 1, n - k));
    }
}
