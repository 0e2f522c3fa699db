using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One culprit class to draw.</summary>
/// <param name="Name">Its name for people.</param>
/// <param name="Seen">Losses that cameras saw it take.</param>
/// <param name="Share">Its share of losses and limits, in [0, 1].</param>
public sealed record CulpritRow(string Name, int Seen, Dot Share);

/// <summary>Who took the nests that cameras watched: shares with their intervals.</summary>
public static class CulpritBars
{
    private const double RowHeight = 20;
    private const double NumberRoom = 96;

    /// <summary>Draws the bars.</summary>
    /// <param name="rows">Classes, the commonest first; none gives a picture that says so.</param>
    /// <param name="confirmed">Losses that cameras saw.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<CulpritRow> rows, int confirmed, Catalogue words, double width = Svg.ColumnWidth)
    {
        var bottom = 6 + (Math.Max(1, rows.Count) * RowHeight);
        var svg = new Svg(width, bottom + 20, words.Say(Phrase.Of("pictures.culprits_title", ("losses", confirmed))));
        var nameRoom = Rows.NameRoom(rows.Select(r => r.Name), width);
        var scale = new Scale(0, 1, nameRoom + 30, width - NumberRoom - 6);
        Rows.PercentAxis(svg, scale, 2, bottom);
        if (rows.Count == 0) svg.Text(scale.FromAt + 4, 20, words.Say("pictures.no_groups"));
        for (var i = 0; i < rows.Count; i++)
        {
            var (row, y) = (rows[i], 6 + ((i + 0.5) * RowHeight));
            svg.Text(0, y + 3.5, Svg.Cut(row.Name, nameRoom - 6));
            svg.Text(nameRoom + 20, y + 3.5, Numbers.Whole(row.Seen), Svg.TextSize, Anchor.End);
            if (row.Share.Value is { } share) svg.Rect(scale.FromAt, y - 6, scale.At(share) - scale.FromAt, 12, new Paint("#F6C9A8", Ink.Eaten, 0.8));
            Whiskers.Draw(svg, scale, y, row.Share with { Value = null }, DotShape.Disc);
            svg.Text(width - NumberRoom + 2, y + 3.5, Rows.Percent(row.Share), Svg.SmallSize);
        }

        return svg.ToString();
    }
}
