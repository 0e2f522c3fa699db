using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Exchange.Places;

/// <summary>Rings of areas: closed, turned the right way, put together to polygons, and cut where they cross the date line.</summary>
/// <remarks>Turned as RFC 7946 section 3.1.6 has it: outer rings counterclockwise, holes clockwise; a shapefile's writer turns them again.</remarks>
internal static class Rings
{
    /// <summary>A closed ring without corners that repeat the one before; null when fewer than three different corners are left.</summary>
    internal static ImmutableArray<Position>? Closed(IEnumerable<Position> corners)
    {
        var ring = ImmutableArray.CreateBuilder<Position>();
        foreach (var corner in corners) if (ring.Count == 0 || ring[^1] != corner) ring.Add(corner);
        if (ring.Count > 1 && ring[0] == ring[^1]) ring.RemoveAt(ring.Count - 1);
        if (ring.Count < 3) return null;
        ring.Add(ring[0]);
        return ring.ToImmutable();
    }

    /// <summary>Twice the area inside a closed ring in square degrees, positive when it runs counterclockwise.</summary>
    internal static double Turn(ImmutableArray<Position> ring)
    {
        var sum = 0.0;
        for (var i = 1; i < ring.Length; i++) sum += ((ring[i - 1].Longitude - ring[0].Longitude) * (ring[i].Latitude - ring[0].Latitude)) - ((ring[i].Longitude - ring[0].Longitude) * (ring[i - 1].Latitude - ring[0].Latitude));
        return sum;
    }

    /// <summary>The ring, turned if it runs the other way.</summary>
    internal static ImmutableArray<Position> Turned(ImmutableArray<Position> ring, bool isCounterclockwise) =>
        Turn(ring) < 0 == isCounterclockwise ? [.. ring.Reverse()] : ring;

    /// <summary>A polygon of an outer ring and its holes, cut in two where it crosses the date line.</summary>
    internal static IEnumerable<MapPolygon> Polygon(ImmutableArray<Position> outer, IEnumerable<ImmutableArray<Position>> holes)
    {
        if (!DateLine.Crosses(outer)) return [Directed(outer, holes)];
        return DateLine.Cut(outer, holes).Select(p => Directed(p.Outer, p.Holes));
    }

    /// <summary>Polygons of rings of which nobody says what is a hole: a ring inside an odd number of others is one.</summary>
    internal static ImmutableArray<MapPolygon> Assembled(IReadOnlyList<ImmutableArray<Position>> rings)
    {
        var inside = rings.Select((_, i) => Enumerable.Range(0, rings.Count).Where(k => k != i && IsInside(rings[i], rings[k])).ToArray()).ToArray();
        var polygons = ImmutableArray.CreateBuilder<MapPolygon>();
        for (var i = 0; i < rings.Count; i++)
        {
            if (inside[i].Length % 2 == 1) continue;
            var holes = Enumerable.Range(0, rings.Count).Where(k => inside[k].Length == inside[i].Length + 1 && inside[k].Contains(i)).Select(k => rings[k]);
            polygons.AddRange(Polygon(rings[i], holes));
        }

        return polygons.ToImmutable();
    }

    private static MapPolygon Directed(ImmutableArray<Position> outer, IEnumerable<ImmutableArray<Position>> holes) =>
        new(Turned(outer, true), [.. holes.Select(h => Turned(h, false))]);

    /// <summary>Whether the middle of a ring's first side lies inside another ring: rings may touch in corners, never cross.</summary>
    private static bool IsInside(ImmutableArray<Position> ring, ImmutableArray<Position> other)
    {
        var middle = new Position((ring[0].Latitude + ring[1].Latitude) / 2, (ring[0].Longitude + ring[1].Longitude) / 2);
        return new Boundary([other]).Contains(middle);
    }
}
