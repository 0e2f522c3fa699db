namespace Tussock.Years;

/// <summary>Limits of a difference of two estimates, recovered from the limits of each.</summary>
public static class RecoveredLimits
{
    /// <summary>Between which values does the later less the earlier lie?</summary>
    /// <param name="before">The earlier estimate with its limits.</param>
    /// <param name="after">The later one with its limits, of the same level.</param>
    /// <param name="correlation">Correlation of their errors, in [−1, 1]; 0 where they share nothing.</param>
    /// <returns>Limits of after − before. With limits inside [0, 1] they lie inside [−1, 1].</returns>
    /// <exception cref="ArgumentOutOfRangeException">The correlation is outside its range.</exception>
    /// <remarks>
    /// low = d − √((p2 − l2)² + (u1 − p1)² − 2ρ(p2 − l2)(u1 − p1)), high likewise with the other two distances. Each estimate's own lopsided limits
    /// enter, so that the difference of shares near 0 or 1 stays inside what is possible.
    /// </remarks>
    /// <source>Newcombe 1998, Stat. Med. 17, 873–890, method 10 (independent shares with score limits); Zou &amp; Donner 2008, Stat. Med. 27, 1693–1702 (from memory, to be confirmed)</source>
    /// <check>published-values</check>
    public static (double Low, double High) Difference((double Value, double Low, double High) before, (double Value, double Low, double High) after, double correlation = 0)
    {
        if (!(correlation is >= -1 and <= 1)) throw new ArgumentOutOfRangeException(nameof(correlation));
        var d = after.Value - before.Value;
        return (d - Together(after.Value - after.Low, before.High - before.Value, correlation), d + Together(after.High - after.Value, before.Value - before.Low, correlation));
    }

    private static double Together(double a, double b, double correlation) => Math.Sqrt(Math.Max(0, (a * a) + (b * b) - (2 * correlation * a * b)));
}
