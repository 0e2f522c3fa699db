using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Measures;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A boundary on a map: a pasture, or a zone such as water.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Ring">Corners in order; the last may repeat the first.</param>
public sealed record MapArea(string Name, ImmutableArray<Position> Ring);

/// <summary>A line on a map.</summary>
/// <param name="Name">Its name; empty: none is written, as at the further legs of a line with corners.</param>
/// <param name="Start">Start flag.</param>
/// <param name="End">Last flag.</param>
public sealed record MapLine(string Name, Position Start, Position End);

/// <summary>A nest on a map.</summary>
/// <param name="At">Its place.</param>
/// <param name="Mark">What became of it.</param>
public sealed record MapNest(Position At, NestMark Mark);

/// <summary>What a map shows. Anything may be empty.</summary>
public sealed record MapContent
{
    /// <summary>Pastures.</summary>
    public ImmutableArray<MapArea> Pastures { get; init; } = [];

    /// <summary>Zones: water, roads.</summary>
    public ImmutableArray<MapArea> Zones { get; init; } = [];

    /// <summary>Lines.</summary>
    public ImmutableArray<MapLine> Lines { get; init; } = [];

    /// <summary>Nests.</summary>
    public ImmutableArray<MapNest> Nests { get; init; } = [];

    /// <summary>Whether the marks of nests are explained under the map; default yes.</summary>
    public bool HasKey { get; init; } = true;

    /// <summary>Every place of it.</summary>
    internal IEnumerable<Position> Places => Pastures.Concat(Zones).SelectMany(p => p.Ring).Concat(Lines.SelectMany(l => (Position[])[l.Start, l.End])).Concat(Nests.Select(n => n.At));
}

/// <summary>A map of pastures, lines and nests by fate, drawn from the records alone: north arrow, scale bars in both systems, no tiles from outside.</summary>
/// <remarks>Equirectangular about the middle of what is shown. A nest far outside everything else (a slip of the pen) is left out of the frame: the frame is that of the areas, or of the lines where there are none.</remarks>
public static class LandMap
{
    private const double Margin = 14;
    private const double Foot = 46;
    private const double NestSpacingM = 36;
    private const double SmallestName = 6.5;

    /// <summary>Below this width the second scale bar stands under the first and the arrow beside them.</summary>
    private const double Narrow = 340;
    private const double LowerBar = 14;

    /// <summary>Draws the map.</summary>
    /// <param name="content">What is shown.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <param name="highest">Height in points that the land may take.</param>
    public static string Draw(MapContent content, Catalogue words, double width = Svg.ColumnWidth, double highest = 430)
    {
        if (!content.Places.Any()) return Empty(words, width);
        var sheet = new Sheet(content, width, highest);
        var svg = new Svg(width, sheet.Bottom + Foot + (width < Narrow ? LowerBar : 0), words.Say("pictures.map_title"), words.Say(Phrase.Of("pictures.map_description", ("pastures", content.Pastures.Length), ("lines", content.Lines.Length), ("nests", content.Nests.Length))));
        foreach (var pasture in content.Pastures) svg.Points(pasture.Ring.Select(sheet.At), true, new Paint(Ink.Paper, Ink.Dark, 1.3));
        foreach (var zone in content.Zones) svg.Points(zone.Ring.Select(sheet.At), true, new Paint(Ink.Water, Ink.Dark, 0.6));
        foreach (var line in content.Lines)
        {
            var (from, to) = (sheet.At(line.Start), sheet.At(line.End));
            svg.Line(from.X, from.Y, to.X, to.Y, Paint.Line(Ink.Grid, 0.7));
        }

        var size = Math.Clamp(NestSpacingM * sheet.PointsPerMetre * 0.8, 2.4, 8);
        foreach (var nest in content.Nests)
        {
            var (x, y) = sheet.At(nest.At);
            if (sheet.Holds(x, y)) MapMark.Draw(svg, nest.Mark, x, y, size);
        }

        var taken = content.Nests.Select(n => sheet.At(n.At)).Concat(Names(svg, sheet, content)).ToArray();
        foreach (var pasture in content.Pastures) Name(svg, sheet, pasture, taken);
        Furniture(svg, sheet, words, width, content.HasKey);
        return svg.ToString();
    }

    /// <summary>Writes the names of lines and gives the points that names of pastures must keep away from: along lines and at their names.</summary>
    private static List<(double X, double Y)> Names(Svg svg, Sheet sheet, MapContent content)
    {
        var taken = new List<(double X, double Y)>();
        var rings = content.Pastures.Concat(content.Zones).Select(a => a.Ring.Select(sheet.At).ToArray()).Where(r => r.Length > 0);
        var legs = rings.SelectMany(r => r.Zip(r.Skip(1).Append(r[0]))).Concat(content.Lines.Select(l => (sheet.At(l.Start), sheet.At(l.End)))).Concat(content.Nests.Select(n => (sheet.At(n.At), sheet.At(n.At))));
        var spots = new LineNameSpots(legs, content.Lines.Length, (sheet.Right, sheet.Bottom));
        var size = Math.Clamp(300 * sheet.PointsPerMetre / 4, 5, 8.5);
        foreach (var line in content.Lines)
        {
            var ((x1, y1), (x2, y2)) = (sheet.At(line.Start), sheet.At(line.End));
            for (var i = 0; i <= 6; i++) taken.Add((x1 + ((x2 - x1) * i / 6), y1 + ((y2 - y1) * i / 6)));
            if (line.Name.Length == 0) continue;
            var wide = Svg.TextWidth(line.Name, size);
            var (x, y) = spots.Beside((x1, y1), (x2, y2), wide, size);
            svg.Text(x, y + (size * 0.35), line.Name, size, Anchor.Middle);
            taken.AddRange([(x - (wide / 2), y), (x, y), (x + (wide / 2), y)]);
        }

        return taken;
    }

