using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Layout;

/// <summary>A piece of land as lines see it: its edges, and what they keep away from.</summary>
/// <remarks>
/// A line is inside when its start is and no side comes nearer than the margin. The margin is 5 cm at least: places are rounded by up to 8 mm and distances
/// on the plane are computed to far less than 1 mm, so that no decision hangs on a last digit and no exact predicate is needed.
/// </remarks>
internal sealed class Ground
{
    /// <summary>Least distance from every edge, in metres.</summary>
    internal const double MarginM = 0.05;

    private const double BesideM = 0.02;
    private readonly EdgeSet edges, fences;
    private readonly List<(EdgeSet Edges, bool IsArea, double KeepM)> zones = [];
    private readonly double edgeM;

    internal Ground(LayoutArea area, IEnumerable<LayoutZone> zones, double edgeM)
    {
        var rings = area.Boundary.Rings.Where(r => r.Length >= 3).ToArray();
        IsLand = rings.Length > 0;
        if (!IsLand)
        {
            edges = fences = EdgeSet.OfRings([]);
            (Plane, Frame) = (LayoutPlane.Over([new Position(0, 0)]), Frame.Round([[new Spot(0, 0)]]));
            return;
        }

        Plane = LayoutPlane.Over([.. rings.SelectMany(r => r)]);
        var onPlane = rings.Select(r => r.Select(Plane.At).ToImmutableArray()).ToArray();
        edges = EdgeSet.OfRings(onPlane);
        fences = rings.Any(r => r.Any(IsOnDateLine)) ? edges.Where(IsFence) : edges;
        Frame = Frame.Round(onPlane);
        this.edgeM = Plane.AtLeast(edgeM) + MarginM;
        foreach (var zone in zones)
        {
            var paths = zone.Paths.Select(p => p.Select(Plane.At).ToImmutableArray());
            this.zones.Add((zone.IsArea ? EdgeSet.OfRings(paths) : EdgeSet.OfLines(paths), zone.IsArea, Plane.AtLeast(zone.KeepM) + MarginM));
        }
    }

    internal LayoutPlane Plane { get; }

    internal Frame Frame { get; }

    /// <summary>Whether there is a ring at all.</summary>
    internal bool IsLand { get; }

    /// <summary>Whether one plane is good enough for it.</summary>
    internal bool IsFlatEnough => Plane.ErrorShare <= LayoutPlane.MostErrorShare;

    /// <summary>Whether a point is a place for a start: on the land and away from everything that lines keep away from.</summary>
    internal bool Holds(Spot at) => IsLand && edges.Contains(at) && IsClear(at, at);

    /// <summary>Whether a line through some corners, the first of which the land holds, stays on it all the way.</summary>
    internal bool HoldsLine(ReadOnlySpan<Spot> corners)
    {
        for (var i = 1; i < corners.Length; i++) if (!IsClear(corners[i - 1], corners[i])) return false;
        return true;
    }

    private static bool IsOnDateLine(Position corner) => Math.Abs(corner.Longitude) == 180;

    /// <summary>Whether a side bounds the land: RFC 7946 has areas cut in two at 180°, and a cut is no fence, because what lies on its two sides is the same.</summary>
    private bool IsFence(Spot from, Spot to)
    {
        if (!IsOnDateLine(Plane.Place(from)) || !IsOnDateLine(Plane.Place(to))) return true;
        var (east, north) = ((from.EastM + to.EastM) / 2, (from.NorthM + to.NorthM) / 2);
        return edges.Contains(new Spot(east - BesideM, north)) != edges.Contains(new Spot(east + BesideM, north));
    }

    private bool IsClear(Spot from, Spot to)
    {
        if (fences.IsNear(from, to, edgeM)) return false;
        foreach (var (zone, isArea, keepM) in zones) if ((isArea && zone.Contains(from)) || zone.IsNear(from, to, keepM)) return false;
        return true;
    }
}
