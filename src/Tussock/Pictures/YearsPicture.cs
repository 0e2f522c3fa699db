using Tussock.Words;
using Tussock.Years;

namespace Tussock.Pictures;

/// <summary>A pasture or property over its years, one column a year: survival, clumps, losses by cause, and under them set-out and rain.</summary>
public static class YearsPicture
{
    private const double Left = 44, SurvivalHigh = 88, DensityHigh = 58, LossesHigh = 50, Gap = 24, WidestColumn = 74;

    /// <summary>Everything of a land's years, for a page.</summary>
    /// <param name="land">The land with its years.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Whole(LandYears land, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(land);
        ArgumentNullException.ThrowIfNull(words);
        var hasDensity = land.Years.Any(y => y.PerAcre is not null);
        var high = 16 + SurvivalHigh + Gap + (hasDensity ? DensityHigh + Gap : 0) + LossesHigh + 46;
        var svg = new Svg(width, high, words.Say(Phrase.Of("pictures.years_title", ("land", land.Land))), words.Say(Phrase.Of("pictures.years_description", ("years", land.Years.Length))));
        var columns = new Columns(land, width);
        var top = 16.0;
        Survival(svg, columns, land, top, SurvivalHigh, words);
        top += SurvivalHigh + Gap;
        if (hasDensity)
        {
            Density(svg, columns, land, top, words);
            top += DensityHigh + Gap;
        }

