using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>The ratio of two survivals at one density.</summary>
/// <param name="PerAcre">Clumps an acre, &gt; 0.</param>
/// <param name="Ratio">The ratio, &gt; 0, with limits.</param>
/// <param name="IsWalked">Whether the density lies among those walked.</param>
public readonly record struct RatioDot(double PerAcre, Dot Ratio, bool IsWalked);

/// <summary>What the picture of the ratio shows.</summary>
/// <param name="Other">Names of the cover above the line of 1.</param>
/// <param name="Grass">Names of the cover below it.</param>
/// <param name="Curve">The ratio by density, ascending.</param>
/// <param name="Walked">Densities of the lines, each a stroke on the axis.</param>
/// <param name="Parity">The density at which the ratio is 1, with limits where it has any.</param>
/// <param name="Benchmark">The benchmark in clumps an acre.</param>
public sealed record RatioContent(string Other, string Grass, ImmutableArray<RatioDot> Curve, ImmutableArray<double> Walked, Dot Parity, double Benchmark);

/// <summary>Survival in other cover by survival in grass against clump density, both axes in equal factors: a line with its band, dashed beyond the densities walked, and the parity density on the line of 1.</summary>
public static class RatioCurve
{
    private const double Height = 300;
    private const double Left = 44;
    private const double Top = 36;
    private const double Bottom = 250;
    private const double Side = 14;

    /// <summary>Beyond a factor of eight the band is cut.</summary>
    private const double Farthest = 8;

    private static readonly double[] Ticks = [0.125, 0.25, 0.5, 1, 2, 4, 8], NarrowTicks = [0.5, 0.67, 1, 1.5, 2];

    /// <summary>Draws the curve.</summary>
    /// <param name="content">What it shows; a curve of fewer than two densities gives a picture that says so.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(RatioContent content, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(content);
        var svg = new Svg(width, Height, words.Say(Phrase.Of("model_report.ratio_title", ("other", content.Other), ("grass", content.Grass))), words.Say(Phrase.Of("model_report.ratio_description", ("lines", content.Walked.Length))));
        if (content.Curve.Length < 2 || !(content.Curve[^1].PerAcre > content.Curve[0].PerAcre))
        {
            svg.Text(Left, Top, words.Say("pictures.no_groups"));
            return svg.ToString();
        }

