namespace Tussock.Years;

/// <summary>How far two estimates of the same land in two years may be off together, by what their lines say.</summary>
/// <param name="Before">Variance of the earlier estimate.</param>
/// <param name="After">Variance of the later one.</param>
/// <param name="Covariance">Covariance through lines that were walked in both years.</param>
/// <param name="OfDifference">Variance of the difference, summed as such: two large variances less twice their covariance would leave rounding.</param>
/// <param name="Degrees">Degrees of freedom of the difference, ≥ 1.</param>
/// <param name="Shared">Lines that were walked in both years.</param>
internal readonly record struct LineErrors(double Before, double After, double Covariance, double OfDifference, double Degrees, int Shared)
{
    /// <summary>Correlation of the two errors, in [−1, 1]; 0 where one year has no error between lines.</summary>
    internal double Correlation => Before > 0 && After > 0 ? Math.Clamp(Covariance / Math.Sqrt(Before * After), -1, 1) : 0;

    /// <summary>Errors from the influence of each line on its year's estimate, already scaled by √(m/(m − 1)).</summary>
    /// <remarks>
    /// Lines walked in both years count as one cluster with the difference of their influences, the others as clusters of their own: the survey variance
    /// of a difference of ratios. Degrees of freedom by Satterthwaite over the three sets (both years, the earlier alone, the later alone), each with
    /// its number of lines less one; without shared lines that is Welch's formula.
    /// </remarks>
    /// <source>Cochran 1977, Sampling Techniques, 3rd ed., chapter 6 (from memory, to be confirmed); Satterthwaite 1946, Biometrics Bulletin 2, 110–114 (from memory, to be confirmed).</source>
    /// <check>worked-by-hand</check>
    internal static LineErrors Of(IReadOnlyList<(string? Line, double Influence)> before, IReadOnlyList<(string? Line, double Influence)> after)
    {
        var earlier = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var (line, influence) in before) if (line is not null) earlier[line] = influence;
        double both = 0, covariance = 0, lateOnly = 0;
        var shared = 0;
        foreach (var (line, influence) in after)
        {
            if (line is not null && earlier.Remove(line, out var former))
            {
                shared++;
                both += (influence - former) * (influence - former);
                covariance += influence * former;
            }
            else
            {
                lateOnly += influence * influence;
            }
        }

        var first = before.Sum(b => b.Influence * b.Influence);
        var last = after.Sum(a => a.Influence * a.Influence);
        var earlyOnly = before.Where(b => b.Line is null || earlier.ContainsKey(b.Line)).Sum(b => b.Influence * b.Influence);
        var degrees = Satterthwaite([(both, shared), (earlyOnly, before.Count - shared), (lateOnly, after.Count - shared)]);
        return new LineErrors(first, last, covariance, both + earlyOnly + lateOnly, degrees, shared);
    }

    private static double Satterthwaite(ReadOnlySpan<(double Variance, int Lines)> sets)
    {
        double sum = 0, squares = 0;
        foreach (var (variance, lines) in sets)
        {
            sum += variance;
            squares += variance * variance / Math.Max(1, lines - 1);
        }

        return squares > 0 ? Math.Max(1, sum * sum / squares) : 1;
    }
}
