namespace Tussock.Pictures;

/// <summary>Shape of an estimate's dot, so that kinds of groups are told apart without colour.</summary>
public enum DotShape
{
    /// <summary>A disc: a pasture, a property.</summary>
    Disc,

    /// <summary>A square: a cover class.</summary>
    Square,

    /// <summary>A triangle: the whole season.</summary>
    Triangle,
}

/// <summary>Draws a dot and its whiskers on a level scale.</summary>
internal static class Whiskers
{
    internal static void Draw(Svg svg, Scale scale, double y, Dot dot, DotShape shape)
    {
        var line = Paint.Line(Ink.Dark, 1.6);
        if (dot is { Low: { } low, High: { } high })
        {
            svg.Line(scale.At(low), y, scale.At(high), y, line);
            End(svg, scale, low, y);
            End(svg, scale, high, y);
        }

        if (dot.Value is not { } value) return;
        var (x, r, paint) = (scale.At(value), 4.2, new Paint(Ink.Whole, Ink.Dark, 0.8));
        if (shape == DotShape.Square) svg.Rect(x - r + 0.5, y - r + 0.5, (2 * r) - 1, (2 * r) - 1, new Paint(Ink.Paper, Ink.Whole, 1.8));
        else if (shape == DotShape.Triangle) svg.Points([(x, y - r - 1), (x + r + 0.5, y + r - 0.5), (x - r - 0.5, y + r - 0.5)], true, paint);
        else svg.Ellipse(x, y, r, r, paint);
    }

    /// <summary>A cap at a limit on the scale; an arrow head where the limit lies outside.</summary>
    private static void End(Svg svg, Scale scale, double limit, double y)
    {
        var x = scale.At(limit);
        var inward = limit < Math.Min(scale.From, scale.To) ? 5 : -5;
        if (scale.Holds(limit)) svg.Line(x, y - 3.5, x, y + 3.5, Paint.Line(Ink.Dark, 1.6));
        else svg.Points([(x + inward, y - 3.5), (x, y), (x + inward, y + 3.5)], false, Paint.Line(Ink.Dark, 1.6));
    }
}
