using Tussock.Land;

namespace Tussock.Wayfinding;

/// <summary>The shortest line between two places on WGS 84.</summary>
/// <param name="DistanceM">Its length in metres, 0 or more.</param>
/// <param name="BearingFromDeg">True bearing at its beginning, degrees in [0, 360).</param>
/// <param name="BearingToDeg">True bearing at its end, going on; degrees in [0, 360).</param>
/// <remarks>
/// Direct: three series of sixth order. Inverse: the bearing at the beginning is found by halving, which always ends, between nearly opposite
/// places too. Good to some nanometres for field lengths and to a micrometre round the earth. May be shared between threads.
/// </remarks>
/// <source>Karney 2013, Algorithms for geodesics, Journal of Geodesy 87(1):43–55.</source>
/// <check>published-values</check>
public readonly record struct Geodesic(double DistanceM, double BearingFromDeg, double BearingToDeg)
{
    private const double Radians = Math.PI / 180;
    private const double Flattening = GeodesicSeries.Flattening;

    /// <summary>Tiny latitude that stands for the equator, so that a line along it keeps its direction.</summary>
    private const double Tiny = 1e-150;

    /// <summary>The place at the end of a line.</summary>
    /// <param name="from">Where it begins.</param>
    /// <param name="bearingDeg">True bearing in degrees clockwise from north.</param>
    /// <param name="metres">Its length, 0 or more.</param>
    /// <returns>The place, longitude in [−180, 180), and the line.</returns>
    public static (Position To, Geodesic Line) Direct(Position from, double bearingDeg, double metres)
    {
        var (sine, cosine) = Math.SinCos(Math.IEEERemainder(bearingDeg, 360) * Radians);
        var start = new Crossing(Reduced(from.Latitude), sine, cosine);
        var arc = start.Series.Arc(start.Series.Metres(start.Arc) + metres);
        var lon = start.LongitudeTo(arc) / Radians;
        var to = new Position(Math.Atan2(start.SineLatitude(arc), (1 - Flattening) * start.CosineLatitude(arc)) / Radians, East(from.Longitude + lon));
        return (to, new Geodesic(metres, Turn(bearingDeg), start.BearingAt(arc)));
    }

    /// <summary>The line between two places.</summary>
    /// <param name="from">Where it begins.</param>
    /// <param name="to">Where it ends.</param>
    /// <returns>The line; between a place and itself 0 m to the north.</returns>
    public static Geodesic Between(Position from, Position to)
    {
        // The line is turned over until it begins in the south, farther from the equator than it ends, and goes to the east.
        var east = Math.IEEERemainder(to.Longitude - from.Longitude, 360);
        var isSwapped = Math.Abs(from.Latitude) < Math.Abs(to.Latitude);
        var (one, two) = isSwapped ? (to.Latitude, from.Latitude) : (from.Latitude, to.Latitude);
        var north = one > 0 ? -1 : 1;
        var (lat1, lat2, lon) = (one * north, two * north, Math.Abs(east) * Radians);
        if (lat1 == lat2 && lon == 0) return new(0, 0, 0);
        var (sine, cosine) = AtBeginning(lat1, lat2, lon);
        var start = new Crossing(Reduced(lat1), sine, cosine);
        var arc = start.ArcAt(Reduced(lat2));
        var metres = lat1 == 0 && lat2 == 0 && lon <= (1 - Flattening) * Math.PI ? GeodesicSeries.SemiMajorM * lon : start.Series.Metres(arc) - start.Series.Metres(start.Arc);
        double Back(double bearing) => Turn(Math.Atan2(Math.Sin(bearing) * (east < 0 ? -1 : 1), Math.Cos(bearing) * north * (isSwapped ? -1 : 1)) / Radians);
        var (first, last) = (Back(Math.Atan2(sine, cosine)), Back(start.BearingAt(arc) * Radians));
        return isSwapped ? new(metres, last, first) : new(metres, first, last);
    }

    /// <summary>Sine and cosine of the bearing at which a line of the standing order begins.</summary>
    private static (double Sine, double Cosine) AtBeginning(double lat1, double lat2, double lon)
    {
        if (lon == 0 || lat1 == -90) return (Math.Sin(lon), Math.Cos(lon));
        if (lat1 == 0 && lat2 == 0 && lon <= (1 - Flattening) * Math.PI) return (1, 0);
        var (beta1, beta2) = (Reduced(lat1), Reduced(lat2));
        var (low, high) = (0.0, Math.PI);
        while (true)
        {
            var bearing = (low + high) / 2;
            if (bearing <= low || bearing >= high) break;
            var start = new Crossing(beta1, Math.Sin(bearing), Math.Cos(bearing));
            if (start.LongitudeTo(start.ArcAt(beta2)) < lon) low = bearing;
            else high = bearing;
        }

        return Math.SinCos((low + high) / 2);
    }

    /// <summary>Sine and cosine of the reduced latitude.</summary>
    private static (double Sine, double Cosine) Reduced(double latitude)
    {
        var (sine, cosine) = Math.SinCos(latitude * Radians);
        if (Math.Abs(latitude) == 90) cosine = Tiny;
        if (sine == 0) sine = -Tiny;
        sine *= 1 - Flattening;
        var length = Math.Sqrt((sine * sine) + (cosine * cosine));
        return (sine / length, cosine / length);
    }

    private static double Turn(double degrees) => degrees - (360 * Math.Floor(degrees / 360)) is var turned && turned >= 360 ? 0 : turned;

    private static double East(double longitude) => longitude - (360 * Math.Floor((longitude + 180) / 360));

    /// <summary>A line as it crosses the equator, and where on it the beginning lies.</summary>
    private readonly struct Crossing
    {
        private readonly (double Sine, double Cosine) beta;
        private readonly double sineAtEquator, cosineAtEquator, northward, longitude;

        internal Crossing((double Sine, double Cosine) beta, double sine, double cosine)
        {
            this.beta = beta;
            northward = cosine * beta.Cosine;
            sineAtEquator = sine * beta.Cosine;
            cosineAtEquator = Math.Sqrt((cosine * cosine) + (sine * beta.Sine * (sine * beta.Sine)));
            Series = GeodesicSeries.Of(cosineAtEquator * cosineAtEquator);
            Arc = Math.Atan2(beta.Sine, northward);
            longitude = Math.Atan2(sineAtEquator * beta.Sine, northward);
        }

        internal GeodesicSeries Series { get; }

        internal double Arc { get; }

        internal double SineLatitude(double arc) => cosineAtEquator * Math.Sin(arc);

        internal double CosineLatitude(double arc) => Math.Sqrt((cosineAtEquator * Math.Cos(arc) * (cosineAtEquator * Math.Cos(arc))) + (sineAtEquator * sineAtEquator));

        internal double BearingAt(double arc) => Turn(Math.Atan2(sineAtEquator, cosineAtEquator * Math.Cos(arc)) / Radians);

        /// <summary>Arc at which the line, going north, reaches a latitude no farther from the equator than its beginning.</summary>
        internal double ArcAt((double Sine, double Cosine) other)
        {
            // The difference of squares by its factors: for a line of some metres it is all that there is.
            var nearer = beta.Cosine < -beta.Sine ? (other.Cosine - beta.Cosine) * (other.Cosine + beta.Cosine) : (beta.Sine - other.Sine) * (beta.Sine + other.Sine);
            return Math.Atan2(other.Sine, Math.Sqrt(Math.Max(0, (northward * northward) + nearer)));
        }

        /// <summary>Radians of longitude from the beginning to an arc.</summary>
        internal double LongitudeTo(double arc)
        {
            var onSphere = Math.Atan2(sineAtEquator * Math.Sin(arc), Math.Cos(arc)) - longitude;
            if (onSphere < 0 && sineAtEquator >= 0) onSphere += 2 * Math.PI;
            return onSphere - (Flattening * sineAtEquator * (Series.Lag(arc) - Series.Lag(Arc)));
        }
    }
}
