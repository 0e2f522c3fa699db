using Tussock.Numerics;

namespace Tussock.Planning.Power;

/// <summary>How many independent nests a side tell two survivals apart: the textbook's sample sizes.</summary>
/// <remarks>Nests of one line are not independent: multiply by <see cref="DesignEffect"/>.</remarks>
public static class TwoProportions
{
    /// <summary>With which chance does a two-sided test of two shares find their difference?</summary>
    /// <param name="n">Nests a side, &gt; 0.</param>
    /// <param name="p1">One true share, in [0, 1].</param>
    /// <param name="p2">The other; not equal to <paramref name="p1"/>.</param>
    /// <param name="level">Level of the test, in (0, 1).</param>
    /// <returns>Chance in [0, 1]: Φ((√n·|p1 − p2| − z·√(2·p̄·q̄))/√(p1·q1 + p2·q2)), p̄ their mean.</returns>
    /// <remarks>The far tail is left out. Normal approximation: with fewer than ten expected losses or survivors a side it misleads.</remarks>
    /// <source>Fleiss, Levin &amp; Paik 2003, Statistical Methods for Rates and Proportions, 3rd ed., chapter 4 (formula from memory; values of the documentation of R's power.prop.test).</source>
    /// <check>published-values</check>
    public static double Power(double n, double p1, double p2, double level = 0.05)
    {
        var (together, apart) = Spreads(p1, p2);
        return Tails.NormalBelow(((Math.Sqrt(n) * Math.Abs(p1 - p2)) - (Tails.NormalQuantile(1 - (level / 2)) * together)) / apart);
    }

    /// <summary>How many nests a side give the test that chance?</summary>
    /// <param name="p1">One true share, in [0, 1].</param>
    /// <param name="p2">The other; not equal to <paramref name="p1"/>.</param>
    /// <param name="power">Chance asked for, in (0, 1).</param>
    /// <param name="level">Level of the test, in (0, 1).</param>
    /// <returns>Nests a side, not rounded: (z_α·√(2·p̄·q̄) + z_β·√(p1·q1 + p2·q2))²/(p1 − p2)².</returns>
    /// <source>Fleiss, Levin &amp; Paik 2003, Statistical Methods for Rates and Proportions, 3rd ed., chapter 4 (formula from memory; values of the documentation of R's power.prop.test).</source>
    /// <check>published-values</check>
    public static double Nests(double p1, double p2, double power = 0.8, double level = 0.05)
    {
        var (together, apart) = Spreads(p1, p2);
        var reach = (Tails.NormalQuantile(1 - (level / 2)) * together) + (Tails.NormalQuantile(power) * apart);
        return reach * reach / ((p1 - p2) * (p1 - p2));
    }

    /// <summary>The same with the correction for continuity, for the test that has it.</summary>
    /// <returns>Nests a side, not rounded: n/4·(1 + √(1 + 4/(n·|p1 − p2|)))².</returns>
    /// <source>Fleiss, Levin &amp; Paik 2003, Statistical Methods for Rates and Proportions, 3rd ed., chapter 4 (formula from memory).</source>
    /// <check>published-values</check>
    public static double NestsCorrected(double p1, double p2, double power = 0.8, double level = 0.05)
    {
        var n = Nests(p1, p2, power, level);
        var root = 1 + Math.Sqrt(1 + (4 / (n * Math.Abs(p1 - p2))));
        return n / 4 * root * root;
    }

    private static (double Together, double Apart) Spreads(double p1, double p2)
    {
        if (p1 == p2) throw new ArgumentException("Two equal shares can't be told apart", nameof(p2));
        var mean = (p1 + p2) / 2;
        return (Math.Sqrt(2 * mean * (1 - mean)), Math.Sqrt((p1 * (1 - p1)) + (p2 * (1 - p2))));
    }
}
