using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Chance of each call at one truth.</summary>
/// <param name="Truth">True survival in [0, 1], or true clumps an acre.</param>
/// <param name="Likely">Called at the benchmark or above.</param>
/// <param name="Unlikely">Called below it.</param>
public readonly record struct CallDot(double Truth, double Likely, double Unlikely);

/// <summary>One panel: a thing that is called, its benchmark, and the chances by what is true.</summary>
/// <param name="Name">What stands below the panel.</param>
/// <param name="Benchmark">Benchmark, in units of the truth.</param>
/// <param name="IsShare">Whether truths are shares, written as per cent.</param>
/// <param name="Dots">By truth, ascending; at least two.</param>
public sealed record CallPanel(Phrase Name, double Benchmark, bool IsShare, ImmutableArray<CallDot> Dots);

/// <summary>How often a design leads to which call, by what is true: two lines and the gap between them, which is "not called".</summary>
public static class CallCurves
{
    private const double PanelHeight = 230;
    private const double Left = 44;
    private const double Side = 14;
    private const double Top = 26;
    private const double Bottom = 176;

    /// <summary>Draws the panels one below the other.</summary>
    /// <param name="panels">At least one.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<CallPanel> panels, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(panels);
        var svg = new Svg(width, Math.Max(1, panels.Count) * PanelHeight, words.Say("power.picture_title"), words.Say("power.picture_description"));
        for (var i = 0; i < panels.Count; i++) Panel(svg, panels[i], i * PanelHeight, width, words);
        return svg.ToString();
    }

    private static void Panel(Svg svg, CallPanel panel, double down, double width, Catalogue words)
    {
        var x = new Scale(panel.Dots[0].Truth, panel.Dots[^1].Truth, Left, width - Side);
        var y = new Scale(0, 1, down + Bottom, down + Top);
        foreach (var tick in (double[])[0, 0.2, 0.4, 0.6, 0.8, 1])
        {
            svg.Line(Left, y.At(tick), width - Side, y.At(tick), Paint.Line(Ink.Grid, 0.5));
            svg.Text(Left - 5, y.At(tick) + 3, Numbers.Percent(tick), Svg.SmallSize, Anchor.End);
        }

        foreach (var dot in panel.Dots) svg.Text(x.At(dot.Truth), down + Bottom + 13, panel.IsShare ? Numbers.Percent(dot.Truth) : Numbers.Fixed(dot.Truth, 0), Svg.SmallSize, Anchor.Middle);
        svg.Text((x.FromAt + x.ToAt) / 2, down + Bottom + 27, words.Say(panel.Name), Svg.SmallSize, Anchor.Middle);
        if (x.Holds(panel.Benchmark)) svg.Line(x.At(panel.Benchmark), down + Top - 4, x.At(panel.Benchmark), down + Bottom, Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
        Curve(svg, panel.Dots.Select(d => (x.At(d.Truth), y.At(d.Unlikely))), Paint.Line(Ink.Eaten, 2.4, "6 3"));
        Curve(svg, panel.Dots.Select(d => (x.At(d.Truth), y.At(d.Likely))), Paint.Line(Ink.Whole, 2.4));
        Curve(svg, panel.Dots.Select(d => (x.At(d.Truth), y.At(1 - d.Likely - d.Unlikely))), Paint.Line(Ink.Grid, 1.6, "2 3"));
        var at = Left;
        foreach (var (key, paint) in ((string, Paint)[])[("power.picture_unlikely", Paint.Line(Ink.Eaten, 2.4, "6 3")), ("power.picture_likely", Paint.Line(Ink.Whole, 2.4)), ("power.picture_none", Paint.Line(Ink.Grid, 1.6, "2 3"))])
        {
            var text = words.Say(key);
            svg.Line(at, down + Bottom + 41, at + 18, down + Bottom + 41, paint);
            svg.Text(at + 22, down + Bottom + 44, text, Svg.SmallSize);
            at += 34 + Svg.TextWidth(text, Svg.SmallSize);
        }
    }

    private static void Curve(Svg svg, IEnumerable<(double X, double Y)> points, Paint paint) => svg.Points(points, false, paint);
}
