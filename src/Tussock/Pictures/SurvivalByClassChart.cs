using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Survival of one class over the days.</summary>
/// <param name="Name">The class.</param>
/// <param name="Days">Days after set-out in ascending order, each with the survival to it, in [0, 1].</param>
public sealed record ClassCourse(string Name, ImmutableArray<(double Day, Dot Survival)> Days);

/// <summary>Predicted survival by day, a line and a band for each class; classes differ by dash and colour and have their name and numbers at the end of the line.</summary>
public static class SurvivalByClassChart
{
    /// <summary>More classes than this can't be told apart in one picture.</summary>
    public const int MostClasses = 4;

    private const double Height = 270;
    private const double Left = 44;
    private const double Top = 14;
    private const double Bottom = 226;
    private const double LabelRoom = 150;
    private const double LabelHeight = 25;
    private const double WhiskerGap = 11;

    private static readonly (string Colour, string? Dash)[] Styles = [(Ink.Whole, null), (Ink.Dark, "9 3.5"), (Ink.ClassThree, "2 2.5"), (Ink.ClassFour, "9 3 2 3")];

    /// <summary>Draws the courses.</summary>
    /// <param name="classes">The classes; those beyond the first four are not drawn.</param>
    /// <param name="checkDays">Days of the checks.</param>
    /// <param name="benchmark">Benchmark of survival; null: none.</param>
    /// <param name="days">Where the picture ends, above 0.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<ClassCourse> classes, IReadOnlyList<double> checkDays, double? benchmark, double days, Catalogue words, double width = Svg.ColumnWidth)
    {
        var shown = classes.Take(MostClasses).ToArray();
        var svg = new Svg(width, Height, words.Say("model_report.courses_title"), words.Say(Phrase.Of("model_report.courses_description", ("classes", shown.Length))));
        var (x, y) = (new Scale(0, days, Left, width - LabelRoom - (WhiskerGap * (shown.Length + 1))), new Scale(0, 1, Bottom, Top));
        DayAxes.Draw(svg, x, y, Bottom, checkDays, words);
        if (shown.Length == 0) svg.Text(Left + 10, Top + 30, words.Say("pictures.no_groups"));
        for (var i = 0; i < shown.Length; i++) Band(svg, x, y, shown[i], i);
        if (benchmark is { } b)
        {
            svg.Line(Left, y.At(b), x.ToAt, y.At(b), Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
            svg.Text(Left + 5, y.At(b) - 4, words.Say(Phrase.Of("pictures.benchmark", ("value", b))), Svg.SmallSize);
        }

        for (var i = 0; i < shown.Length; i++) svg.Points(Line(x, y, shown[i], d => d.Value).Prepend((x.At(0), y.At(1))), false, Paint.Line(Styles[i].Colour, 2.4, Styles[i].Dash));
        Ends(svg, x, y, shown, width);
        Key(svg, checkDays.Any(x.Holds), words);
        return svg.ToString();
    }

    private static IEnumerable<(double X, double Y)> Line(Scale x, Scale y, ClassCourse course, Func<Dot, double?> value) =>
        course.Days.Where(d => value(d.Survival) is not null).Select(d => (x.At(d.Day), y.At(value(d.Survival)!.Value)));

    private static void Band(Svg svg, Scale x, Scale y, ClassCourse course, int style)
    {
        (double X, double Y)[] low = [.. Line(x, y, course, d => d.Low)], high = [.. Line(x, y, course, d => d.High)];
        if (low.Length == 0 || high.Length == 0) return;
        (double X, double Y) start = (x.At(0), y.At(1));
        svg.Points([start, .. high, .. low.Reverse()], true, new Paint(Styles[style].Colour, null, 1, null, 0.14));
        foreach (var edge in (IEnumerable<(double X, double Y)>[])[low, high]) svg.Points(edge.Prepend(start), false, Paint.Line(Styles[style].Colour, 0.7, Styles[style].Dash));
    }

    /// <summary>The interval of the last day beside the picture, one class beside the other, and at its right the class and its numbers.</summary>
    private static void Ends(Svg svg, Scale x, Scale y, ClassCourse[] shown, double width)
    {
        var ordered = shown.Select((c, i) => (Course: c, Style: i, End: c.Days.Length == 0 ? default : c.Days[^1].Survival)).OrderByDescending(c => c.End.Value ?? 0).ToArray();
        var heights = Apart.Heights([.. ordered.Select(c => y.At(c.End.Value ?? 0))], LabelHeight, (Top + 6, Bottom - 10));
        var labels = x.ToAt + (WhiskerGap * (shown.Length + 1));
        for (var i = 0; i < ordered.Length; i++)
        {
            var ((course, style, end), paint) = (ordered[i], Paint.Line(Styles[ordered[i].Style].Colour, 1.6));
            var at = x.ToAt + (WhiskerGap * (style + 0.8));
            if (end is { Low: { } low, High: { } high }) svg.Line(at, y.At(low), at, y.At(high), paint);
            if (end.Value is { } value)
            {
                svg.Ellipse(at, y.At(value), 3.2, 3.2, new Paint(Styles[style].Colour));
                svg.Line(at, y.At(value), labels - 1, heights[i] - 2, Paint.Line(Styles[style].Colour, 0.8));
            }

            svg.Line(labels, heights[i] - 3, labels + 22, heights[i] - 3, Paint.Line(Styles[style].Colour, 2.4, Styles[style].Dash));
            svg.Text(labels + 26, heights[i], Svg.Cut(course.Name, width - labels - 26), Svg.TextSize, isBold: true);
            svg.Text(labels + 26, heights[i] + 10.5, Rows.Percent(end), Svg.SmallSize);
        }
    }

    private static void Key(Svg svg, bool hasChecks, Catalogue words)
    {
        const double y = Height - 5;
        var text = words.Say("model_report.courses_band");
        svg.Rect(Left, y - 9, 16, 10, new Paint(Ink.Dark, Ink.Grid, 0.7, null, 0.14));
        svg.Text(Left + 20, y, text, Svg.SmallSize);
        if (!hasChecks) return;
        var at = Left + 20 + Svg.TextWidth(text, Svg.SmallSize) + 16;
        DayAxes.Check(svg, at, y);
        svg.Text(at + 9, y, words.Say("pictures.check"), Svg.SmallSize);
    }
}
