namespace Tussock.Models;

/// <summary>What counts as the end of a nest.</summary>
public enum Outcome
{
    /// <summary>Every loss.</summary>
    Survival,

    /// <summary>Predation alone: a nest lost otherwise is watched to its last intact visit. Answers what would be if only predation existed and causes were unrelated.</summary>
    Predation,
}
