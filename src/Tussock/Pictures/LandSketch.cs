using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A pasture of a sketch.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Lines">Its lines with their nests.</param>
public sealed record SketchPasture(string Name, ImmutableArray<NestRow> Lines);

/// <summary>The lines and their nests without places, for a page that may be shared: each pasture a frame, each line a straight row, whatever way it really runs.</summary>
public static class LandSketch
{
    private const double RowHeight = 13;
    private const double Pitch = 13;
    private const double NameRoom = 40;
    private const double Gap = 12;

    /// <summary>Draws the sketch.</summary>
    /// <param name="pastures">Pastures in the order in which they are drawn, two beside each other.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<SketchPasture> pastures, Catalogue words, double width = Svg.ColumnWidth)
    {
        var column = (width - Gap) / 2;
        var across = Math.Max(1, (int)((column - NameRoom - 12) / Pitch));
        var heights = pastures.Chunk(2).Select(pair => pair.Max(p => HeightOf(p, across))).ToArray();
        var svg = new Svg(width, heights.Sum(h => h + Gap) + 34, words.Say("pictures.sketch_title"), words.Say("pictures.sketch_description"));
        var y = 0.5;
        for (var i = 0; i < pastures.Count; i++)
        {
            if (i > 0 && i % 2 == 0) y += heights[(i / 2) - 1] + Gap;
            Pasture(svg, pastures[i], (i % 2 * (column + Gap)) + 0.5, y, (column - 1, heights[i / 2]), across);
        }

        var foot = heights.Sum(h => h + Gap) + 14;
        MapMark.Key(svg, words, 0, foot);
        svg.Text(0, foot + 14, words.Say("pictures.sketch_note"), Svg.SmallSize);
        return svg.ToString();
    }

    private static double HeightOf(SketchPasture pasture, int across) => 24 + (pasture.Lines.Sum(l => Math.Max(1, (l.Nests.Length + across - 1) / across)) * RowHeight);

    private static void Pasture(Svg svg, SketchPasture pasture, double x, double y, (double Wide, double High) size, int across)
    {
        svg.Rect(x, y, size.Wide, size.High, new Paint(null, Ink.Grid, 0.9));
        svg.Text(x + 6, y + 13, Svg.Cut(pasture.Name, size.Wide - 12), Svg.TextSize, isBold: true);
        var row = y + 18;
        foreach (var line in pasture.Lines)
        {
            svg.Text(x + 6, row + 9.5, Svg.Cut(line.Name, NameRoom - 4, Svg.SmallSize), Svg.SmallSize);
            for (var i = 0; i < line.Nests.Length; i++) MapMark.Draw(svg, line.Nests[i], x + NameRoom + 8 + (i % across * Pitch), row + (i / across * RowHeight) + 6.5, 7.5);
            row += Math.Max(1, (line.Nests.Length + across - 1) / across) * RowHeight;
        }
    }
}
