using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>How one cover class does against the reference on the same transects.</summary>
/// <param name="Strata">Transects that count: those with nests of known fate in both classes.</param>
/// <param name="SurvivalRatio">Survival to the end of the trial in the other class divided by that in the reference; above 1, the other class does better.</param>
/// <param name="OddsRatio">The same for the odds of survival.</param>
public sealed record CoverComparison(int Strata, Estimate SurvivalRatio, Estimate OddsRatio);

/// <summary>Nests of known fate on one transect, in two cover classes.</summary>
/// <param name="OtherIntact">a: survived, other class.</param>
/// <param name="OtherLost">b: lost, other class.</param>
/// <param name="ReferenceIntact">c: survived, reference.</param>
/// <param name="ReferenceLost">d: lost, reference.</param>
public readonly record struct Stratum(int OtherIntact, int OtherLost, int ReferenceIntact, int ReferenceLost);

/// <summary>Compares two cover classes within transects, so that differences between transects don't enter.</summary>
public static class MantelHaenszel
{
    private const string RatioMethod = "Mantel-Haenszel survival ratio over transects, Greenland-Robins variance";
    private const string OddsMethod = "Mantel-Haenszel odds ratio over transects, Robins-Breslow-Greenland variance";

    /// <summary>Do nests in one cover class survive more often than in the reference on the same transects?</summary>
    /// <param name="nests">n nests in any order; fates at the end of the trial, unknown ones are left out.</param>
    /// <param name="reference">Index of the reference in <see cref="NestSpans.CoverNames"/>.</param>
    /// <param name="other">Index of the class to compare; the same index compares the class with itself.</param>
    /// <returns>Both ratios (0 to ∞) with 95 % limits on the log scale, or the reason: no transect has both classes, a sum is 0, the variance is 0.</returns>
    /// <remarks>No continuity correction. Each transect is a stratum; the limits take nests on a transect as independent. Cost: n log n.</remarks>
    /// <source>Mantel &amp; Haenszel 1959, Journal of the National Cancer Institute 22:719–748; Greenland &amp; Robins 1985, Biometrics 41:55–68; Robins, Breslow &amp; Greenland 1986, Biometrics 42:311–323.</source>
    /// <check>published-values</check>
    /// <check>reference-seasons</check>
    public static CoverComparison Compare(NestSpans nests, int reference, int other)
    {
        ArgumentNullException.ThrowIfNull(nests);
        var known = Enumerable.Range(0, nests.Count).Where(i => nests.Day28[i] != FateAt.Unknown && (nests.Cover[i] == reference || nests.Cover[i] == other));
        return Over([.. known.GroupBy(i => nests.Transect[i]).OrderBy(line => line.Key).Select(line => Stratum(nests, line, reference, other))]);
    }

    /// <summary>The comparison over strata given as counts.</summary>
    /// <param name="strata">Any number of strata in any order; those that lack a class are left out.</param>
    /// <returns>As for nests.</returns>
    /// <source>Mantel &amp; Haenszel 1959, Journal of the National Cancer Institute 22:719–748; Greenland &amp; Robins 1985, Biometrics 41:55–68; Robins, Breslow &amp; Greenland 1986, Biometrics 42:311–323.</source>
    /// <check>published-values</check>
    public static CoverComparison Over(IReadOnlyList<Stratum> strata)
    {
        ArgumentNullException.ThrowIfNull(strata);
        var both = strata.Where(s => s.OtherIntact + s.OtherLost > 0 && s.ReferenceIntact + s.ReferenceLost > 0).ToArray();
        return new CoverComparison(both.Length, SurvivalRatio(both), OddsRatio(both));
    }

    private static Stratum Stratum(NestSpans nests, IEnumerable<int> line, int reference, int other)
    {
        int a = 0, b = 0, c = 0, d = 0;
        foreach (var i in line)
        {
            var intact = nests.Day28[i] == FateAt.Survived ? 1 : 0;
            if (nests.Cover[i] == other) (a, b) = (a + intact, b + 1 - intact);
            if (nests.Cover[i] == reference) (c, d) = (c + intact, d + 1 - intact);
        }

        return new Stratum(a, b, c, d);
    }

    private static Estimate SurvivalRatio(Stratum[] strata)
    {
        double other = 0, reference = 0, spread = 0;
        foreach (var (a, b, c, d) in strata)
        {
            double n1 = a + b, n0 = c + d, n = n1 + n0;
            other += a * n0 / n;
            reference += c * n1 / n;
            spread += ((n1 * n0 * (a + c)) - ((double)a * c * n)) / (n * n);
        }

        return Ratio(RatioMethod, strata.Length, other, reference, spread / (other * reference));
    }

    private static Estimate OddsRatio(Stratum[] strata)
    {
        double r = 0, s = 0, pr = 0, mixed = 0, qs = 0;
        foreach (var (a, b, c, d) in strata)
        {
            double n = a + b + c + d, p = (a + d) / n, q = (b + c) / n, rk = a * (double)d / n, sk = b * (double)c / n;
            r += rk;
            s += sk;
            pr += p * rk;
            mixed += (p * sk) + (q * rk);
            qs += q * sk;
        }

        return Ratio(OddsMethod, strata.Length, r, s, (pr / (2 * r * r)) + (mixed / (2 * r * s)) + (qs / (2 * s * s)));
    }

    private static Estimate Ratio(string method, int strata, double other, double reference, double variance)
    {
        if (strata == 0) return Estimate.None(method, Phrase.Of("cover_comparison.no_strata"));
        if (other == 0 || reference == 0) return Estimate.None(method, Phrase.Of("cover_comparison.sum_zero"));
        var ratio = other / reference;
        if (!(variance > 0)) return new Estimate { Value = ratio, Method = method, Why = Phrase.Of("cover_comparison.variance_zero") };
        var reach = Tails.NormalQuantile(0.975) * Math.Sqrt(variance);
        return new Estimate { Value = ratio, Low = ratio * Math.Exp(-reach), High = ratio * Math.Exp(reach), Se = ratio * Math.Sqrt(variance), Method = method };
    }
}
