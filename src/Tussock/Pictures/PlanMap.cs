using Tussock.Land;
using Tussock.Layout;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A planned layout as a map: land, zones, lines with their corners.</summary>
public static class PlanMap
{
    /// <summary>Draws it.</summary>
    /// <param name="request">The land.</param>
    /// <param name="drawn">The lines.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <param name="highest">Height in points that the land may take.</param>
    public static string Draw(LayoutRequest request, DrawnLayout drawn, Catalogue words, double width = Svg.ColumnWidth, double highest = 430) => LandMap.Draw(
        new MapContent
        {
            Pastures = [.. request.Areas.SelectMany(a => a.Boundary.Rings.Select((ring, i) => new MapArea(i > 0 ? "" : a.Stratum.Length > 0 ? a.Stratum : a.Pasture, ring)))],
            Zones = [.. request.Zones.Where(z => z.IsArea).SelectMany(z => z.Paths.Select(p => new MapArea("", p)))],
            Lines = [.. drawn.Lines.SelectMany(Legs), .. request.Zones.Where(z => !z.IsArea).SelectMany(z => z.Paths.SelectMany(p => Pieces("", [.. p])))],
            HasKey = false,
        },
        words,
        width,
        highest);

    private static IEnumerable<MapLine> Legs(PlannedLine line) =>
        Pieces(line.Name, line.IsFormer ? [.. line.Flags] : [line.Flags[0], .. line.Corners.Select(c => line.Flags[c.Flag]), line.Flags[^1]]);

    private static IEnumerable<MapLine> Pieces(string name, Position[] path) => path.Zip(path.Skip(1)).Select((leg, i) => new MapLine(i == 0 ? name : "", leg.First, leg.Second));
}
