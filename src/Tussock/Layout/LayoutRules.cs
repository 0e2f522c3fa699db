using System.Collections.Immutable;

namespace Tussock.Layout;

/// <summary>How stations get their turn of a cover class.</summary>
public enum CoverTurns
{
    /// <summary>Odd numbers the first class, even numbers the second; with more classes in turn.</summary>
    InTurn,

    /// <summary>By chance: of as many neighbouring stations as there are classes each class gets one.</summary>
    Drawn,
}

/// <summary>What is asked of a layout.</summary>
/// <param name="Lines">Lines a pasture, 1 to 200; strata of a pasture share them by their area, one each at least.</param>
/// <param name="Stations">Stations a line, 1 to 200.</param>
/// <remarks>Equal when all fields are equal.</remarks>
public sealed record LayoutRules(int Lines, int Stations)
{
    /// <summary>Metres a step of whoever will pace, above 0; default 0.75 m.</summary>
    public double StepM { get; init; } = 0.75;

    /// <summary>Steps from flag to flag; default 50.</summary>
    public int StepsBetween { get; init; } = 50;

    /// <summary>Least metres between two lines; default 100 m.</summary>
    public double SeparationM { get; init; } = 100;

    /// <summary>Least metres from a line to the edge of its pasture; default 0.</summary>
    public double EdgeM { get; init; }

    /// <summary>True bearing along which the land changes, in degrees: lines run along it one way or the other. Null: each line's bearing is drawn.</summary>
    public int? GradientDeg { get; init; }

    /// <summary>Whether a line may have corners where a straight one finds no room; default yes. With a gradient lines are always straight.</summary>
    public bool MayBend { get; init; } = true;

    /// <summary>Cover classes in the season's order; may be empty.</summary>
    public ImmutableArray<string> Covers { get; init; } = [];

    /// <summary>How stations get their turn of a cover class.</summary>
    public CoverTurns Turns { get; init; }

    /// <summary>Whether only every second station of each cover class gets a flag, so that flagged and unflagged nests can be compared; default no.</summary>
    public bool HalfFlagged { get; init; }

    /// <summary>Metres from flag to flag.</summary>
    public double BetweenM => StepM * StepsBetween;
}
