using Tussock.Land;

namespace Tussock.Records;

/// <summary>A flagged walking line with nests at equal steps.</summary>
/// <remarks>Identity is the name, unique in the season. May be shared between threads.</remarks>
public sealed class Transect
{
    /// <summary>Name, unique in the season.</summary>
    public required string Name { get; init; }

    /// <summary>Its pasture.</summary>
    public required Pasture Pasture { get; init; }

    /// <summary>Lasting name of the flag line; the transect's own name where none was given. Two transects on one flag line are one cluster.</summary>
    public required string Line { get; init; }

    /// <summary>Date of set-out; null = planned, not set.</summary>
    public DateOnly? SetOn { get; init; }

    /// <summary>Metres a step of whoever paced the line, when given.</summary>
    public double? StepM { get; init; }

    /// <summary>Steps between flags, when given.</summary>
    public double? StepsBetween { get; init; }

    /// <summary>Start flag, when given.</summary>
    public Position? Start { get; init; }

    /// <summary>End flag, when given.</summary>
    public Position? End { get; init; }

    /// <summary>True bearing of the line in degrees, when given.</summary>
    public double? BearingTrueDeg { get; init; }

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
