namespace Tussock.Evidence;

/// <summary>Shares of several classes learned from counts that add to prior counts.</summary>
public static class Dirichlet
{
    /// <summary>Posterior mean shares: (prior + count)/Σ(prior + count).</summary>
    /// <param name="counts">Counts of each class, ≥ 0.</param>
    /// <param name="prior">Prior counts of each class, &gt; 0.</param>
    /// <returns>Shares in (0, 1) that add to 1.</returns>
    /// <source>Textbook: Dirichlet distribution, conjugate to counts (Gelman et al. 2013, Bayesian Data Analysis, 3rd ed., section 3.4; from memory, to be confirmed).</source>
    /// <check>published-values</check>
    public static double[] Mean(ReadOnlySpan<double> counts, ReadOnlySpan<double> prior)
    {
        var shares = new double[counts.Length];
        var total = 0.0;
        for (var k = 0; k < shares.Length; k++) total += shares[k] = counts[k] + prior[k];
        for (var k = 0; k < shares.Length; k++) shares[k] /= total;
        return shares;
    }
}
