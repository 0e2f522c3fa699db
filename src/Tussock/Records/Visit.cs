namespace Tussock.Records;

/// <summary>One look at one nest. A visit is a row and stays a row. May be shared between threads.</summary>
public sealed class Visit
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>Local date, when the visit was written with one.</summary>
    public DateOnly? VisitedOn { get; init; }

    /// <summary>Local time, when written.</summary>
    public TimeOnly? VisitedAt { get; init; }

    /// <summary>Days since set-out: as written, or the difference of dates (of times too when both are written); null when the nest has no date of set-out.</summary>
    public double? Day { get; init; }

    /// <summary>What was found, as written.</summary>
    public required Finding Finding { get; init; }

    /// <summary>Eggs found whole, when counted.</summary>
    public int? EggsIntact { get; init; }

    /// <summary>Cause of another loss as a token; empty when none was written.</summary>
    public string Cause { get; init; } = "";

    /// <summary>Observer; empty when not written.</summary>
    public string Observer { get; init; } = "";

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
