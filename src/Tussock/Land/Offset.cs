namespace Tussock.Land;

/// <summary>The way from one place to another on the plane that touches the earth between them.</summary>
/// <param name="EastM">Metres towards east.</param>
/// <param name="NorthM">Metres towards north.</param>
public readonly record struct Offset(double EastM, double NorthM)
{
    private const double SemiMajorAxisM = 6_378_137;
    private const double EccentricitySquared = 0.00669437999014;
    private const double RadiansADegree = Math.PI / 180;

    /// <summary>Distance in metres, 0 or more.</summary>
    public double DistanceM => Math.Sqrt((EastM * EastM) + (NorthM * NorthM));

    /// <summary>True bearing in degrees clockwise from north, [0, 360); 0 when the distance is 0.</summary>
    public double BearingTrueDeg => ((Math.Atan2(EastM, NorthM) / RadiansADegree) + 360) % 360;

    /// <summary>The way between two places of WGS 84.</summary>
    /// <param name="from">Where it begins.</param>
    /// <param name="to">Where it ends.</param>
    /// <returns>Metres; off by less than a millimetre over 1 km at middle latitudes, meaningless across continents.</returns>
    /// <remarks>Radii of curvature of the ellipsoid at the middle latitude. The date line is crossed by the short way.</remarks>
    public static Offset Between(Position from, Position to)
    {
        var middle = (from.Latitude + to.Latitude) / 2 * RadiansADegree;
        var sine = Math.Sin(middle);
        var root = Math.Sqrt(1 - (EccentricitySquared * sine * sine));
        var alongMeridian = SemiMajorAxisM * (1 - EccentricitySquared) / (root * root * root);
        var acrossMeridian = SemiMajorAxisM / root;
        var east = Math.IEEERemainder(to.Longitude - from.Longitude, 360);
        return new Offset(east * RadiansADegree * acrossMeridian * Math.Cos(middle), (to.Latitude - from.Latitude) * RadiansADegree * alongMeridian);
    }

    /// <summary>The way along a bearing.</summary>
    /// <param name="degrees">Degrees clockwise from north.</param>
    /// <param name="metres">Distance.</param>
    public static Offset Along(double degrees, double metres) => new(metres * Math.Sin(degrees * RadiansADegree), metres * Math.Cos(degrees * RadiansADegree));

    /// <summary>One way after another.</summary>
    public static Offset operator +(Offset a, Offset b) => new(a.EastM + b.EastM, a.NorthM + b.NorthM);

    /// <summary>One way after another.</summary>
    public Offset Add(Offset other) => this + other;
}
