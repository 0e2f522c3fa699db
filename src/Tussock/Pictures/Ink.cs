namespace Tussock.Pictures;

/// <summary>The colours of all pictures: told apart by colour-blind people and, by their lightness and pattern, in grey print.</summary>
/// <remarks>No meaning ever hangs on colour alone: each has its shape, pattern or word beside it.</remarks>
/// <source>Okabe &amp; Ito 2008, Color Universal Design (jfly.uni-koeln.de/color); greys are our own.</source>
public static class Ink
{
    /// <summary>Blue: whole nests, estimates.</summary>
    public const string Whole = "#0072B2";

    /// <summary>Vermillion: taken by a predator.</summary>
    public const string Eaten = "#D55E00";

    /// <summary>Yellow: lost otherwise; light, and always hatched.</summary>
    public const string Other = "#F0E442";

    /// <summary>Light grey: not known.</summary>
    public const string Unknown = "#E6E6E6";

    /// <summary>Sky blue: rain, water.</summary>
    public const string Water = "#56B4E9";

    /// <summary>Bluish green: the third of several classes, dotted.</summary>
    public const string ClassThree = "#009E73";

    /// <summary>Reddish purple: the fourth of several classes, dashed and dotted.</summary>
    public const string ClassFour = "#CC79A7";

    /// <summary>Near black: lines and outlines that stand on paper.</summary>
    public const string Dark = "#222222";

    /// <summary>Middle grey: grids, axes.</summary>
    public const string Grid = "#8C8C8C";

    /// <summary>Pale grey: bands and backgrounds.</summary>
    public const string Pale = "#EFEFEF";

    /// <summary>White, of eggs and of paper.</summary>
    public const string Paper = "#FFFFFF";

    /// <summary>The dash of every benchmark line.</summary>
    public const string BenchmarkDash = "5 3";
}
