using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>What charts of rows share: room for names, axis of percent, benchmark line, numbers in words.</summary>
internal static class Rows
{
    /// <summary>Room for names on the left: as much as the longest needs, at most a third of the picture.</summary>
    internal static double NameRoom(IEnumerable<string> names, double width) => Math.Min(width / 3, names.Select(n => Svg.TextWidth(n)).DefaultIfEmpty(0).Max() + 8);

    /// <summary>"33 % (23–46)"; what is missing is left out.</summary>
    internal static string Percent(Dot share) => share switch
    {
        { Value: { } v, Low: { } low, High: { } high } => Numbers.Percent(v) + " (" + Numbers.PercentNumber(low) + "–" + Numbers.PercentNumber(high) + ")",
        { Value: { } v } => Numbers.Percent(v),
        { Low: { } low, High: { } high } => Numbers.PercentRange(low, high),
        _ => "–",
    };

    /// <summary>"442 (369–530)"; what is missing is left out.</summary>
    internal static string Whole(Dot value) => value switch
    {
        { Value: { } v, Low: { } low, High: { } high } => Numbers.Fixed(v, 0) + " (" + Numbers.Fixed(low, 0) + "–" + Numbers.Fixed(high, 0) + ")",
        { Value: { } v } => Numbers.Fixed(v, 0),
        _ => "–",
    };

    internal static void PercentAxis(Svg svg, Scale scale, double top, double bottom)
    {
        foreach (var tick in (ReadOnlySpan<double>)[0, 0.25, 0.5, 0.75, 1])
        {
            var x = scale.At(tick);
            svg.Line(x, top, x, bottom, Paint.Line(Ink.Grid, 0.5));
            svg.Text(x, bottom + 12, tick is 1 or 0 or 0.5 ? Numbers.Percent(tick) : Numbers.PercentNumber(tick), Svg.SmallSize, Anchor.Middle);
        }
    }

    /// <summary>A dashed line with its words above it, kept inside the picture.</summary>
    internal static void Benchmark(Svg svg, double x, double top, double bottom, string text, (double Left, double Right) room)
    {
        svg.Line(x, top, x, bottom, Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
        var half = Svg.TextWidth(text, Svg.SmallSize) / 2;
        svg.Text(Math.Clamp(x, room.Left + half, Math.Max(room.Left + half, room.Right - half)), top - 6, text, Svg.SmallSize, Anchor.Middle);
    }
}
