namespace Tussock.Pictures;

/// <summary>The small marks of nests on maps and sketches: ring, cross, square, dashed ring.</summary>
internal static class MapMark
{
    internal static void Draw(Svg svg, NestMark mark, double x, double y, double size)
    {
        var r = size / 2;
        switch (mark)
        {
            case NestMark.Whole:
                svg.Ellipse(x, y, r, r, new Paint(Ink.Whole, Ink.Dark, size * 0.08));
                break;
            case NestMark.Eaten:
                svg.Line(x - r, y - r, x + r, y + r, Paint.Line(Ink.Eaten, size * 0.26));
                svg.Line(x - r, y + r, x + r, y - r, Paint.Line(Ink.Eaten, size * 0.26));
                break;
            case NestMark.OtherLoss:
                svg.Rect(x - r, y - r, size, size, new Paint(Ink.Other, Ink.Dark, size * 0.16));
                svg.Line(x - r, y + r, x + r, y - r, Paint.Line(Ink.Dark, size * 0.14));
                break;
            default:
                svg.Ellipse(x, y, r * 0.85, r * 0.85, new Paint(Ink.Paper, Ink.Grid, size * 0.16));
                break;
        }
    }

    /// <summary>The key of the marks on one line; returns where it ends.</summary>
    internal static double Key(Svg svg, Words.Catalogue words, double x, double y)
    {
        foreach (var mark in Enum.GetValues<NestMark>())
        {
            var text = words.Say(NestSymbol.KeyOf(mark));
            Draw(svg, mark, x + 4, y - 3, 7);
            svg.Text(x + 12, y, text, Svg.SmallSize);
            x += 24 + Svg.TextWidth(text, Svg.SmallSize);
        }

        return x;
    }
}
