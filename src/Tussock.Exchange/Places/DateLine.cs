using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Exchange.Places;

/// <summary>Cuts lines and areas at 180° of longitude, so that no part of one runs the long way round the earth.</summary>
/// <remarks>A side that is longer than half the circle is taken to go the short way. A ring round a pole is left as it is.</remarks>
/// <source>RFC 7946, section 3.1.9: a geometry that crosses the antimeridian should be cut in two, neither part crossing it.</source>
internal static class DateLine
{
    /// <summary>Whether one of the sides crosses the date line.</summary>
    internal static bool Crosses(ImmutableArray<Position> points)
    {
        for (var i = 1; i < points.Length; i++) if (Math.Abs(points[i].Longitude - points[i - 1].Longitude) > 180) return true;
        return false;
    }

    /// <summary>The pieces of a line.</summary>
    internal static ImmutableArray<ImmutableArray<Position>> Cut(ImmutableArray<Position> line)
    {
        var pieces = ImmutableArray.CreateBuilder<ImmutableArray<Position>>();
        var piece = ImmutableArray.CreateBuilder<Position>();
        piece.Add(line[0]);
        for (var i = 1; i < line.Length; i++)
        {
            var (from, to) = (line[i - 1], line[i]);
            if (Math.Abs(to.Longitude - from.Longitude) > 180)
            {
                var edge = from.Longitude > 0 ? 180.0 : -180.0;
                var end = to.Longitude + (2 * edge);
                var share = end == from.Longitude ? 0 : (edge - from.Longitude) / (end - from.Longitude);
                var latitude = from.Latitude + (share * (to.Latitude - from.Latitude));
                if (piece[^1] != new Position(latitude, edge)) piece.Add(new Position(latitude, edge));
                if (piece.Count > 1) pieces.Add(piece.ToImmutable());
                piece.Clear();
                piece.Add(new Position(latitude, -edge));
            }

            if (piece[^1] != to) piece.Add(to);
        }

        if (piece.Count > 1) pieces.Add(piece.ToImmutable());
        return pieces.ToImmutable();
    }

    /// <summary>The two sides of an area; the area itself when it goes round a pole.</summary>
    internal static IEnumerable<(ImmutableArray<Position> Outer, ImmutableArray<ImmutableArray<Position>> Holes)> Cut(ImmutableArray<Position> outer, IEnumerable<ImmutableArray<Position>> holes)
    {
        var whole = Unrolled(outer, outer[0].Longitude);
        var others = holes.Select(h => Unrolled(h, whole.Average(p => p.Longitude))).ToArray();
        if (whole[0].Longitude != whole[^1].Longitude) return [(outer, [.. holes])];
        var edge = whole.Max(p => p.Longitude) > 180 ? 180.0 : -180.0;
        return Of(true).Concat(Of(false));

        IEnumerable<(ImmutableArray<Position>, ImmutableArray<ImmutableArray<Position>>)> Of(bool isWest)
        {
            if (Side(whole, edge, isWest) is { } side) yield return (side, [.. others.Select(h => Side(h, edge, isWest)).OfType<ImmutableArray<Position>>()]);
        }
    }

    /// <summary>The ring with longitudes that go on beyond 180° instead of jumping, its first corner near a longitude.</summary>
    private static Position[] Unrolled(ImmutableArray<Position> ring, double near)
    {
        var unrolled = new Position[ring.Length];
        var before = near;
        for (var i = 0; i < ring.Length; i++)
        {
            before += Math.IEEERemainder(ring[i].Longitude - before, 360);
            unrolled[i] = ring[i] with { Longitude = Math.Abs(before - ring[i].Longitude) < 180 ? ring[i].Longitude : ring[i].Longitude + (before > ring[i].Longitude ? 360 : -360) };
        }

        return unrolled;
    }

    /// <summary>What of a ring lies on one side of a meridian (Sutherland and Hodgman's way), turned back into [−180, 180].</summary>
    private static ImmutableArray<Position>? Side(Position[] ring, double edge, bool isWest)
    {
        var side = new List<Position>();
        for (var i = 1; i < ring.Length; i++)
        {
            var (from, to) = (ring[i - 1], ring[i]);
            var (isFrom, isTo) = (IsIn(from), IsIn(to));
            if (isFrom) side.Add(from);
            if (isFrom != isTo) side.Add(new Position(from.Latitude + ((edge - from.Longitude) / (to.Longitude - from.Longitude) * (to.Latitude - from.Latitude)), edge));
        }

        var turn = edge > 0 ? (isWest ? 0 : -360) : isWest ? 360 : 0;
        return Rings.Closed(side.Select(p => p with { Longitude = p.Longitude + turn }));

        bool IsIn(Position p) => isWest ? p.Longitude <= edge : p.Longitude >= edge;
    }
}
