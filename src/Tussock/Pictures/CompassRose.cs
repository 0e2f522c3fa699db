using Tussock.Land;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A 16-point rose to read a direction from, with what the arrow means: from the flag to the nest.</summary>
/// <remarks>Points of 22.5°; the 8 chief ones are bold. Drawn in black for print; the phone has a rose of its own that can be tapped.</remarks>
public static class CompassRose
{
    /// <summary>Draws the rose.</summary>
    /// <param name="size">Side of the square in points, from 80 on.</param>
    /// <param name="words">The language of its title.</param>
    public static string Draw(double size, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var svg = new Svg(size, size, words.Say("pictures.rose"));
        var (middle, names) = (size / 2, size * 0.43);
        for (var i = 0; i < 16; i++)
        {
            var a = i * Math.PI / 8;
            var isChief = i % 2 == 0;
            var (inner, outer) = (size * (isChief ? 0.12 : 0.27), size * 0.345);
            svg.Line(middle + (inner * Math.Sin(a)), middle - (inner * Math.Cos(a)), middle + (outer * Math.Sin(a)), middle - (outer * Math.Cos(a)), Paint.Line(Ink.Dark, isChief ? 1.1 : 0.7));
            var text = size * (isChief ? 0.075 : 0.052);
            svg.Text(middle + (names * Math.Sin(a)), middle - (names * Math.Cos(a)) + (text * 0.36), new Direction(i * 22.5, true).Point, text, Anchor.Middle, Ink.Dark, isBold: isChief);
        }

        svg.Ellipse(middle, middle, size * 0.345, size * 0.345, Paint.Line(Ink.Dark, 0.9));
        Flag(svg, middle, middle, size * 0.11);
        return svg.ToString();
    }

    /// <summary>A line of two marks, flag and nest, with an arrow between them: which way a direction was taken.</summary>
    /// <param name="isFlagToNest">Whether the arrow points at the nest.</param>
    /// <param name="words">The language of its title.</param>
    public static string Sense(bool isFlagToNest, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var svg = new Svg(46, 16, words.Say(isFlagToNest ? "pictures.flag_to_nest" : "pictures.nest_to_flag"));
        Flag(svg, 5, 13, 12);
        NestSymbol.Draw(svg, NestMark.Whole, 39, 9, 13);
        var (from, to) = isFlagToNest ? (15.0, 30.0) : (30.0, 15.0);
        var back = isFlagToNest ? -4 : 4;
        svg.Line(from, 9, to, 9, Paint.Line(Ink.Dark, 1.2));
        svg.Points([(to, 9), (to + back, 6.5), (to + back, 11.5)], true, new Paint(Ink.Dark));
        return svg.ToString();
    }

    private static void Flag(Svg svg, double foot, double ground, double high)
    {
        svg.Line(foot, ground, foot, ground - high, Paint.Line(Ink.Dark, 1.2));
        svg.Points([(foot, ground - high), (foot + (high * 0.7), ground - (high * 0.75)), (foot, ground - (high * 0.5))], true, new Paint(Ink.Dark));
    }
}
