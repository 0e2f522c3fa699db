namespace Tussock.Evidence;

/// <summary>Agreement of several who each name a class for a nest, beyond chance; who they are may differ from nest to nest.</summary>
public static class FleissKappa
{
    internal const string Method = "Fleiss' kappa, limits by leaving one nest out";

    /// <summary>Do readers agree more than by chance?</summary>
    /// <param name="readings">One row a nest: how many readers named each class. All rows have the same number of readers, at least 2.</param>
    /// <returns>Kappa ≤ 1. Limits κ ± t·se with the jackknife over nests. A reason with no nest, one class only, or fewer than three nests (no limits).</returns>
    /// <remarks>κ = (P − Pe)/(1 − Pe) with P the mean share of agreeing pairs. All agree on several classes: κ = 1, se 0, no limits.</remarks>
    /// <exception cref="ArgumentException">Rows differ in their number of readers, or have fewer than two.</exception>
    /// <source>Fleiss 1971, Psychological Bulletin 76:378–382; jackknife: Efron &amp; Stein 1981, Annals of Statistics 9:586–596 (from memory, to be confirmed).</source>
    /// <check>fleiss-1971</check>
    public static Estimate Of(IReadOnlyList<IReadOnlyList<int>> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (readings.Count == 0) return Estimate.None(Method, Phrase.Of("signs.kappa.nothing"));
        var readers = readings[0].Sum();
        if (readers < 2 || readings.Any(r => r.Sum() != readers)) throw new ArgumentException("Every nest needs the same number of readers, at least two.", nameof(readings));
        double n = readings.Count;
        var totals = Enumerable.Range(0, readings[0].Count).Select(j => (double)readings.Sum(r => r[j])).ToArray();
        var pairs = readings.Sum(Pairs);
        if (Value(totals, pairs, n, readers) is not { } kappa) return Estimate.None(Method, Phrase.Of("signs.kappa.one_class"));
        if (kappa == 1) return new Estimate { Method = Method, Value = 1, Se = 0, Why = Phrase.Of("signs.kappa.all_agree") };
        var left = readings.Select(r => Value([.. totals.Zip(r, (t, x) => t - x)], pairs - Pairs(r), n - 1, readers)).OfType<double>().ToArray();
        if (n < 3 || left.Length < n) return new Estimate { Method = Method, Value = kappa, Why = Phrase.Of("signs.kappa.few") };
        var mean = left.Average();
        var se = Math.Sqrt((n - 1) / n * left.Sum(x => (x - mean) * (x - mean)));
        var half = Numerics.Tails.StudentQuantile(0.975, n - 1) * se;
        return new Estimate { Method = Method, Value = kappa, Se = se, Low = Math.Max(-1, kappa - half), High = Math.Min(1, kappa + half) };
    }

    /// <summary>Standard error of kappa if readers only guessed: what kappa is held against to ask whether there is any agreement at all.</summary>
    /// <param name="readings">As for <see cref="Of"/>.</param>
    /// <returns>The standard error; a reason where kappa has none.</returns>
    /// <source>Fleiss, Nee &amp; Landis 1979, Psychological Bulletin 86:974–977 (from memory, to be confirmed).</source>
    /// <check>fleiss-1971</check>
    public static Answer<double> NullSe(IReadOnlyList<IReadOnlyList<int>> readings)
    {
        if (Of(readings) is { Value: null, Why: { } why }) return new NoAnswer(why);
        double n = readings.Count, readers = readings[0].Sum();
        var p = Enumerable.Range(0, readings[0].Count).Select(j => readings.Sum(r => r[j]) / (n * readers)).ToArray();
        var spread = p.Sum(x => x * (1 - x));
        return Math.Sqrt(2 * (spread * spread - p.Sum(x => x * (1 - x) * (1 - 2 * x))) / (n * readers * (readers - 1))) / spread;
    }

    private static double Pairs(IReadOnlyList<int> row) => row.Sum(x => (double)x * (x - 1));

    private static double? Value(double[] totals, double pairs, double n, double readers)
    {
        var chance = totals.Sum(t => Math.Pow(t / (n * readers), 2));
        if (n == 0 || totals.Count(t => t > 0) < 2) return null;
        return (pairs / (n * readers * (readers - 1)) - chance) / (1 - chance);
    }
}
