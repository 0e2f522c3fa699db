namespace Tussock.Records;

/// <summary>One sign read from what is left of a lost nest. May be shared between threads.</summary>
public sealed class Remains
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>Day of the reading, days since set-out; null when neither date nor day was written.</summary>
    public double? Day { get; init; }

    /// <summary>Sign, a token of the catalogue.</summary>
    public required string Sign { get; init; }

    /// <summary>Value, as a token; empty when none was written.</summary>
    public required string Value { get; init; }

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
