using System.Collections.Immutable;

namespace Tussock.Land;

/// <summary>The boundary of a pasture: closed rings of corners; holes and separate pieces are rings too.</summary>
/// <param name="Rings">Rings with three corners or more; whether the first corner is repeated at the end means nothing.</param>
/// <remarks>A place is inside when a ray from it crosses the rings an odd number of times. May be shared between threads.</remarks>
public sealed record Boundary(ImmutableArray<ImmutableArray<Position>> Rings)
{
    /// <summary>Whether a place lies inside. A place on the line itself may be told either way.</summary>
    public bool Contains(Position place)
    {
        var inside = false;
        foreach (var ring in Rings)
        {
            var from = ring[^1];
            foreach (var to in ring)
            {
                if (from.Latitude > place.Latitude != to.Latitude > place.Latitude)
                {
                    var crossing = from.Longitude + ((place.Latitude - from.Latitude) / (to.Latitude - from.Latitude) * (to.Longitude - from.Longitude));
                    if (place.Longitude < crossing) inside = !inside;
                }

                from = to;
            }
        }

        return inside;
    }

    /// <summary>Metres from a place to the nearest point of the rings, 0 or more.</summary>
    public double DistanceM(Position place)
    {
        var nearest = double.PositiveInfinity;
        foreach (var ring in Rings)
        {
            var from = Offset.Between(place, ring[^1]);
            foreach (var corner in ring)
            {
                var to = Offset.Between(place, corner);
                nearest = Math.Min(nearest, ToSegment(from, to));
                from = to;
            }
        }

        return nearest;
    }

    private static double ToSegment(Offset from, Offset to)
    {
        var east = to.EastM - from.EastM;
        var north = to.NorthM - from.NorthM;
        var squared = (east * east) + (north * north);
        var share = squared == 0 ? 0 : Math.Clamp(-((from.EastM * east) + (from.NorthM * north)) / squared, 0, 1);
        return new Offset(from.EastM + (share * east), from.NorthM + (share * north)).DistanceM;
    }
}
