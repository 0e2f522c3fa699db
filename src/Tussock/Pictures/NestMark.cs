namespace Tussock.Pictures;

/// <summary>What became of a nest, as it is drawn.</summary>
public enum NestMark
{
    /// <summary>Whole at the end.</summary>
    Whole,

    /// <summary>Taken by a predator.</summary>
    Eaten,

    /// <summary>Lost otherwise: trampled, flooded, …</summary>
    OtherLoss,

    /// <summary>Not known.</summary>
    NotKnown,
}

/// <summary>The drawn nests: a bowl with three eggs, an empty bowl crossed out, a hatched bowl with broken shell, a dashed bowl with a question mark.</summary>
public static class NestSymbol
{
    /// <summary>Catalogue key of a mark's word.</summary>
    public static string KeyOf(NestMark mark) => mark switch
    {
        NestMark.Whole => "pictures.whole",
        NestMark.Eaten => "pictures.eaten",
        NestMark.OtherLoss => "pictures.other_loss",
        _ => "pictures.not_known",
    };

    /// <summary>Draws a nest in a square.</summary>
    /// <param name="svg">The picture.</param>
    /// <param name="mark">What became of it.</param>
    /// <param name="x">Centre.</param>
    /// <param name="y">Centre.</param>
    /// <param name="size">Side of the square in points.</param>
    public static void Draw(Svg svg, NestMark mark, double x, double y, double size)
    {
        var (radius, rim, deep) = (size * 0.42, y + (size * 0.05), size * 0.36);
        switch (mark)
        {
            case NestMark.Whole:
                foreach (var dx in (ReadOnlySpan<double>)[-0.2, 0.2, 0]) svg.Ellipse(x + (dx * size), rim - (size * 0.06), size * 0.13, size * 0.19, new Paint(Ink.Paper, Ink.Dark, size * 0.035));
                svg.Bowl(x, rim, radius, deep, new Paint(Ink.Whole, Ink.Dark, size * 0.04));
                break;
            case NestMark.Eaten:
                svg.Bowl(x, rim, radius, deep, new Paint(Ink.Paper, Ink.Eaten, size * 0.06));
                var arm = size * 0.3;
                svg.Line(x - arm, y - arm, x + arm, y + arm, Paint.Line(Ink.Eaten, size * 0.1));
                svg.Line(x - arm, y + arm, x + arm, y - arm, Paint.Line(Ink.Eaten, size * 0.1));
                break;
            case NestMark.OtherLoss:
                svg.Bowl(x, rim, radius, deep, new Paint(Ink.Other, Ink.Dark, size * 0.04));
                foreach (var dx in (ReadOnlySpan<double>)[-0.18, 0, 0.18]) svg.Line(x + (dx * size), rim, x + (dx * size), rim + (deep * 0.8), Paint.Line(Ink.Dark, size * 0.05));
                svg.Points([(x - radius, rim), (x - (radius * 0.5), rim - (size * 0.16)), (x, rim), (x + (radius * 0.5), rim - (size * 0.16)), (x + radius, rim)], false, Paint.Line(Ink.Dark, size * 0.05));
                break;
            default:
                svg.Bowl(x, rim, radius, deep, new Paint(Ink.Unknown, Ink.Dark, size * 0.04, "2 1.5"));
                svg.Text(x, y + (size * 0.3), "?", size * 0.62, Anchor.Middle, Ink.Dark, isBold: true);
                break;
        }
    }
}
