namespace Tussock.Records;

/// <summary>What a camera saw at a nest. An animal photographed near a nest is not the act. May be shared between threads.</summary>
public sealed class CameraEvent
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>Day, days since set-out; a date without a time is the whole day's number; a time counts from noon of a set-out without one. Null when it can't be had.</summary>
    public double? Day { get; init; }

    /// <summary>Culprit class as a token; empty when none was written.</summary>
    public required string Culprit { get; init; }

    /// <summary>Whether the animal took eggs; null when not written.</summary>
    public bool? TookEggs { get; init; }

    /// <summary>Eggs taken in this event, when counted.</summary>
    public int? EggsTaken { get; init; }

    /// <summary>Role in the event as a token (passed, looked_in, took_first, …); empty when not written.</summary>
    public string Role { get; init; } = "";

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
