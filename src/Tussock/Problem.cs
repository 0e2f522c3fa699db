namespace Tussock;

/// <summary>How bad a finding is; the order is the order of the worklist, worst first.</summary>
public enum Severity
{
    /// <summary>Unreadable or ambiguous: stops an import.</summary>
    Stop,

    /// <summary>Readable rows contradict each other: used by the fate rule, put first on the worklist.</summary>
    Contradiction,

    /// <summary>Something that decides the answer is missing, and can still be had.</summary>
    Missing,

    /// <summary>Something was done late or out of order.</summary>
    Late,

    /// <summary>Looks odd: may be right, a careful colleague would ask.</summary>
    Odd,

    /// <summary>Worth knowing; nothing to do.</summary>
    Note,
}

/// <summary>Something wrong with the data or the request: where, what was found, what was expected, what to do.</summary>
/// <param name="Rule">Name of the rule that found it, a stable token, for example <c>intact_after_lost</c>.</param>
/// <param name="Severity">How bad it is.</param>
/// <param name="Place">Where it stands.</param>
/// <param name="What">What was found and what was expected, as a sentence.</param>
/// <param name="ToDo">What to do about it, as a sentence.</param>
public sealed record Problem(string Rule, Severity Severity, Place Place, Phrase What, Phrase ToDo)
{
    /// <summary>Transect that it concerns, when it concerns one.</summary>
    public string? Transect { get; init; }

    /// <summary>Nest that it concerns, when it concerns one.</summary>
    public int? Nest { get; init; }

    /// <summary>Weight inside its severity: more urgent findings have greater weight (default 0).</summary>
    public double Weight { get; init; }
}
