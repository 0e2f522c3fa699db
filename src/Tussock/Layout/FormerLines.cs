using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Layout;

/// <summary>The lines of a former season by their lasting names.</summary>
public static class FormerLines
{
    private const double UsualSteps = 50;

    /// <summary>The lines that have places to be found by.</summary>
    /// <param name="season">The former season. Of two transects on one line the first in the season's order counts.</param>
    /// <returns>Lines by name, in ordinal order: through their flags where every station has one, else from start to end, else from the start along the bearing.</returns>
    public static ImmutableArray<FormerLine> Of(Season season)
    {
        var stations = season.Nests.ToLookup(n => n.Transect);
        return [.. season.Transects.GroupBy(t => t.Line, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (g.Key, Transect: g.First())).Select(l => (l.Key, l.Transect, Path: Path(l.Transect, [.. stations[l.Transect].OrderBy(n => n.Number)])))
            .Where(l => l.Path.Length > 1).Select(l => new FormerLine(l.Key, l.Transect.Pasture.Property, l.Transect.Pasture.Name, l.Path))];
    }

    private static ImmutableArray<Position> Path(Transect transect, Nest[] stations)
    {
        if (transect.Start is not { } start) return [];
        if (stations.Length > 0 && Array.TrueForAll(stations, n => n.Flag is not null)) return [start, .. stations.Select(n => n.Flag!.Value)];
        if (transect.End is { } end) return [start, end];
        if (transect is not { BearingTrueDeg: { } bearing, StepM: { } step }) return [];
        var way = Offset.Along(bearing, Math.Max(1, stations.Length) * step * (transect.StepsBetween ?? UsualSteps));
        return [start, new LocalPlane(start).Place(way.EastM, way.NorthM)];
    }
}
