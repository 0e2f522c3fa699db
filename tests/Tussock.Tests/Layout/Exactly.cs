using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Tests.Layout;

/// <summary>Slow and obvious geometry: inside and crossing in decimals on degrees, where the products are exact, and distances on the ellipsoid from every corner.</summary>
internal sealed class Exactly
{
    private readonly double middle;
    private readonly ImmutableArray<(Position From, Position To)> edges;

    internal Exactly(Boundary boundary)
    {
        middle = boundary.Rings[0][0].Longitude;
        edges = [.. boundary.Rings.SelectMany(r => r.Select((corner, i) => (corner, r[(i + 1) % r.Length])))];
    }

    /// <summary>Whether a line of several points lies inside and touches no side.</summary>
    internal bool Holds(ImmutableArray<Position> line)
    {
        if (!IsInside(line[0])) return false;
        for (var i = 1; i < line.Length; i++) foreach (var (from, to) in edges) if (Touches(At(line[i - 1]), At(line[i]), At(from), At(to))) return false;
        return true;
    }

    /// <summary>Least distance from a line to a side, in metres.</summary>
    internal double EdgeM(ImmutableArray<Position> line) => edges.Min(e => DistanceM(line, Cut(e.From, e.To)));

    /// <summary>Least distance between two lines that don't cross, in metres; 0 when they do.</summary>
    internal double ApartM(ImmutableArray<Position> one, ImmutableArray<Position> other)
    {
        for (var i = 1; i < one.Length; i++) for (var k = 1; k < other.Length; k++) if (Touches(At(one[i - 1]), At(one[i]), At(other[k - 1]), At(other[k]))) return 0;
        return DistanceM(one, other);
    }

    private static double DistanceM(ImmutableArray<Position> one, ImmutableArray<Position> other) => Math.Min(FromCorners(one, other), FromCorners(other, one));

    private static double FromCorners(ImmutableArray<Position> corners, ImmutableArray<Position> line) =>
        corners.Min(c => Enumerable.Range(1, line.Length - 1).Min(i => ToPiece(Offset.Between(c, line[i - 1]), Offset.Between(c, line[i]))));

    private static double ToPiece(Offset from, Offset to)
    {
        var (east, north) = (to.EastM - from.EastM, to.NorthM - from.NorthM);
        var squared = (east * east) + (north * north);
        var share = squared == 0 ? 0 : Math.Clamp(-((from.EastM * east) + (from.NorthM * north)) / squared, 0, 1);
        return new Offset(from.EastM + (share * east), from.NorthM + (share * north)).DistanceM;
    }

    /// <summary>A side is straight in degrees; in pieces of 50 m it is straight in metres too.</summary>
    private static ImmutableArray<Position> Cut(Position from, Position to)
    {
        var pieces = 1 + (int)(Offset.Between(from, to).DistanceM / 50);
        var east = Math.IEEERemainder(to.Longitude - from.Longitude, 360);
        return [.. Enumerable.Range(0, pieces + 1).Select(i => new Position(from.Latitude + ((to.Latitude - from.Latitude) * i / pieces), from.Longitude + (east * i / pieces)))];
    }

    private (decimal X, decimal Y) At(Position p)
    {
        // A 7-decimal degree is exact as a decimal; the turn across the date line is a whole 360.
        var longitude = (decimal)p.Longitude;
        if (p.Longitude - middle > 180) longitude -= 360;
        else if (p.Longitude - middle < -180) longitude += 360;
        return (longitude, (decimal)p.Latitude);
    }

    private bool IsInside(Position place)
    {
        var (inside, p) = (false, At(place));
        foreach (var (from, to) in edges)
        {
            var (a, b) = (At(from), At(to));
            if (a.Y > p.Y == b.Y > p.Y) continue;
            var turn = Turn(a, b, p);
            if (b.Y > a.Y ? turn > 0 : turn < 0) inside = !inside;
        }

        return inside;
    }

    private static bool Touches((decimal X, decimal Y) a, (decimal X, decimal Y) b, (decimal X, decimal Y) c, (decimal X, decimal Y) d) =>
        Math.Sign(Turn(a, b, c)) * Math.Sign(Turn(a, b, d)) <= 0 && Math.Sign(Turn(c, d, a)) * Math.Sign(Turn(c, d, b)) <= 0
        && Math.Max(a.X, b.X) >= Math.Min(c.X, d.X) && Math.Max(c.X, d.X) >= Math.Min(a.X, b.X) && Math.Max(a.Y, b.Y) >= Math.Min(c.Y, d.Y) && Math.Max(c.Y, d.Y) >= Math.Min(a.Y, b.Y);

    private static decimal Turn((decimal X, decimal Y) a, (decimal X, decimal Y) b, (decimal X, decimal Y) p) => ((b.X - a.X) * (p.Y - a.Y)) - ((b.Y - a.Y) * (p.X - a.X));
}
