namespace Tussock.Numerics;

/// <summary>Tails of the hypergeometric distribution: Fisher's exact test of a two-by-two table, one-sided.</summary>
public static class Hypergeometric
{
    /// <summary>Chance of at least <paramref name="k"/> marked ones among <paramref name="drawn"/> drawn without replacement.</summary>
    /// <param name="k">Marked ones among the drawn.</param>
    /// <param name="drawn">Number drawn, 0 … all.</param>
    /// <param name="marked">Marked ones among all, 0 … all.</param>
    /// <param name="all">Number of all.</param>
    /// <returns>P(X ≥ k) in [0, 1]; 1 when k is at or below the least that is possible, 0 when it is above the most.</returns>
    /// <remarks>The first term by logarithms, the others by the ratio of neighbours; at or below the mean the other tail is summed, so that nothing vanishes. Cost: O(drawn).</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A number is negative, or more are marked or drawn than there are.</exception>
    /// <source>Fisher 1935, The Design of Experiments, chapter II; from memory, to be confirmed</source>
    /// <check>tasting-of-eight</check>
    public static double AtLeast(int k, int drawn, int marked, int all)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(all);
        if (drawn < 0 || drawn > all) throw new ArgumentOutOfRangeException(nameof(drawn));
        if (marked < 0 || marked > all) throw new ArgumentOutOfRangeException(nameof(marked));
        var most = Math.Min(drawn, marked);
        if (k <= Math.Max(0, drawn + marked - all)) return 1;
        if (k > most) return 0;
        if (k <= (double)drawn * marked / all) return 1 - AtLeast(drawn - k + 1, drawn, all - marked, all);
        var term = Math.Exp(LogChoose(marked, k) + LogChoose(all - marked, drawn - k) - LogChoose(all, drawn));
        var sum = 0.0;
        for (var x = k; x <= most && term > 0; x++)
        {
            sum += term;
            term *= (double)(marked - x) * (drawn - x) / ((x + 1.0) * (all - marked - drawn + x + 1.0));
        }

        return Math.Min(1, sum);
    }

    private static double LogChoose(int n, int k)
    {
        var sum = 0.0;
        for (var i = 1; i <= Math.Min(k, n - k); i++) sum += Math.Log((double)(n - Math.Min(k, n - k) + i) / i);
        return sum;
    }
}
