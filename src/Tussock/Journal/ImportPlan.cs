using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>What an import finds about one value, or one row, that is stored already.</summary>
public enum ImportCase
{
    /// <summary>The folder changed the value: it is applied.</summary>
    Changed,

    /// <summary>Folder and data changed the value differently: both are kept, the folder's is shown until somebody settles it.</summary>
    Conflict,

    /// <summary>The data changed the value and the folder did not: the data's stays.</summary>
    Kept,

    /// <summary>The row is no longer in the folder: it stays in the data.</summary>
    Missing,

    /// <summary>The row is no longer in the folder: it is taken out of the data, as asked.</summary>
    Removed,

    /// <summary>The row is in the folder again: it comes back into the data.</summary>
    Returned,
}

/// <summary>One thing for people to look at before or after an import.</summary>
/// <param name="Case">What was found.</param>
/// <param name="Kind">Kind of the record.</param>
/// <param name="Record">Its id.</param>
/// <param name="Key">Its natural key as people read it.</param>
/// <param name="Field">The field; empty when the whole row is meant.</param>
/// <param name="Stored">Value in the data.</param>
/// <param name="Incoming">Value in the folder.</param>
/// <param name="Line">Line in the folder's file; 0 when the row is not there.</param>
public sealed record ImportFinding(ImportCase Case, string Kind, Guid Record, string Key, string Field, string Stored, string Incoming, int Line)
{
    /// <summary>Whether it would change a value, or take away or bring back a row, that a person may have relied on.</summary>
    public bool ChangesStored => Case is ImportCase.Changed or ImportCase.Conflict or ImportCase.Removed or ImportCase.Returned
        && Kind != JournalKind.Table && !(Kind == JournalKind.Season && !Field.StartsWith("season.", StringComparison.Ordinal) && !Field.StartsWith("package.", StringComparison.Ordinal));
}

/// <summary>How many rows of a kind an import finds in which case; a row with several changed values counts once.</summary>
/// <param name="Kind">Kind of the record.</param>
/// <param name="Rows">Rows in the folder.</param>
/// <param name="New">New rows.</param>
/// <param name="Changed">Rows with changed values, rows that come back among them.</param>
/// <param name="Conflicts">Rows with a value in conflict.</param>
/// <param name="Kept">Rows with a value of the data that stays.</param>
/// <param name="Missing">Rows not in the folder that stay.</param>
/// <param name="Removed">Rows not in the folder that are taken out.</param>
public sealed record ImportCount(string Kind, int Rows, int New, int Changed, int Conflicts, int Kept, int Missing, int Removed);

/// <summary>All that an import would do, worked out before anything is written.</summary>
public sealed record ImportPlan
{
    /// <summary>Id of the season.</summary>
    public required Guid Season { get; init; }

    /// <summary>What stops it; nothing else is worked out then.</summary>
    public ImmutableArray<Problem> Problems { get; init; } = [];

    /// <summary>Changes to write, in order.</summary>
    public ImmutableArray<Draft> Drafts { get; init; } = [];

    /// <summary>What people should look at, in the order of the folder.</summary>
    public ImmutableArray<ImportFinding> Findings { get; init; } = [];

    /// <summary>Counts for each kind that the folder or the data has rows of; describing kinds are left out.</summary>
    public ImmutableArray<ImportCount> Counts { get; init; } = [];

    /// <summary>Digests to remember.</summary>
    public ImmutableArray<KeyValuePair<Guid, RowDigest>> Digests { get; init; } = [];

    /// <summary>Records whose digests to forget.</summary>
    public ImmutableArray<Guid> Forgotten { get; init; } = [];

    /// <summary>Fields that digests are made of, by kind.</summary>
    public ImmutableSortedDictionary<string, ImmutableArray<string>> DigestFields { get; init; } = ImmutableSortedDictionary<string, ImmutableArray<string>>.Empty;

    /// <summary>Whether there is nothing to do.</summary>
    public bool IsNothing => Drafts.IsEmpty && Digests.IsEmpty && Forgotten.IsEmpty;

    /// <summary>Whether stored values would change, so that somebody has to say yes.</summary>
    public bool ChangesStored => Findings.Any(f => f.ChangesStored);
}
