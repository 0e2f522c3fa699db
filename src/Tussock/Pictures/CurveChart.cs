using System.Collections.Immutable;
using Tussock.Survival;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A flat piece of a survival curve.</summary>
/// <param name="From">First day.</param>
/// <param name="To">Last day.</param>
/// <param name="Survival">Share still whole, in [0, 1].</param>
/// <param name="Low">Lower limit of the band; null: none.</param>
/// <param name="High">Upper limit of the band; null: none.</param>
public sealed record CurvePiece(double From, double To, double Survival, double? Low = null, double? High = null);

/// <summary>The share of nests still whole, day by day: flat where it is known, a shaded box where losses happened some time between two visits.</summary>
public static class CurveChart
{
    private const double Height = 250;
    private const double Left = 44;
    private const double Top = 14;
    private const double Bottom = 206;

    /// <summary>The flat pieces of a curve from day 0 on.</summary>
    /// <param name="curve">The curve.</param>
    /// <param name="days">Where the picture ends.</param>
    /// <param name="band">Band by day; the piece's middle day is looked up among them, nearest first. Empty: none.</param>
    public static ImmutableArray<CurvePiece> PiecesOf(SurvivalCurve curve, double days, IReadOnlyList<BandPoint>? band = null)
    {
        var pieces = ImmutableArray.CreateBuilder<CurvePiece>();
        var (from, survival) = (0.0, 1.0);
        for (var i = 0; i < curve.Mass.Length && from < days; i++)
        {
            var to = Math.Min(curve.Left[i], days);
            if (to >= from) pieces.Add(Piece(from, to, survival, band));
            survival = Math.Max(0, survival - curve.Mass[i]);
            from = curve.Right[i] ?? double.PositiveInfinity;
        }

        if (from < days) pieces.Add(Piece(from, days, survival, band));
        return pieces.ToImmutable();
    }

    /// <summary>Draws the curve.</summary>
    /// <param name="pieces">Flat pieces by day; between two of them the curve is not defined, only bounded.</param>
    /// <param name="checkDays">Days of the checks.</param>
    /// <param name="benchmark">Benchmark of survival; null: none.</param>
    /// <param name="days">Where the picture ends, above 0.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<CurvePiece> pieces, IReadOnlyList<double> checkDays, double? benchmark, double days, Catalogue words, double width = Svg.ColumnWidth)
    {
        var svg = new Svg(width, Height, words.Say("pictures.curve_title"), words.Say("pictures.curve_description"));
        var (x, y) = (new Scale(0, days, Left, width - 14), new Scale(0, 1, Bottom, Top));
        DayAxes.Draw(svg, x, y, Bottom, checkDays, words);
        foreach (var piece in pieces) Band(svg, x, y, piece);
        for (var i = 1; i < pieces.Count; i++) Box(svg, x, y, pieces[i - 1], pieces[i]);
        foreach (var piece in pieces) svg.Line(x.At(piece.From), y.At(piece.Survival), x.At(piece.To), y.At(piece.Survival), Paint.Line(Ink.Whole, 2.4));
        if (pieces.Count == 0) svg.Text(Left + 10, Top + 30, words.Say("pictures.no_curve"));
        if (benchmark is { } b)
        {
            svg.Line(Left, y.At(b), width - 14, y.At(b), Paint.Line(Ink.Dark, 1.4, Ink.BenchmarkDash));
            svg.Text(Left + 5, y.At(b) - 4, words.Say(Phrase.Of("pictures.benchmark", ("value", b))), Svg.SmallSize);
        }

        Key(svg, words);
        return svg.ToString();
    }

    private static CurvePiece Piece(double from, double to, double survival, IReadOnlyList<BandPoint>? band)
    {
        var near = band?.Where(p => p.Day >= from && p.Day <= to).MinBy(p => Math.Abs(p.Day - ((from + to) / 2)))?.Survival;
        return new CurvePiece(from, to, survival, near?.Low, near?.High);
    }

    private static void Band(Svg svg, Scale x, Scale y, CurvePiece piece)
    {
        if (piece is { Low: { } low, High: { } high }) svg.Rect(x.At(piece.From), y.At(high), Math.Max(1.5, x.At(piece.To) - x.At(piece.From)), y.At(low) - y.At(high), new Paint(Ink.Water, null, 1, null, 0.35));
    }

    /// <summary>Somewhere in this box the curve goes down; nobody saw where.</summary>
    private static void Box(Svg svg, Scale x, Scale y, CurvePiece before, CurvePiece after)
    {
        var (left, right, top, bottom) = (x.At(before.To), x.At(after.From), y.At(before.Survival), y.At(after.Survival));
        if (right - left < 0.3 || bottom - top < 0.3)
        {
            svg.Line(left, top, right, bottom, Paint.Line(Ink.Whole, 2.4));
            return;
        }

        svg.Rect(left, top, right - left, bottom - top, new Paint(Ink.Pale, Ink.Grid, 0.8));
        svg.Hatch(left, top, right - left, bottom - top, 6, Paint.Line(Ink.Grid, 0.6));
    }

    private static void Key(Svg svg, Catalogue words)
    {
        var (at, y) = (Left, Height - 6);
        svg.Line(at, y - 3, at + 16, y - 3, Paint.Line(Ink.Whole, 2.4));
        at = Said(svg, words.Say("pictures.curve_known"), at + 20, y);
        svg.Rect(at, y - 9, 16, 10, new Paint(Ink.Pale, Ink.Grid, 0.8));
        svg.Hatch(at, y - 9, 16, 10, 6, Paint.Line(Ink.Grid, 0.6));
        at = Said(svg, words.Say("pictures.curve_between"), at + 20, y);
        svg.Rect(at, y - 9, 16, 10, new Paint(Ink.Water, null, 1, null, 0.35));
        at = Said(svg, words.Say("pictures.curve_band"), at + 20, y);
        svg.Points([(at, y), (at + 10, y), (at + 5, y - 9)], true, new Paint(Ink.Dark));
        Said(svg, words.Say("pictures.check"), at + 14, y);
    }

    private static double Said(Svg svg, string text, double x, double y)
    {
        svg.Text(x, y, text, Svg.SmallSize);
        return x + Svg.TextWidth(text, Svg.SmallSize) + 12;
    }
}
