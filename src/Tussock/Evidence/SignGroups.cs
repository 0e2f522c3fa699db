namespace Tussock.Evidence;

/// <summary>Signs that go together must not count twice: the evidence of a group is bounded by that of its strongest sign.</summary>
public static class SignGroups
{
    /// <summary>Pools the log-likelihoods of the signs of one group.</summary>
    /// <param name="signs">One row a sign: its log-likelihood under each class, up to a constant.</param>
    /// <returns>One log-likelihood a class: the mean over signs, weighted by each sign's range over classes; 0 when no sign tells classes apart.</returns>
    /// <remarks>
    /// A weighted mean lies between its parts, so between any two classes the group never speaks louder than its loudest sign; a sign that tells
    /// nothing has weight 0 and dilutes nothing; the order of signs does not matter. It errs to the careful side: independent signs of one group
    /// count less than they could.
    /// </remarks>
    /// <source>Logarithmic opinion pool (Genest &amp; Zidek 1986, Statistical Science 1:114–135; from memory, to be confirmed); weights by range: this program's choice.</source>
    /// <check>worked-by-hand</check>
    public static double[] Pooled(IReadOnlyList<double[]> signs)
    {
        var pooled = new double[signs[0].Length];
        var total = 0.0;
        foreach (var sign in signs.OrderBy(s => s, ByValue))
        {
            var range = sign.Max() - sign.Min();
            total += range;
            for (var k = 0; k < pooled.Length; k++) pooled[k] += range * sign[k];
        }

        for (var k = 0; k < pooled.Length; k++) pooled[k] = total > 0 ? pooled[k] / total : 0;
        return pooled;
    }

    /// <summary>What each sign of a group adds to what the group says; over the signs they add to <see cref="Pooled"/>.</summary>
    internal static double[][] Parts(IReadOnlyList<double[]> signs)
    {
        var total = signs.Sum(s => s.Max() - s.Min());
        return [.. signs.Select(s => s.Select(x => total > 0 ? (s.Max() - s.Min()) * x / total : 0).ToArray())];
    }

    // Sums in a fixed order give the same bits whatever order the signs were written in.
    private static Comparer<double[]> ByValue { get; } = Comparer<double[]>.Create((a, b) => a.AsSpan().SequenceCompareTo(b));
}
