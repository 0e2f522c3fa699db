namespace Tussock.Wayfinding;

/// <summary>The series of sixth order by which distance and longitude follow the arc of a geodesic on WGS 84.</summary>
/// <param name="Epsilon">Small parameter of the line, from the azimuth at which it crosses the equator.</param>
/// <source>Karney 2013, Journal of Geodesy 87(1):43–55, equations 15–25; coefficients from memory, confirmed by the check.</source>
/// <check>published-values</check>
internal readonly record struct GeodesicSeries(double Epsilon)
{
    internal const double SemiMajorM = 6_378_137;
    internal const double Flattening = 1 / 298.257223563;
    internal const double SemiMinorM = SemiMajorM * (1 - Flattening);
    internal const double SecondEccentricitySquared = Flattening * (2 - Flattening) / ((1 - Flattening) * (1 - Flattening));
    private const double N = Flattening / (2 - Flattening);

    /// <summary>The series of a line that crosses the equator at an azimuth with this squared cosine.</summary>
    internal static GeodesicSeries Of(double cosineSquaredAtEquator)
    {
        var k = SecondEccentricitySquared * cosineSquaredAtEquator;
        return new(k / ((2 * (1 + Math.Sqrt(1 + k))) + k));
    }

    /// <summary>Metres along the line for one radian of its arc, on the whole.</summary>
    internal double MetresARadian => SemiMinorM * A1;

    private double A1 => (1 + (Square / 4) + (Square * Square / 64) + (Square * Square * Square / 256)) / (1 - Epsilon);

    private double Square => Epsilon * Epsilon;

    /// <summary>Metres from the crossing of the equator to an arc σ.</summary>
    internal double Metres(double arc)
    {
        var (e, q) = (Epsilon, Square);
        return MetresARadian * (arc + Sines(arc, e * (-0.5 + (q * ((3.0 / 16) - (q / 32)))), q * ((-1.0 / 16) + (q * ((1.0 / 32) - (q * 9 / 2048)))), e * q * ((-1.0 / 48) + (q * 3 / 256)), q * q * ((-5.0 / 512) + (q * 3 / 512)), e * q * q * (-7.0 / 1280), q * q * q * (-7.0 / 2048)));
    }

    /// <summary>Arc σ at so many metres from the crossing of the equator: the series of <see cref="Metres"/> turned round.</summary>
    internal double Arc(double metres)
    {
        var (e, q) = (Epsilon, Square);
        var even = metres / MetresARadian;
        return even + Sines(even, e * (0.5 + (q * ((-9.0 / 32) + (q * 205 / 1536)))), q * ((5.0 / 16) + (q * ((-37.0 / 96) + (q * 1335 / 4096)))), e * q * ((29.0 / 96) - (q * 75 / 128)), q * q * ((539.0 / 1536) - (q * 2391 / 2560)), e * q * q * 3467 / 7680, q * q * q * 38081 / 61440);
    }

    /// <summary>By how much the longitude lags behind that of the sphere at an arc σ, as a multiple of f·sin α0.</summary>
    internal double Lag(double arc)
    {
        var (e, q) = (Epsilon, Square);
        var a3 = 1 - (e * (0.5 - (N / 2))) - (q * (0.25 + (N / 8) - (N * N * 3 / 8))) - (e * q * ((1.0 / 16) + (N * 3 / 16) + (N * N / 16))) - (q * q * ((3.0 / 64) + (N / 32))) - (e * q * q * 3 / 128);
        return a3 * (arc + Sines(arc,
            (e * (0.25 - (N / 4))) + (q * (0.125 - (N * N / 8))) + (e * q * ((3.0 / 64) + (N * 3 / 64) - (N * N / 64))) + (q * q * ((5.0 / 128) + (N / 64))) + (e * q * q * 3 / 128),
            (q * ((1.0 / 16) - (N * 3 / 32) + (N * N / 32))) + (e * q * ((3.0 / 64) - (N / 32) - (N * N * 3 / 64))) + (q * q * ((3.0 / 128) + (N / 128))) + (e * q * q * 5 / 256),
            (e * q * ((5.0 / 192) - (N * 3 / 64) + (N * N * 5 / 192))) + (q * q * ((3.0 / 128) - (N * 5 / 192))) + (e * q * q * 7 / 512),
            (q * q * ((7.0 / 512) - (N * 7 / 256))) + (e * q * q * 7 / 512),
            e * q * q * 21 / 2560));
    }

    /// <summary>Σ c_l · sin 2lσ.</summary>
    private static double Sines(double arc, params ReadOnlySpan<double> c)
    {
        var sum = 0.0;
        for (var l = c.Length; l > 0; l--) sum += c[l - 1] * Math.Sin(2 * l * arc);
        return sum;
    }
}
