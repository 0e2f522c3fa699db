using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One band of the leading chance.</summary>
/// <param name="From">Lower edge, in [0, 1].</param>
/// <param name="To">Upper edge.</param>
/// <param name="Nests">Nests in it.</param>
/// <param name="MeanChance">Mean of their leading chances.</param>
/// <param name="Right">How often the leading class was right, with limits.</param>
public sealed record CalibrationRow(double From, double To, int Nests, double MeanChance, Dot Right);

/// <summary>How often beliefs were right beside how sure they were: a band a row.</summary>
public static class CalibrationChart
{
    private const double RowHeight = 21, NumberRoom = 96, Top = 8;

    /// <summary>Draws the chart.</summary>
    /// <param name="rows">Bands, the least sure first; none gives a picture that says so.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<CalibrationRow> rows, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(words);
        var bottom = Top + (Math.Max(1, rows.Count) * RowHeight);
        var svg = new Svg(width, bottom + 20, words.Say("pictures.calibration_title"), words.Say(Phrase.Of("pictures.calibration_description", ("bands", rows.Count))));
        string[] names = [.. rows.Select(r => Numbers.PercentRange(r.From, r.To))], counts = [.. rows.Select(r => words.Say(Phrase.Of("pictures.calibration_nests", ("nests", r.Nests))))];
        var nameRoom = Rows.NameRoom(names, width);
        var scale = new Scale(0, 1, nameRoom + 8 + counts.Select(c => Svg.TextWidth(c, Svg.SmallSize)).DefaultIfEmpty(0).Max() + 6, width - NumberRoom - 6);
        Rows.PercentAxis(svg, scale, Top - 4, bottom);
        if (rows.Count == 0) svg.Text(scale.FromAt + 4, Top + 14, words.Say("pictures.no_groups"));
        for (var i = 0; i < rows.Count; i++)
        {
            var y = Top + ((i + 0.5) * RowHeight);
            svg.Text(0, y + 3.5, names[i]);
            svg.Text(scale.FromAt - 6, y + 3.5, counts[i], Svg.SmallSize, Anchor.End);
            Whiskers.Draw(svg, scale, y, rows[i].Right, DotShape.Disc);
            svg.Line(scale.At(rows[i].MeanChance), y - 8, scale.At(rows[i].MeanChance), y + 8, Paint.Line(Ink.Eaten, 2.4));
            svg.Text(width - NumberRoom + 2, y + 3.5, Rows.Percent(rows[i].Right), Svg.SmallSize);
        }

        return svg.ToString();
    }
}
