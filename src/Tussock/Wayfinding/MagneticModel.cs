using System.Collections.Immutable;
using System.Globalization;
using Tussock.Land;
using Tussock.Words;

namespace Tussock.Wayfinding;

/// <summary>The World Magnetic Model: the main field of the earth's core as a series of spherical harmonics of degree 12, and its change in a year.</summary>
/// <remarks>Iron, power lines, rocks and magnetic storms are not in it. Cost: 90 terms a place. May be shared between threads.</remarks>
/// <source>NOAA National Centers for Environmental Information and British Geological Survey 2024, World Magnetic Model 2025 (coefficients in the public domain); Chulliat et al. 2020, The US/UK World Magnetic Model for 2020–2025, technical report, section 1.2, for the sums.</source>
/// <check>wmm2025</check>
public sealed class MagneticModel
{
    private const int Degree = 12;
    private const double ReferenceRadiusKm = 6371.2;
    private const double SemiMajorKm = GeodesicSeries.SemiMajorM / 1000;
    private const double EccentricitySquared = GeodesicSeries.Flattening * (2 - GeodesicSeries.Flattening);
    private const double Radians = Math.PI / 180;

    private static readonly Lazy<MagneticModel> LazyCurrent = new(() => Parse(Embedded.Text("wayfinding/wmm2025.cof")));

    private readonly ImmutableArray<Term> terms;

    private MagneticModel(double epoch, string name, ImmutableArray<Term> terms) => (Epoch, Name, this.terms) = (epoch, name, terms);

    /// <summary>The model of 2025, good for 2025.0 to 2030.0.</summary>
    public static MagneticModel Current => LazyCurrent.Value;

    /// <summary>Name of the model.</summary>
    public string Name { get; }

    /// <summary>Decimal year from which its change is counted, the first for which it is good.</summary>
    public double Epoch { get; }

    /// <summary>Decimal year at which it ends.</summary>
    public double End => Epoch + 5;

    /// <summary>The field at a place.</summary>
    /// <param name="at">The place; at a pole itself a place a hair beside it is taken.</param>
    /// <param name="heightKm">Height above the ellipsoid in km, [−10, 600].</param>
    /// <param name="year">Decimal year in [<see cref="Epoch"/>, <see cref="End"/>].</param>
    /// <exception cref="ArgumentOutOfRangeException">The year is outside the model.</exception>
    public MagneticField At(Position at, double heightKm, double year)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(year, Epoch);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(year, End);
        var geodetic = Math.Clamp(at.Latitude, -89.99999, 89.99999) * Radians;
        var bend = SemiMajorKm / Math.Sqrt(1 - (EccentricitySquared * Math.Sin(geodetic) * Math.Sin(geodetic)));
        var (across, up) = ((bend + heightKm) * Math.Cos(geodetic), ((bend * (1 - EccentricitySquared)) + heightKm) * Math.Sin(geodetic));
        var radius = Math.Sqrt((across * across) + (up * up));
        var geocentric = Math.Asin(up / radius);
        var (north, east, down) = Sum(geocentric, at.Longitude * Radians, radius, year - Epoch);
        var tilt = geocentric - geodetic;
        return new((north * Math.Cos(tilt)) - (down * Math.Sin(tilt)), east, (north * Math.Sin(tilt)) + (down * Math.Cos(tilt)));
    }

    /// <summary>Components in the geocentric frame.</summary>
    private (double North, double East, double Down) Sum(double latitude, double longitude, double radiusKm, double years)
    {
        var (p, slope) = Legendre(latitude);
        var (north, east, down) = (0.0, 0.0, 0.0);
        foreach (var t in terms)
        {
            var power = Math.Pow(ReferenceRadiusKm / radiusKm, t.N + 2);
            var (g, h) = (t.G + (years * t.GChange), t.H + (years * t.HChange));
            var (sine, cosine) = Math.SinCos(t.M * longitude);
            north -= power * ((g * cosine) + (h * sine)) * slope[t.N, t.M];
            east += power * t.M * ((g * sine) - (h * cosine)) * p[t.N, t.M] / Math.Cos(latitude);
            down -= power * (t.N + 1) * ((g * cosine) + (h * sine)) * p[t.N, t.M];
        }

        return (north, east, down);
    }

    /// <summary>Schmidt's half-normalised Legendre functions of sin φ, and their slopes in φ.</summary>
    private static (double[,] P, double[,] Slope) Legendre(double latitude)
    {
        var (x, z) = Math.SinCos(latitude);
        var p = new double[Degree + 1, Degree + 1];
        var slope = new double[Degree + 1, Degree + 1];
        p[0, 0] = 1;
        for (var n = 1; n <= Degree; n++)
        {
            for (var m = 0; m <= n; m++)
            {
                if (m == n)
                {
                    var step = n == 1 ? 1 : Math.Sqrt(((2.0 * n) - 1) / (2 * n));
                    p[n, n] = step * z * p[n - 1, n - 1];
                    slope[n, n] = step * ((z * slope[n - 1, n - 1]) - (x * p[n - 1, n - 1]));
                    continue;
                }

                var (square, before) = (((double)n * n) - (m * m), n - 1 > m ? Math.Sqrt((((double)n - 1) * (n - 1)) - (m * m)) : 0);
                p[n, m] = ((((2 * n) - 1) * x * p[n - 1, m]) - (before == 0 ? 0 : before * p[n - 2, m])) / Math.Sqrt(square);
                slope[n, m] = ((((2 * n) - 1) * ((x * slope[n - 1, m]) + (z * p[n - 1, m]))) - (before == 0 ? 0 : before * slope[n - 2, m])) / Math.Sqrt(square);
            }
        }

        return (p, slope);
    }

    /// <summary>Reads coefficients in the agencies' layout: a line with epoch and name, then n, m, g, h and their changes a year; lines with # are remarks.</summary>
    private static MagneticModel Parse(string text)
    {
        var rows = text.Split('\n').Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).ToArray();
        static double Number(string s) => double.Parse(s, CultureInfo.InvariantCulture);
        static int Whole(string s) => int.Parse(s, CultureInfo.InvariantCulture);
        return new(Number(rows[0][0]), rows[0][1], [.. rows.Skip(1).Select(r => new Term(Whole(r[0]), Whole(r[1]), Number(r[2]), Number(r[3]), Number(r[4]), Number(r[5])))]);
    }

    private readonly record struct Term(int N, int M, double G, double H, double GChange, double HChange);
}