        var x = new Scale(Math.Log(content.Curve[0].PerAcre), Math.Log(content.Curve[^1].PerAcre), Left, width - Side);
        var reach = Math.Log(Reach(content.Curve));
        var y = new Scale(-reach, reach, Bottom, Top);
        Axes(svg, x, y, words);
        Band(svg, x, y, content.Curve);
        Lines(svg, x, y, content);
        svg.Text(x.ToAt - 5, Top + 11, Svg.Cut(words.Say(Phrase.Of("model_report.better", ("cover", content.Other))), (width - Left) / 2, Svg.SmallSize), Svg.SmallSize, Anchor.End);
        svg.Text(Left + 5, Bottom - 12, Svg.Cut(words.Say(Phrase.Of("model_report.better", ("cover", content.Grass))), (width - Left) / 2, Svg.SmallSize), Svg.SmallSize);
        Marks(svg, x, y, content, words);
        return svg.ToString();
    }

    /// <summary>The smallest of 2, 4, 8 that holds the curve and, as far as 8, its band over the densities walked.</summary>
    private static double Reach(IEnumerable<RatioDot> curve)
    {
        var walked = curve.Where(c => c.IsWalked).SelectMany(c => new[] { c.Ratio.Value, c.Ratio.Low, c.Ratio.High }).OfType<double>().Select(r => Math.Abs(Math.Log(r))).DefaultIfEmpty(0).Max();
        return new[] { 2, 4, Farthest }.First(f => f == Farthest || walked <= Math.Log(f));
    }

    private static void Axes(Svg svg, Scale x, Scale y, Catalogue words)
    {
        foreach (var tick in (y.To > Math.Log(2) ? Ticks : NarrowTicks).Where(t => y.Holds(Math.Log(t))))
        {
            var at = y.At(Math.Log(tick));
            svg.Line(x.FromAt, at, x.ToAt, at, Paint.Line(Ink.Grid, tick == 1 ? 1.2 : 0.5));
            svg.Text(x.FromAt - 5, at + 3, Numbers.Short(tick), Svg.SmallSize, Anchor.End);
        }

        // The same axis in the unit that is shown, so that its ticks are round.
        var factor = Math.Log(words.Units.Density(1));
        var shown = x with { From = x.From + factor, To = x.To + factor };
        foreach (var tick in DensityTicks(shown))
        {
            svg.Line(shown.At(Math.Log(tick)), Bottom, shown.At(Math.Log(tick)), Bottom + 3, Paint.Line(Ink.Grid, 0.8));
            svg.Text(shown.At(Math.Log(tick)), Bottom + 13, Numbers.Short(tick), Svg.SmallSize, Anchor.Middle);
        }

        svg.Text((x.FromAt + x.ToAt) / 2, Bottom + 26, words.Say("pictures.clumps_an_area"), Svg.SmallSize, Anchor.Middle);
        svg.Text(Left, Bottom + 42, words.Say("model_report.ratio_key"), Svg.SmallSize);
    }

    /// <summary>1, 2 and 5 times powers of ten; over a wide range powers of ten alone, over a narrow one also 1.5, 3, 4, 7.</summary>
    private static double[] DensityTicks(Scale x)
    {
        var tens = (x.To - x.From) / Math.Log(10);
        double[] steps = tens > 3 ? [1] : tens > 0.9 ? [1, 2, 5] : [1, 1.5, 2, 3, 4, 5, 7];
        var lowest = (int)Math.Floor(x.From / Math.Log(10));
        return [.. Enumerable.Range(lowest, (int)Math.Ceiling(tens) + 2).SelectMany(power => steps.Select(s => s * Math.Pow(10, power))).Where(t => x.Holds(Math.Log(t)))];
    }

    private static void Band(Svg svg, Scale x, Scale y, ImmutableArray<RatioDot> curve)
    {
        var known = curve.Where(c => c.Ratio is { Low: not null, High: not null }).ToArray();
        if (known.Length < 2) return;
        var high = known.Select(c => (x.At(Math.Log(c.PerAcre)), y.At(Math.Log(c.Ratio.High!.Value))));
        var low = known.Select(c => (x.At(Math.Log(c.PerAcre)), y.At(Math.Log(c.Ratio.Low!.Value))));
        svg.Points(high.Concat(low.Reverse()), true, new Paint(Ink.Water, null, 1, null, 0.35));
    }

    /// <summary>The curve in pieces: unbroken where densities were walked, dashed beyond, none where it leaves the picture.</summary>
    private static void Lines(Svg svg, Scale x, Scale y, RatioContent content)
    {
        foreach (var line in content.Walked.Select(w => x.At(Math.Log(w)))) svg.Line(line, Bottom, line, Bottom - 8, Paint.Line(Ink.Dark, 1));
        var curve = content.Curve;
        for (var from = 0; from < curve.Length - 1;)
        {
            var to = from + 1;
            while (to < curve.Length - 1 && IsSolid(to) == IsSolid(from)) to++;
            var piece = curve[from..(to + 1)].Where(c => c.Ratio.Value is { } r && y.Holds(Math.Log(r))).Select(c => (x.At(Math.Log(c.PerAcre)), y.At(Math.Log(c.Ratio.Value!.Value)))).ToArray();
            if (piece.Length > 1) svg.Points(piece, false, Paint.Line(Ink.Whole, 2.4, IsSolid(from) ? null : "4 3"));
            from = to;
        }

        bool IsSolid(int i) => curve[i].IsWalked && curve[i + 1].IsWalked;
    }

    /// <summary>Parity density and benchmark, with their words side by side above the picture.</summary>
    private static void Marks(Svg svg, Scale x, Scale y, RatioContent content, Catalogue words)
    {
        List<Label> labels = [];
        if (content.Parity.Value is { } parity)
        {
            labels.Add(new Label(x.At(Math.Log(parity)), words.Say(Phrase.Of(Key(x, content.Parity), ("value", parity), ("low", content.Parity.Low ?? 0), ("high", content.Parity.High ?? 0)))));
            if (x.Holds(Math.Log(parity)))
            {
                svg.Line(x.At(Math.Log(parity)), Top - 4, x.At(Math.Log(parity)), y.At(0), Paint.Line(Ink.Dark, 0.8));
                Whiskers.Draw(svg, x, y.At(0), new Dot(Math.Log(parity), Logarithm(content.Parity.Low), Logarithm(content.Parity.High)), DotShape.Triangle);
            }
        }

        if (x.Holds(Math.Log(content.Benchmark)))
        {
            var at = x.At(Math.Log(content.Benchmark));
            svg.Line(at, Top - 4, at, Bottom, Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
            labels.Add(new Label(at, words.Say(Phrase.Of("pictures.benchmark_density", ("value", content.Benchmark)))));
        }

        Label[] inOrder = [.. labels.OrderBy(l => l.Wanted)];
        foreach (var (label, at) in inOrder.Zip(Label.Apart(inOrder, x.ToAt + Side, Svg.SmallSize)))
        {
            svg.Line(label.Wanted, Top - 4, at, Top - 12, Paint.Line(Ink.Grid, 0.8));
            svg.Text(at, Top - 15, label.Text, Svg.SmallSize, Anchor.Middle);
        }
    }

    /// <summary>How the parity density is named: with its limits, without, or with an arrow where it lies outside the picture.</summary>
    private static string Key(Scale x, Dot parity) => Math.Log(parity.Value!.Value) is var at && at < x.From ? "model_report.parity_below"
        : at > x.To ? "model_report.parity_above"
        : parity is { Low: not null, High: not null } ? "model_report.parity" : "model_report.parity_unbounded";

    private static double? Logarithm(double? x) => x is { } value ? Math.Log(value) : null;
}
