using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Equal-tailed interval of a share under Jeffreys' prior.</summary>
public static class Jeffreys
{
    /// <summary>Between which limits does the true share lie with the given chance, when k of n independent nests survived and nothing was known before?</summary>
    /// <param name="k">Nests that survived, 0 ≤ k ≤ n.</param>
    /// <param name="n">Nests of known fate, n ≥ 1.</param>
    /// <param name="level">Posterior chance in (0, 1).</param>
    /// <returns>Limits in [0, 1]; the lower one is exactly 0 when k = 0, the upper one exactly 1 when k = n.</returns>
    /// <exception cref="ArgumentOutOfRangeException">k, n or level is outside its range.</exception>
    /// <remarks>Quantiles of Beta(k + ½, n − k + ½), opened to the end at 0 and n. Ignores clustering by line.</remarks>
    /// <source>Brown, Cai and DasGupta 2001, Stat. Sci. 16, 101–133, section 4.1.2</source>
    /// <check>published-values</check>
    public static (double Low, double High) Limits(int k, int n, double level = 0.95)
    {
        ShareRange.Require(k, n, level);
        var tail = (1 - level) / 2;
        return (k == 0 ? 0 : Tails.BetaQuantile(tail, k + 0.5, n - k + 0.5), k == n ? 1 : Tails.BetaQuantile(1 - tail, k + 0.5, n - k + 0.5));
    }
}
