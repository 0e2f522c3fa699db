using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Store;

/// <summary>What to import and how.</summary>
public sealed record ImportRequest
{
    /// <summary>The season's tables, already checked by <see cref="SeasonReading"/>.</summary>
    public required SeasonTables Season { get; init; }

    /// <summary>Who imports.</summary>
    public required string By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset Now { get; init; }

    /// <summary>Whether stored values may be changed without asking.</summary>
    public bool Apply { get; init; }

    /// <summary>Whether rows that the folder no longer has are taken out.</summary>
    public bool RemoveMissing { get; init; }

    /// <summary>Whether only to say what would be done.</summary>
    public bool Preview { get; init; }
}

/// <summary>How an import ended.</summary>
public enum ImportEnd
{
    /// <summary>It was written.</summary>
    Done,

    /// <summary>The folder says nothing new; no byte was written.</summary>
    NothingToDo,

    /// <summary>Nothing was written, as asked.</summary>
    Previewed,

    /// <summary>Stored values would change and nobody has said yes; nothing was written.</summary>
    NeedsApply,

    /// <summary>Something stops it; nothing was written.</summary>
    Stopped,
}

/// <summary>How an import ended, and what it found.</summary>
/// <param name="End">How it ended.</param>
/// <param name="Plan">What it found: counts, findings, problems.</param>
/// <param name="IsNewSeason">Whether the season was new to the data file.</param>
/// <param name="Position">Position of the journal afterwards.</param>
public sealed record ImportOutcome(ImportEnd End, ImportPlan Plan, bool IsNewSeason, long Position)
{
    /// <summary>The findings of one case.</summary>
    public ImmutableArray<ImportFinding> Of(ImportCase one) => [.. Plan.Findings.Where(f => f.Case == one)];
}

/// <summary>What an import is doing.</summary>
public enum ImportStep
{
    /// <summary>Comparing the folder with what is stored.</summary>
    Comparing,

    /// <summary>Writing changes.</summary>
    Writing,

    /// <summary>Finishing: the tables and the disk.</summary>
    Finishing,
}

/// <summary>How far an import is.</summary>
/// <param name="Step">What it is doing.</param>
/// <param name="Done">Changes written.</param>
/// <param name="Total">Changes to write; 0 while that is not known.</param>
public readonly record struct ImportProgress(ImportStep Step, int Done, int Total);