        Losses(svg, columns, land, top, words);
        Foot(svg, columns, land, top + LossesHigh, words);
        return svg.ToString();
    }

    /// <summary>Survival by year alone, for a strip.</summary>
    /// <param name="land">The land with its years.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <param name="high">Height of the drawn part in points.</param>
    public static string Strip(LandYears land, Catalogue words, double width = Svg.ColumnWidth, double high = 56)
    {
        ArgumentNullException.ThrowIfNull(land);
        ArgumentNullException.ThrowIfNull(words);
        var svg = new Svg(width, high + 32, words.Say(Phrase.Of("pictures.years_title", ("land", land.Land))), words.Say(Phrase.Of("pictures.years_description", ("years", land.Years.Length))));
        var columns = new Columns(land, width);
        Survival(svg, columns, land, 16, high, words);
        for (var i = 0; i < land.Years.Length; i++) svg.Text(columns.Middle(i), high + 28, Svg.Cut(land.Years[i].Label, columns.Wide), Svg.SmallSize, Anchor.Middle);
        return svg.ToString();
    }

    private static void Survival(Svg svg, Columns columns, LandYears land, double top, double high, Catalogue words)
    {
        var y = new Scale(0, 1, top + high, top);
        Axis(svg, columns, y, [0, 0.5, 1], tick => Numbers.Percent(tick), words.Say("pictures.years_survival"), top);
        if (land.Years.Select(l => l.Benchmark).Distinct().Count() == 1) svg.Line(Left, y.At(land.Years[0].Benchmark), columns.Right, y.At(land.Years[0].Benchmark), Paint.Line(Ink.Dark, 1, Ink.BenchmarkDash));
        for (var i = 0; i < land.Years.Length; i++)
        {
            var year = land.Years[i];
            Upright(svg, columns.Middle(i), y, Dot.Of(year.Survival), isHollow: year.IsByPieces);
            if (year.Survival.Value is null) svg.Text(columns.Middle(i), top + (high / 2) + 3, "–", Svg.TextSize, Anchor.Middle);
        }
    }

    private static void Density(Svg svg, Columns columns, LandYears land, double top, Catalogue words)
    {
        double Shown(double perAcre) => words.Units.Density(perAcre);
        var most = land.Years.Max(y => Shown(y.PerAcre is { } d ? Math.Min(d.High ?? d.Value, 3 * d.Value) : 0));
        var ticks = Scale.Round(most, 3);
        var scale = new Scale(0, Math.Max(most, ticks[^1]), top + DensityHigh, top);
        Axis(svg, columns, scale, ticks, tick => Numbers.Fixed(tick, 0), words.Say("years.column.per_acre"), top);
        for (var i = 0; i < land.Years.Length; i++)
        {
            if (land.Years[i].PerAcre is { } d) Upright(svg, columns.Middle(i), scale, new Dot(Shown(d.Value), d.Low is { } low ? Shown(low) : null, d.High is { } up ? Shown(up) : null), isHollow: false);
        }
    }

    private static void Losses(Svg svg, Columns columns, LandYears land, double top, Catalogue words)
    {
        var most = Math.Max(1, land.Years.Max(y => y.Counts.Nests));
        var ticks = Scale.Round(most, 2);
        var scale = new Scale(0, Math.Max(most, ticks[^1]), top + LossesHigh, top);
        Axis(svg, columns, scale, ticks, tick => Numbers.Fixed(tick, 0), words.Say("pictures.years_nests"), top);
        for (var i = 0; i < land.Years.Length; i++)
        {
            var c = land.Years[i].Counts;
            var trampled = land.Years[i].Losses.Where(l => l.Cause == "trampled").Sum(l => l.Nests);
            var from = 0;
            foreach (var (count, fill, isHatched) in ((int, string, bool)[])[(c.Intact, Ink.Whole, false), (c.Depredated, Ink.Eaten, false), (trampled, Ink.Other, true), (c.OtherLoss - trampled, Ink.Paper, true), (c.Unknown, Ink.Unknown, false)])
            {
                if (count <= 0) continue;
                double x = columns.Middle(i) - (columns.Bar / 2), low = scale.At(from), up = scale.At(from + count);
                svg.Rect(x, up, columns.Bar, low - up, new Paint(fill, Ink.Dark, 0.6));
                if (isHatched) svg.Hatch(x, up, columns.Bar, low - up, 5, Paint.Line(Ink.Dark, 0.6));
                from += count;
            }
        }
    }

    private static void Foot(Svg svg, Columns columns, LandYears land, double top, Catalogue words)
    {
        svg.Text(0, top + 27, words.Say("pictures.years_set"), Svg.SmallSize);
        svg.Text(0, top + 40, words.Say("pictures.years_rain"), Svg.SmallSize);
        for (var i = 0; i < land.Years.Length; i++)
        {
            var (year, x) = (land.Years[i], columns.Middle(i));
            svg.Text(x, top + 14, Svg.Cut(year.Label, columns.Wide), Svg.TextSize, Anchor.Middle, null, isBold: true);
            var on = year.Conduct.SetOn is { } set ? Numbers.Whole(set.Middle.Day) + " " + words.Say("month." + Numbers.Whole(set.Middle.Month)) + (year.Conduct.AreSetDatesAssumed ? " ?" : "") : "–";
            svg.Text(x, top + 27, Svg.Cut(on, columns.Wide, Svg.SmallSize), Svg.SmallSize, Anchor.Middle);
            svg.Text(x, top + 40, year.Conduct.RainMm is { } rain ? Svg.Cut((words.Units == UnitChoice.Both ? words.In(UnitChoice.Metric) : words).Say(Phrase.Of("pictures.years_mm", ("rain", rain))), columns.Wide, Svg.SmallSize) : "–", Svg.SmallSize, Anchor.Middle);
        }
    }

    private static void Axis(Svg svg, Columns columns, Scale y, IEnumerable<double> ticks, Func<double, string> said, string name, double top)
    {
        svg.Text(0, top - 6, name, Svg.SmallSize, Anchor.Start, null, isBold: true);
        foreach (var tick in ticks.Where(y.Holds))
        {
            svg.Line(Left, y.At(tick), columns.Right, y.At(tick), Paint.Line(Ink.Grid, 0.4));
            svg.Text(Left - 5, y.At(tick) + 3, said(tick), Svg.SmallSize, Anchor.End);
        }
    }

    private static void Upright(Svg svg, double x, Scale y, Dot dot, bool isHollow)
    {
        if (dot is { Low: { } low, High: { } high })
        {
            svg.Line(x, y.At(low), x, y.At(high), Paint.Line(Ink.Whole, 2));
            // A limit beyond the picture has no end to draw.
            foreach (var end in (ReadOnlySpan<double>)[low, high]) if (y.Holds(end)) svg.Line(x - 4, y.At(end), x + 4, y.At(end), Paint.Line(Ink.Whole, 1.5));
        }

        if (dot.Value is { } value) svg.Ellipse(x, y.At(value), 4, 4, new Paint(isHollow ? Ink.Paper : Ink.Whole, isHollow ? Ink.Whole : Ink.Paper, 1.2));
    }

    /// <summary>Where the years stand.</summary>
    private sealed class Columns(LandYears land, double width)
    {
        internal double Wide { get; } = Math.Min(WidestColumn, (width - Left - 4) / Math.Max(1, land.Years.Length));

        internal double Bar => Math.Min(26, Wide * 0.6);

        internal double Right => Left + (Wide * land.Years.Length);

        internal double Middle(int year) => Left + (Wide * (year + 0.5));
    }
}
