namespace Tussock.Cover;

/// <summary>The place L at which a + b·L is 0, for two effects that are jointly normal (Fieller 1954, Journal of the Royal Statistical Society B 16, 175–185; from memory, to be confirmed).</summary>
/// <param name="A">The one effect.</param>
/// <param name="B">The effect that changes with L.</param>
/// <param name="Aa">Variance of <paramref name="A"/>.</param>
/// <param name="Ab">Covariance.</param>
/// <param name="Bb">Variance of <paramref name="B"/>.</param>
internal readonly record struct RatioOfEffects(double A, double B, double Aa, double Ab, double Bb)
{
    /// <summary>−A/B.</summary>
    public double Estimate => -A / B;

    /// <summary>Standard error of −A/B by the delta method.</summary>
    public double Se => Math.Sqrt(Math.Max(0, Aa + (2 * Estimate * Ab) + (Estimate * Estimate * Bb))) / Math.Abs(B);

    /// <summary>The L at which a + b·L is farthest from 0 in standard errors; null when it lies at infinity.</summary>
    public double? Worst => (B * Ab) - (A * Bb) is var under && under != 0 ? ((A * Ab) - (B * Aa)) / under : null;

    /// <summary>Both L at which (a + b·L)² is <paramref name="critical"/> times its variance; null when they don't enclose the estimate.</summary>
    public (double? Below, double? Above) Ends(double critical)
    {
        double two = (B * B) - (critical * Bb), one = (A * B) - (critical * Ab), none = (A * A) - (critical * Aa);
        var root = (one * one) - (two * none);
        if (!(two > 0 && root >= 0)) return (null, null);
        return ((-one - Math.Sqrt(root)) / two, (-one + Math.Sqrt(root)) / two);
    }
}
