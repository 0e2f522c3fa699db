using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One row of a chart of shares.</summary>
/// <param name="Name">Name of the group.</param>
/// <param name="Counts">Counts behind it, for example "26 of 78"; empty: none.</param>
/// <param name="Share">Share and limits, in [0, 1].</param>
/// <param name="Shape">Kind of group.</param>
/// <param name="Why">What is said where there is no share.</param>
public sealed record ShareRow(string Name, string Counts, Dot Share, DotShape Shape = DotShape.Disc, string Why = "");

/// <summary>Shares of groups with their intervals against the benchmark: dot, whiskers, and the numbers beside them.</summary>
public static class ShareChart
{
    private const double RowHeight = 21;
    private const double NumberRoom = 96;
    private const double Top = 24;

    /// <summary>Draws the chart.</summary>
    /// <param name="title">What the shares are, for example "Whole after 28 days".</param>
    /// <param name="rows">Groups, from the top; none gives a picture that says so.</param>
    /// <param name="benchmark">The benchmark, in [0, 1]; null: none is drawn.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(string title, IReadOnlyList<ShareRow> rows, double? benchmark, Catalogue words, double width = Svg.ColumnWidth)
    {
        var bottom = Top + (Math.Max(1, rows.Count) * RowHeight);
        var svg = new Svg(width, bottom + 30, title, words.Say(Phrase.Of("pictures.share_description", ("groups", rows.Count))));
        var nameRoom = Rows.NameRoom(rows.Select(r => r.Name), width);
        var countRoom = rows.Count == 0 ? 0 : rows.Max(r => Svg.TextWidth(r.Counts, Svg.SmallSize)) + 8;
        var scale = new Scale(0, 1, nameRoom + countRoom + 6, width - NumberRoom - 6);
        Rows.PercentAxis(svg, scale, Top - 4, bottom);
        if (rows.Count == 0) svg.Text(scale.FromAt + 4, Top + 14, words.Say("pictures.no_groups"));
        for (var i = 0; i < rows.Count; i++)
        {
            var (row, y) = (rows[i], Top + ((i + 0.5) * RowHeight));
            svg.Text(0, y + 3.5, Svg.Cut(row.Name, nameRoom - 6));
            svg.Text(nameRoom + countRoom - 4, y + 3.5, row.Counts, Svg.SmallSize, Anchor.End);
            if (row.Share.Value is null && row.Why.Length > 0) svg.Text(scale.FromAt + 4, y + 3.5, Svg.Cut(row.Why, scale.ToAt - scale.FromAt - 8, Svg.SmallSize), Svg.SmallSize);
            else Whiskers.Draw(svg, scale, y, row.Share, row.Shape);
            svg.Text(width - NumberRoom + 2, y + 3.5, Rows.Percent(row.Share), Svg.SmallSize);
        }

        if (benchmark is { } b) Rows.Benchmark(svg, scale.At(b), Top - 4, bottom, words.Say(Phrase.Of("pictures.benchmark", ("value", b))), (0, width));
        return svg.ToString();
    }
}