    private static string Empty(Catalogue words, double width)
    {
        var svg = new Svg(width, 30, words.Say("pictures.map_title"));
        svg.Text(0, 18, words.Say("pictures.no_places"));
        return svg.ToString();
    }

    /// <summary>The name where it is farthest from lines, nests and fences.</summary>
    private static void Name(Svg svg, Sheet sheet, MapArea area, (double X, double Y)[] taken)
    {
        if (area.Ring.IsEmpty) return;
        var ring = area.Ring.Select(sheet.At).ToArray();
        // A small pasture has a small name: it must leave room for those of its lines.
        var size = Math.Clamp((ring.Max(p => p.X) - ring.Min(p => p.X)) * 0.6 / Math.Max(1, Svg.TextWidth(area.Name, 1)), SmallestName, Svg.TextSize);
        var wide = Svg.TextWidth(area.Name, size) * 1.05;
        var (x, y) = EmptySpot.In(ring, taken, wide, size);
        // On a small map no spot is empty: the name keeps a white ground.
        svg.Rect(x - (wide / 2) - 1, y - (size * 0.5), wide + 2, size, new Paint(Ink.Paper));
        svg.Text(x, y + (size * 0.35), area.Name, size, Anchor.Middle, isBold: true);
    }

    private static void Furniture(Svg svg, Sheet sheet, Catalogue words, double width, bool hasKey)
    {
        var y = sheet.Bottom + 14;
        if (hasKey) MapMark.Key(svg, words, 0, y);
        var target = 110 / sheet.PointsPerMetre;
        var metres = Rounded(target);
        var isFar = Length.Miles(target) >= 0.25;
        var other = isFar ? Rounded(Length.Miles(target)) : Rounded(Length.Feet(target));
        if (words.Units.SaysMetric()) Bar(svg, 0, y + 22, metres * sheet.PointsPerMetre, metres >= 1000 ? Numbers.Short(metres / 1000) + " " + words.Say("units.kilometres") : Numbers.Short(metres) + " " + words.Say("units.metres"));
        var isSecond = words.Units.SaysMetric();
        if (words.Units.SaysUs()) Bar(svg, isSecond && width >= Narrow ? 200 : 0, y + 22 + (isSecond && width < Narrow ? LowerBar : 0), (isFar ? other * Length.MetresPerMile : Length.FromFeet(other)) * sheet.PointsPerMetre, Numbers.Short(other) + " " + words.Say(isFar ? "units.miles" : "units.feet"));
        var x = width - 14;
        if (width < Narrow) y += LowerBar;
        svg.Points([(x, y - 6), (x + 6, y + 14), (x, y + 9), (x - 6, y + 14)], true, new Paint(Ink.Dark));
        svg.Text(x, y + 25, words.Say("pictures.north"), Svg.TextSize, Anchor.Middle, isBold: true);
    }

    private static void Bar(Svg svg, double x, double y, double length, string text)
    {
        svg.Rect(x + 0.5, y, length / 2, 4, new Paint(Ink.Dark, Ink.Dark, 0.8));
        svg.Rect(x + 0.5 + (length / 2), y, length / 2, 4, new Paint(Ink.Paper, Ink.Dark, 0.8));
        svg.Text(x + length + 6, y + 5, text, Svg.SmallSize);
    }

    /// <summary>The greatest of 1, 2, 5 times a power of ten that is not above a length.</summary>
    private static double Rounded(double length)
    {
        var ten = Math.Pow(10, Math.Floor(Math.Log10(length)));
        return (length / ten) switch { >= 5 => 5, >= 2 => 2, _ => 1 } * ten;
    }

    /// <summary>Where places go on the sheet.</summary>
    private sealed class Sheet
    {
        private readonly LocalPlane plane;
        private readonly double west, north, shift;

        internal Sheet(MapContent content, double width, double highest)
        {
            var frame = (content.Pastures.IsEmpty ? content.Lines.IsEmpty ? content.Places : content.Lines.SelectMany(l => (Position[])[l.Start, l.End]) : content.Pastures.SelectMany(p => p.Ring)).ToArray();
            // From the first place the short way round: land on the date line is drawn in one piece.
            var ways = frame.Select(p => Math.IEEERemainder(p.Longitude - frame[0].Longitude, 360)).ToArray();
            plane = new LocalPlane(new Position((frame.Min(p => p.Latitude) + frame.Max(p => p.Latitude)) / 2, frame[0].Longitude + ((ways.Min() + ways.Max()) / 2)));
            var metres = frame.Select(p => plane.Metres(p)).ToArray();
            (west, north) = (metres.Min(m => m.EastM), metres.Max(m => m.NorthM));
            var (east, south) = (metres.Max(m => m.EastM), metres.Min(m => m.NorthM));
            PointsPerMetre = Math.Min((width - (2 * Margin)) / Math.Max(100, east - west), (highest - (2 * Margin)) / Math.Max(100, north - south));
            shift = (width - ((east - west) * PointsPerMetre)) / 2;
            Right = width;
            Bottom = (2 * Margin) + ((north - south) * PointsPerMetre);
        }

        internal double PointsPerMetre { get; }

        internal double Bottom { get; }

        internal double Right { get; }

        internal (double X, double Y) At(Position place)
        {
            var (east, up) = plane.Metres(place);
            return (shift + ((east - west) * PointsPerMetre), Margin + ((north - up) * PointsPerMetre));
        }

        internal bool Holds(double x, double y) => x >= 0 && x <= Right && y >= 0 && y <= Bottom;
    }
}
