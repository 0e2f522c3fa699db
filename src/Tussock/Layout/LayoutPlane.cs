using Tussock.Land;

namespace Tussock.Layout;

/// <summary>The plane on which the lines of one piece of land are laid, and how wrong its metres can be there.</summary>
/// <remarks>
/// Degrees are stretched to metres with the same two factors everywhere, so a straight side between two corners in degrees (as RFC 7946 means it) stays
/// straight: what is inside on the plane is inside on the map, exactly. Only lengths are off, and by no more than <see cref="ErrorShare"/>.
/// Longitudes go the short way round, so a pasture on the date line is in one piece.
/// </remarks>
internal sealed class LayoutPlane
{
    /// <summary>Decimals of a degree in which places are planned: 0.0000001° is 11 mm.</summary>
    private const int Decimals = 7;

    /// <summary>More than this and the land is too large, or too near a pole, for one plane.</summary>
    internal const double MostErrorShare = 0.01;

    private readonly Position centre;
    private readonly double eastM, northM;

    private LayoutPlane(LocalPlane plane, double errorShare) => (centre, eastM, northM, ErrorShare) = (plane.Centre, plane.MetresPerDegreeEast, plane.MetresPerDegreeNorth, errorShare);

    /// <summary>Greatest share by which a length on the plane differs from the length on the ellipsoid, anywhere on the land that it was made for.</summary>
    internal double ErrorShare { get; }

    /// <summary>The plane about the middle of some places; there must be one at least.</summary>
    internal static LayoutPlane Over(IReadOnlyCollection<Position> places)
    {
        var first = places.First();
        var east = places.Select(p => Math.IEEERemainder(p.Longitude - first.Longitude, 360)).ToArray();
        var (south, north) = (places.Min(p => p.Latitude), places.Max(p => p.Latitude));
        var about = new LocalPlane(new Position((south + north) / 2, Math.IEEERemainder(first.Longitude + ((east.Min() + east.Max()) / 2), 360)));
        var error = new[] { south, north }.Select(l => new LocalPlane(new Position(l, 0)))
            .Max(p => Math.Max(Math.Abs((p.MetresPerDegreeEast / about.MetresPerDegreeEast) - 1), Math.Abs((p.MetresPerDegreeNorth / about.MetresPerDegreeNorth) - 1)));
        return new LayoutPlane(about, error);
    }

    /// <summary>Metres on the plane that are certainly no fewer than so many on the ground.</summary>
    internal double AtLeast(double metres) => metres * (1 + (2 * ErrorShare));

    internal Spot At(Position place) => new(Math.IEEERemainder(place.Longitude - centre.Longitude, 360) * eastM, (place.Latitude - centre.Latitude) * northM);

    /// <summary>The place of a point, rounded as it will be written.</summary>
    internal Position Place(Spot spot)
    {
        var longitude = centre.Longitude + (spot.EastM / eastM);
        return new Position(Math.Round(centre.Latitude + (spot.NorthM / northM), Decimals), Math.Round(longitude is >= -180 and <= 180 ? longitude : Math.IEEERemainder(longitude, 360), Decimals));
    }
}
