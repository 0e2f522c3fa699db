using Tussock.Land;

namespace Tussock.Records;

/// <summary>A station and its simulated nest. Identity is transect and number. May be shared between threads.</summary>
public sealed class Nest
{
    /// <summary>Its transect.</summary>
    public required Transect Transect { get; init; }

    /// <summary>Number along the line, 1 … n.</summary>
    public required int Number { get; init; }

    /// <summary>Cover class that the nest sits in; empty when none was written.</summary>
    public required string Cover { get; init; }

    /// <summary>Date of set-out: its own, else the transect's; null = planned, not set.</summary>
    public DateOnly? SetOn { get; init; }

    /// <summary>Local time of set-out, when written.</summary>
    public TimeOnly? SetAt { get; init; }

    /// <summary>What became of the station.</summary>
    public StationStatus Status { get; init; }

    /// <summary>Eggs set, when written.</summary>
    public int? Eggs { get; init; }

    /// <summary>Position of the flag, when taken.</summary>
    public Position? Flag { get; init; }

    /// <summary>Position of the nest, when taken.</summary>
    public Position? At { get; init; }

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }

    /// <summary>Whether a nest was set here and counts: status set, and a date of set-out.</summary>
    public bool IsSet => Status == StationStatus.Set && SetOn is not null;
}
