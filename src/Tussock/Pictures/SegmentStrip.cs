using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One line of segments to draw.</summary>
/// <param name="Name">Name of the line.</param>
/// <param name="PerAcre">Clumps per acre of each segment, in the order of the line; null: not counted.</param>
public sealed record SegmentRow(string Name, ImmutableArray<double?> PerAcre);

/// <summary>Clump density by segment along each line, as tinted cells: the darker the thicker; those that reach the benchmark are hatched.</summary>
/// <remarks>A picture without interval: a segment holds few clumps, so some lie above and some below by chance alone.</remarks>
public static class SegmentStrip
{
    private const double CellHeight = 15;
    private const double Top = 16;
    private static readonly string[] Tints = ["#FFFFFF", "#DCE9F2", "#A9CCE3", "#6FA8CF", "#3A7FB0"];

    /// <summary>Draws the strips.</summary>
    /// <param name="rows">Lines, from the top.</param>
    /// <param name="benchmarkPerAcre">The benchmark in clumps per acre, above 0.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<SegmentRow> rows, double benchmarkPerAcre, Catalogue words, double width = Svg.ColumnWidth)
    {
        var bottom = Top + (Math.Max(1, rows.Count) * (CellHeight + 3));
        var svg = new Svg(width, bottom + 44, words.Say("pictures.segments_title"), words.Say(Phrase.Of("pictures.segments_description", ("benchmark", benchmarkPerAcre))));
        var nameRoom = Rows.NameRoom(rows.Select(r => r.Name), width);
        var most = Math.Max(1, rows.Select(r => r.PerAcre.Length).DefaultIfEmpty(0).Max());
        var cell = Math.Min(34, (width - nameRoom - 4) / most);
        for (var i = 0; i < most && cell > 14 && rows.Count > 0; i++) svg.Text(nameRoom + ((i + 0.5) * cell), Top - 5, Numbers.Whole(i + 1), Svg.SmallSize, Anchor.Middle);
        if (rows.Count == 0) svg.Text(0, Top + 12, words.Say("pictures.no_groups"));
        for (var r = 0; r < rows.Count; r++)
        {
            var y = Top + (r * (CellHeight + 3));
            svg.Text(0, y + 11, Svg.Cut(rows[r].Name, nameRoom - 6));
            for (var i = 0; i < rows[r].PerAcre.Length; i++) Cell(svg, nameRoom + (i * cell), y, cell - 1.5, rows[r].PerAcre[i], benchmarkPerAcre);
        }

        Key(svg, bottom + 8, benchmarkPerAcre, words);
        return svg.ToString();
    }

    /// <summary>Which of the five tints a density has, 0 the lightest: steps of half the benchmark.</summary>
    /// <param name="perAcre">Clumps an acre, 0 or more.</param>
    /// <param name="benchmarkPerAcre">The benchmark, above 0.</param>
    public static int TintOf(double perAcre, double benchmarkPerAcre) => (int)Math.Clamp(Math.Floor(perAcre / benchmarkPerAcre * 2), 0, Tints.Length - 1);

    private static void Cell(Svg svg, double x, double y, double wide, double? perAcre, double benchmark)
    {
        if (perAcre is not { } density)
        {
            svg.Rect(x, y, wide, CellHeight, new Paint(null, Ink.Grid, 0.8, "2 2"));
            svg.Line(x, y, x + wide, y + CellHeight, Paint.Line(Ink.Grid, 0.8));
            return;
        }

        svg.Rect(x, y, wide, CellHeight, new Paint(Tints[TintOf(density, benchmark)], Ink.Dark, 0.6));
        if (density >= benchmark) svg.Hatch(x, y, wide, CellHeight, 5, Paint.Line(Ink.Dark, 0.7));
    }

    private static void Key(Svg svg, double y, double benchmark, Catalogue words)
    {
        var x = 0.5;
        for (var i = 0; i < Tints.Length; i++)
        {
            var (from, to) = (i * benchmark / 2, (i + 1) * benchmark / 2);
            var (low, high) = (Numbers.Fixed(words.Units.Density(from), 0), Numbers.Fixed(words.Units.Density(to), 0));
            var text = i == Tints.Length - 1 ? low + "+" : low + "–" + high;
            Cell(svg, x, y, 18, from, benchmark);
            svg.Text(x + 22, y + 11, text, Svg.SmallSize);
            x += 34 + Svg.TextWidth(text, Svg.SmallSize);
        }

        svg.Text(x, y + 11, words.Say("pictures.clumps_an_area"), Svg.SmallSize);
        Cell(svg, 0.5, y + 20, 18, benchmark, benchmark);
        var above = words.Say("pictures.at_benchmark");
        svg.Text(22, y + 31, above, Svg.SmallSize);
        var second = 40 + Svg.TextWidth(above, Svg.SmallSize);
        Cell(svg, second, y + 20, 18, null, benchmark);
        svg.Text(second + 22, y + 31, words.Say("pictures.not_counted"), Svg.SmallSize);
    }
}
