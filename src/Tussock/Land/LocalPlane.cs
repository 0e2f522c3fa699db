namespace Tussock.Land;

/// <summary>A flat piece of land round a place: metres east and north of it. Good for pastures and properties, up to some tens of kilometres.</summary>
/// <remarks>
/// Equirectangular about the centre, with the lengths of a degree of the WGS 84 ellipsoid at the centre's latitude; at 10 km from the
/// centre a distance is wrong by less than 0.1 %. The date line is crossed by the short way. Equal when the centres are equal. May be shared between threads.
/// </remarks>
/// <param name="Centre">The place that has east = north = 0.</param>
/// <source>WGS 84: semi-major axis 6,378,137 m, flattening 1/298.257223563 (National Geospatial-Intelligence Agency, NGA.STND.0036, 2014); radii of curvature: any textbook of geodesy, for example Torge 2001, section 4.1.</source>
/// <check>published-values</check>
public readonly record struct LocalPlane(Position Centre)
{
    private const double SemiMajorM = 6_378_137;
    private const double Flattening = 1 / 298.257223563;
    private const double EccentricitySquared = Flattening * (2 - Flattening);

    /// <summary>Metres a degree of latitude at the centre.</summary>
    public double MetresPerDegreeNorth => Math.PI / 180 * SemiMajorM * (1 - EccentricitySquared) / Math.Pow(Bend, 1.5);

    /// <summary>Metres a degree of longitude at the centre.</summary>
    public double MetresPerDegreeEast => Math.PI / 180 * SemiMajorM * Math.Cos(Latitude) / Math.Sqrt(Bend);

    private double Latitude => Centre.Latitude * Math.PI / 180;

    private double Bend => 1 - (EccentricitySquared * Math.Sin(Latitude) * Math.Sin(Latitude));

    /// <summary>Metres east and north of the centre.</summary>
    public (double EastM, double NorthM) Metres(Position place) =>
        (Math.IEEERemainder(place.Longitude - Centre.Longitude, 360) * MetresPerDegreeEast, (place.Latitude - Centre.Latitude) * MetresPerDegreeNorth);

    /// <summary>The place so many metres east and north of the centre.</summary>
    public Position Place(double eastM, double northM)
    {
        var longitude = Centre.Longitude + (eastM / MetresPerDegreeEast);
        return new Position(Centre.Latitude + (northM / MetresPerDegreeNorth), longitude is >= -180 and <= 180 ? longitude : Math.IEEERemainder(longitude, 360));
    }
}
