namespace Tussock.Evidence;

/// <summary>Double sampling: all losses are read cheaply from remains, some are known from cameras; what cameras say about each reading corrects the readings.</summary>
public static class Tenenbein
{
    /// <summary>Fewest confirmed nests that a reading needs to stand alone.</summary>
    public const int FewestConfirmed = 5;

    /// <summary>Shares of the true classes among all losses.</summary>
    /// <param name="readings">Reading of each loss, an index ≥ 0 ("cannot tell" has one too).</param>
    /// <param name="truths">True class of each loss, the same order; −1 where no camera told.</param>
    /// <param name="classes">Number of true classes.</param>
    /// <returns>Σ_r q_r·p_kr for each class, which add to 1; null when nothing was confirmed.</returns>
    /// <remarks>
    /// q_r: share of reading r among all losses; p_kr: share of class k among the confirmed nests so read. Readings with fewer than five confirmed
    /// nests are pooled; a pool that is still smaller takes in the reading with the fewest. Misleads when cameras were put at nests that remains, or fate, had picked out.
    /// </remarks>
    /// <source>Tenenbein 1970, Journal of the American Statistical Association 65:1350–1361 (from memory, to be confirmed).</source>
    /// <check>worked-by-hand</check>
    public static double[]? Shares(ReadOnlySpan<int> readings, ReadOnlySpan<int> truths, int classes)
    {
        var kinds = 0;
        foreach (var r in readings) kinds = Math.Max(kinds, r + 1);
        var all = new double[kinds];
        var known = new double[kinds];
        for (var i = 0; i < readings.Length; i++)
        {
            all[readings[i]]++;
            if (truths[i] >= 0) known[readings[i]]++;
        }

        if (known.Sum() == 0) return null;
        var pool = Pool(all, known);
        double pooledAll = 0, pooledKnown = 0;
        for (var r = 0; r < kinds; r++) if (pool[r]) (pooledAll, pooledKnown) = (pooledAll + all[r], pooledKnown + known[r]);
        var shares = new double[classes];
        for (var i = 0; i < readings.Length; i++)
        {
            if (truths[i] < 0) continue;
            var r = readings[i];
            shares[truths[i]] += (pool[r] ? pooledAll / pooledKnown : all[r] / known[r]) / readings.Length;
        }

        return shares;
    }

    private static bool[] Pool(double[] all, double[] known)
    {
        var pool = known.Select(k => k < FewestConfirmed).ToArray();
        while (true)
        {
            double pooledAll = 0, pooledKnown = 0;
            var next = -1;
            for (var r = 0; r < pool.Length; r++)
            {
                if (pool[r]) (pooledAll, pooledKnown) = (pooledAll + all[r], pooledKnown + known[r]);
                else if (next < 0 || known[r] < known[next]) next = r;
            }

            if (pooledAll == 0 || pooledKnown >= FewestConfirmed || next < 0) return pool;
            pool[next] = true;
        }
    }
}
