using Tussock.Land;

namespace Tussock.Wayfinding;

/// <summary>Several readings of one direction: their mean, and whether they waver too much to be one.</summary>
public static class CompassReadings
{
    /// <summary>Readings that spread more than this are refused, degrees.</summary>
    public const double MostSpreadDeg = 15;

    private const double Nothing = 1e-9;

    /// <summary>Direction of the mean vector and spread of readings.</summary>
    /// <param name="readingsDeg">Degrees, any order; any turn.</param>
    /// <returns>Spread √(−2 ln R) in degrees, R the length of the mean vector, null where R is 0 or nothing was read; mean in [0, 360), null where the spread is, or is above <see cref="MostSpreadDeg"/>.</returns>
    /// <source>Mardia &amp; Jupp 2000, Directional Statistics, sections 2.2–2.3: mean direction and circular standard deviation; limit of 15°: common practice, no source.</source>
    /// <check>worked-by-hand</check>
    public static (double? MeanDeg, double? SpreadDeg) Of(IReadOnlyCollection<double> readingsDeg)
    {
        if (readingsDeg.Count == 0) return (null, null);
        var sum = readingsDeg.Select(r => Offset.Along(r, 1)).Aggregate((a, b) => a + b);
        var length = Math.Min(1, sum.DistanceM / readingsDeg.Count);
        if (length < Nothing) return (null, null);
        var spread = Math.Sqrt(Math.Max(0, -2 * Math.Log(length))) * 180 / Math.PI;
        return (spread > MostSpreadDeg ? null : sum.BearingTrueDeg, spread);
    }
}
