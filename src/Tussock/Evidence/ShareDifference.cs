namespace Tussock.Evidence;

/// <summary>Difference of two shares that were estimated apart.</summary>
public static class ShareDifference
{
    internal const string Method = "Newcombe's hybrid of Jeffreys limits";

    /// <summary>By how much does the share in the one group exceed that in the other?</summary>
    /// <param name="one">Share with limits.</param>
    /// <param name="other">Share with limits, from other nests.</param>
    /// <returns>Difference in [−1, 1] with limits; the reason of the share that is missing.</returns>
    /// <remarks>
    /// d − √((p1 − l1)² + (u2 − p2)²) to d + √((u1 − p1)² + (p2 − l2)²): the limits of each share squared and added. Supposes that groups share no nest
    /// and no luck; lines in both groups make it too narrow or too wide.
    /// </remarks>
    /// <source>Newcombe 1998, Statistics in Medicine 17:873–890, method 10, there with Wilson limits; with Jeffreys limits: common practice, no source.</source>
    /// <check>published-values</check>
    public static Estimate Of(Estimate one, Estimate other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        if (one is not { Value: { } p1, Low: { } l1, High: { } u1 }) return Estimate.None(Method, one.Why!);
        if (other is not { Value: { } p2, Low: { } l2, High: { } u2 }) return Estimate.None(Method, other.Why!);
        return new Estimate { Method = Method, Value = p1 - p2, Low = Math.Max(-1, p1 - p2 - Root(p1 - l1, u2 - p2)), High = Math.Min(1, p1 - p2 + Root(u1 - p1, p2 - l2)) };
    }

    private static double Root(double a, double b) => Math.Sqrt(a * a + b * b);
}
