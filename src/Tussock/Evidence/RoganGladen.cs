using Tussock.Numerics;

namespace Tussock.Evidence;

/// <summary>How often a reading is right where it should say yes (sensitivity), or no (specificity).</summary>
/// <param name="Value">Share in [0, 1].</param>
/// <param name="Nests">Confirmed nests behind it; null: taken as known.</param>
public readonly record struct ErrorRate(double Value, int? Nests = null)
{
    internal double Variance => Nests is { } n ? Value * (1 - Value) / n : 0;
}

/// <summary>The true share of one class, from readings with known errors of other seasons.</summary>
public static class RoganGladen
{
    /// <summary>Least sum of sensitivity and specificity that is still used.</summary>
    public const double LeastSum = 1.1;

    private const string Name = "Rogan-Gladen";
    private const double Z = 1.959963984540054;

    /// <summary>The share of losses by a class, of which <paramref name="read"/> in <paramref name="nests"/> were read so.</summary>
    /// <param name="read">Losses read as the class, 0 ≤ read ≤ nests.</param>
    /// <param name="nests">Losses read.</param>
    /// <param name="sensitivity">Share of the class's own nests that are read so.</param>
    /// <param name="specificity">Share of other nests that are not.</param>
    /// <returns>t = (p + Sp − 1)/(Se + Sp − 1) cut to [0, 1]; a reason when nothing was read, or Se + Sp ≤ 1.1.</returns>
    /// <remarks>
    /// Known errors: the Wilson limits of p carried through the same formula. Estimated errors: t ± 1.96·se by the delta method. Both cut to [0, 1];
    /// losses taken as independent. Misleads when the errors of other seasons are not those of this one.
    /// </remarks>
    /// <source>Rogan &amp; Gladen 1978, American Journal of Epidemiology 107:71–76; delta method with estimated errors: Lang &amp; Reiczigel 2014, Preventive Veterinary Medicine 113:13–22.</source>
    /// <check>published-values</check>
    public static Estimate Of(int read, int nests, ErrorRate sensitivity, ErrorRate specificity)
    {
        var sum = sensitivity.Value + specificity.Value;
        if (nests == 0) return Estimate.None(Name, Phrase.Of("signs.no_trials"));
        if (sum <= LeastSum) return Estimate.None(Name, Phrase.Of("signs.errors_too_high"));
        double Carried(double p) => (p + specificity.Value - 1) / (sum - 1);
        var p = (double)read / nests;
        var t = Carried(p);
        var variance = p * (1 - p) / nests + t * t * sensitivity.Variance + (1 - t) * (1 - t) * specificity.Variance;
        var se = Math.Sqrt(variance) / (sum - 1);
        var known = sensitivity.Nests is null && specificity.Nests is null;
        var (low, high) = Wilson(p, nests);
        return new Estimate
        {
            Method = Name + (known ? ", errors known, Wilson limits carried over" : ", errors estimated, delta method"),
            Value = Math.Clamp(t, 0, 1),
            Se = se,
            Low = Math.Clamp(known ? Carried(low) : t - Z * se, 0, 1),
            High = Math.Clamp(known ? Carried(high) : t + Z * se, 0, 1),
        };
    }

    private static (double Low, double High) Wilson(double p, int n)
    {
        var half = Z * Math.Sqrt(p * (1 - p) / n + Z * Z / (4.0 * n * n));
        var (middle, scale) = (p + Z * Z / (2.0 * n), 1 + Z * Z / n);
        return ((middle - half) / scale, (middle + half) / scale);
    }
}
