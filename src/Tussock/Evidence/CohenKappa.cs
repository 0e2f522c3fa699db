namespace Tussock.Evidence;

/// <summary>Agreement of two who each name a class for the same nests, beyond what chance would give.</summary>
public static class CohenKappa
{
    internal const string Method = "Cohen's kappa, large-sample limits";
    private const double Z = 1.959963984540054;

    /// <summary>Do the two agree more than by chance?</summary>
    /// <param name="counts">Square table: counts[i][j] nests that the first called i and the second j; each ≥ 0.</param>
    /// <returns>Kappa in [−1, 1] with its standard error; limits κ ± 1.96·se, cut to [−1, 1]. A reason with no nest, or where both always named one and the same class: chance agreement is then 1.</returns>
    /// <remarks>κ = (P − Pe)/(1 − Pe). All agree on several classes: κ = 1 with se 0 and no limits. Takes nests as independent. Rare classes make κ small at high agreement: look at P beside it.</remarks>
    /// <source>Cohen 1960, Educational and Psychological Measurement 20:37–46; standard error: Fleiss, Cohen &amp; Everitt 1969, Psychological Bulletin 72:323–327 (from memory, to be confirmed; agrees with a reference library).</source>
    /// <check>published-values</check>
    public static Estimate Of(IReadOnlyList<IReadOnlyList<int>> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        var k = counts.Count;
        double n = counts.Sum(r => r.Sum());
        if (n == 0) return Estimate.None(Method, Phrase.Of("signs.kappa.nothing"));
        double[] row = [.. counts.Select(r => r.Sum() / n)], column = [.. Enumerable.Range(0, k).Select(j => counts.Sum(r => r[j]) / n)];
        var agree = Enumerable.Range(0, k).Sum(i => counts[i][i] / n);
        if (row.Zip(column).Any(p => p is (1, 1))) return Estimate.None(Method, Phrase.Of("signs.kappa.one_class"));
        var chance = row.Zip(column, (a, b) => a * b).Sum();
        var kappa = (agree - chance) / (1 - chance);
        if (agree == 1) return new Estimate { Method = Method, Value = 1, Se = 0, Why = Phrase.Of("signs.kappa.all_agree") };
        var sum = 0.0;
        for (var i = 0; i < k; i++)
        {
            for (var j = 0; j < k; j++)
            {
                var both = (row[j] + column[i]) * (1 - kappa);
                sum += counts[i][j] / n * (i == j ? Math.Pow(1 - both, 2) : both * both);
            }
        }

        var se = Math.Sqrt(Math.Max(0, sum - Math.Pow(kappa - chance * (1 - kappa), 2)) / n) / (1 - chance);
        return new Estimate { Method = Method, Value = kappa, Se = se, Low = Math.Max(-1, kappa - Z * se), High = Math.Min(1, kappa + Z * se) };
    }
}
