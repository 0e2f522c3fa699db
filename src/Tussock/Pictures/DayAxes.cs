using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>The axes of survival over days since set-out: shares at the left, days below, a mark at each check.</summary>
internal static class DayAxes
{
    /// <summary>Draws them.</summary>
    /// <param name="svg">The picture.</param>
    /// <param name="x">Days.</param>
    /// <param name="y">Survival, 0 to 1.</param>
    /// <param name="bottom">Where the axis of days lies.</param>
    /// <param name="checkDays">Days of the checks.</param>
    /// <param name="words">The language.</param>
    public static void Draw(Svg svg, Scale x, Scale y, double bottom, IReadOnlyList<double> checkDays, Catalogue words)
    {
        foreach (var tick in (ReadOnlySpan<double>)[0, 0.25, 0.5, 0.75, 1])
        {
            svg.Line(x.FromAt, y.At(tick), x.ToAt, y.At(tick), Paint.Line(Ink.Grid, 0.5));
            svg.Text(x.FromAt - 5, y.At(tick) + 3, Numbers.Percent(tick), Svg.SmallSize, Anchor.End);
        }

        foreach (var tick in Scale.Round(x.To, 7).Where(x.Holds))
        {
            svg.Line(x.At(tick), bottom, x.At(tick), bottom + 3, Paint.Line(Ink.Grid, 0.8));
            svg.Text(x.At(tick), bottom + 13, Numbers.Short(tick), Svg.SmallSize, Anchor.Middle);
        }

        foreach (var day in checkDays.Where(x.Holds)) Check(svg, x.At(day), bottom + 1);
        svg.Text((x.FromAt + x.ToAt) / 2, bottom + 25, words.Say("pictures.days_since_set_out"), Svg.SmallSize, Anchor.Middle);
    }

    /// <summary>The mark of a check, its foot in the middle at (x, y).</summary>
    public static void Check(Svg svg, double x, double y) => svg.Points([(x - 5, y), (x + 5, y), (x, y - 9)], true, new Paint(Ink.Dark));
}
