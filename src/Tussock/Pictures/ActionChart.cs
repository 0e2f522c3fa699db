using Tussock.Actions;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Survival by year on land with an action and on land without, and when the action came.</summary>
public static class ActionChart
{
    private const double RowHeight = 17, YearGap = 9, NumberRoom = 96, Top = 24, MarkRoom = 15;

    /// <summary>Draws the chart.</summary>
    /// <param name="contrast">The contrast.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <remarks>A disc is land that has the action in some of the years, a square land that never has; a dashed line stands before the first year with the action, one for each start.</remarks>
    public static string Draw(BeforeAfterControl contrast, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(contrast);
        var starts = contrast.Treated.Select(t => t.FromYear).ToHashSet(StringComparer.Ordinal);
        var bottom = Top + contrast.ByYear.Sum(y => (2 * RowHeight) + YearGap + (starts.Contains(y.Year) ? MarkRoom : 0));
        var svg = new Svg(width, bottom + 30, words.Say("action.picture"), words.Say(Phrase.Of("action.picture_description", ("kind", Phrase.Of("years.event." + contrast.Kind)), ("years", contrast.ByYear.Length))));
        string with = words.Say("action.picture_with"), without = words.Say("action.picture_without");
        var yearRoom = Rows.NameRoom(contrast.ByYear.Select(y => y.Year), width);
        var nameRoom = yearRoom + Math.Max(Svg.TextWidth(with, Svg.SmallSize), Svg.TextWidth(without, Svg.SmallSize)) + 10;
        var scale = new Scale(0, 1, nameRoom + 6, width - NumberRoom - 6);
        Rows.PercentAxis(svg, scale, Top - 4, bottom);
        var y = Top;
        foreach (var year in contrast.ByYear)
        {
            if (starts.Contains(year.Year))
            {
                svg.Line(0, y + MarkRoom - 3, width - NumberRoom, y + MarkRoom - 3, Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
                svg.Text(0, y + MarkRoom - 7, words.Say(Phrase.Of("action.picture_from", ("kind", Phrase.Of("years.event." + contrast.Kind)))), Svg.SmallSize);
                y += MarkRoom;
            }

            svg.Text(0, y + RowHeight + 3.5, Svg.Cut(year.Year, yearRoom - 4));
            Row(with, year.With, DotShape.Disc, y + (RowHeight / 2));
            Row(without, year.Without, DotShape.Square, y + (1.5 * RowHeight));
            y += (2 * RowHeight) + YearGap;
        }

        return svg.ToString();

        void Row(string name, Estimate? share, DotShape shape, double at)
        {
            svg.Text(yearRoom, at + 3, name, Svg.SmallSize);
            var dot = share is null ? default : Dot.Of(share);
            Whiskers.Draw(svg, scale, at, dot, shape);
            svg.Text(width - NumberRoom + 2, at + 3.5, Rows.Percent(dot), Svg.SmallSize);
        }
    }
}
