namespace Tussock.Records;

/// <summary>One cover class counted on one segment of a belt, once. May be shared between threads.</summary>
public sealed class Segment
{
    /// <summary>The transect.</summary>
    public required Transect Transect { get; init; }

    /// <summary>Number of the segment; segment k lies between flags k − 1 and k.</summary>
    public required int Number { get; init; }

    /// <summary>Cover class counted; empty when none was written.</summary>
    public required string Cover { get; init; }

    /// <summary>Suitable clumps; null when not counted.</summary>
    public int? Clumps { get; init; }

    /// <summary>Steps walked, when written.</summary>
    public double? Steps { get; init; }

    /// <summary>Metres a step: its own, else the transect's.</summary>
    public double? StepM { get; init; }

    /// <summary>Width of the belt in metres (width, else arm span), both sides.</summary>
    public double? WidthM { get; init; }

    /// <summary>1 for the first pass, 2 for the second.</summary>
    public int Pass { get; init; } = 1;

    /// <summary>Whether only one side was counted, so that half the width counts.</summary>
    public bool IsOneSided { get; init; }

    /// <summary>Whether it was counted at all. Not counted is not zero.</summary>
    public bool IsCounted { get; init; } = true;

    /// <summary>Observer; empty when not written.</summary>
    public string Observer { get; init; } = "";

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }

    /// <summary>Area of the belt's piece in square metres; null when steps, step length or width are missing.</summary>
    public double? AreaM2 => Steps is { } steps && StepM is { } step && WidthM is { } width ? steps * step * width * (IsOneSided ? 0.5 : 1) : null;
}
