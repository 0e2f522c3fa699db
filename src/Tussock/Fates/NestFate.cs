using Tussock.Records;

namespace Tussock.Fates;

/// <summary>What visits and cameras together say about one nest. Days are days since set-out. May be shared between threads.</summary>
public sealed record NestFate
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>Whether it is in the counts; a nest found lost on day 0 or before is in none.</summary>
    public bool IsCounted { get; init; } = true;

    /// <summary>Day of the last intact visit, a ≥ 0; the day at which the watching ended where an artefact ended it.</summary>
    public double LastIntact { get; init; }

    /// <summary>Day of the first visit that found it lost, b &gt; a; null when none did.</summary>
    public double? FirstLost { get; init; }

    /// <summary>Day at which a camera timed the loss, a &lt; t ≤ b; null when none did.</summary>
    public double? LostAt { get; init; }

    /// <summary>Why it was lost.</summary>
    public Cause Cause { get; init; }

    /// <summary>The artefact that ended the watching, as written; null when none did.</summary>
    public string? EndedBy { get; init; }

    /// <summary>Whether a visit after the last intact one did not relocate it, and none found it lost.</summary>
    public bool IsNotRelocated { get; init; }

    /// <summary>Visits with a day after 0, of any finding.</summary>
    public int Visits { get; init; }

    /// <summary>Fate at the first check day.</summary>
    public FateAt Day14 { get; init; }

    /// <summary>Fate at the end of the trial.</summary>
    public FateAt Day28 { get; init; }

    /// <summary>Whether it was lost at all, by visit or camera.</summary>
    public bool IsLost => FirstLost is not null || LostAt is not null;
}
