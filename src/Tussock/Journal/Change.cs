using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>What a change does to its record.</summary>
public enum ChangeOp
{
    /// <summary>Makes the record and fills its first fields.</summary>
    Create,

    /// <summary>Sets fields of a record.</summary>
    Set,

    /// <summary>Takes the record out of the season, or puts it back; the record and its history stay.</summary>
    Void,
}

/// <summary>A new value of one field, and the changes that whoever wrote it saw and meant to replace.</summary>
/// <param name="Name">Name of the field, see <see cref="FieldName"/>.</param>
/// <param name="Value">The value as text; empty = nothing written.</param>
/// <param name="Replaces">Ids of the changes whose value of this field it replaces; none: it was written without sight of another.</param>
public readonly record struct FieldChange(string Name, string Value, ImmutableArray<Guid> Replaces);

/// <summary>A change before it is signed: what to do to which record, and where that comes from.</summary>
/// <param name="Kind">Kind of the record, see <see cref="JournalKind"/>.</param>
/// <param name="Record">Id of the record.</param>
/// <param name="Op">What it does.</param>
/// <param name="Fields">The fields that it sets, in order, each once.</param>
/// <param name="Source">Where it comes from, for example <c>nests.csv:12</c>; empty when it was typed.</param>
public sealed record Draft(string Kind, Guid Record, ChangeOp Op, ImmutableArray<FieldChange> Fields, string Source = "");

/// <summary>One entry of the journal: who changed which fields of which record, when, and what that replaced. Never altered once written.</summary>
/// <remarks>Two changes with one id are one change. Times are said, never used: no clock decides anything. May be shared between threads.</remarks>
public sealed record Change
{
    /// <summary>Id; ids grow with time on one device, and the greatest of two that contradict each other is the one shown.</summary>
    public required Guid Id { get; init; }

    /// <summary>Id of the batch that it was written in: all of a batch is there, or nothing.</summary>
    public required Guid Batch { get; init; }

    /// <summary>Phone, or data file, that it was made on.</summary>
    public required string Device { get; init; }

    /// <summary>Running number on that device; unique together with it.</summary>
    public required long DeviceSeq { get; init; }

    /// <summary>Id of the season.</summary>
    public required Guid Season { get; init; }

    /// <summary>Kind of the record, see <see cref="JournalKind"/>.</summary>
    public required string Kind { get; init; }

    /// <summary>Id of the record.</summary>
    public required Guid Record { get; init; }

    /// <summary>What it does.</summary>
    public required ChangeOp Op { get; init; }

    /// <summary>The fields that it sets, in order, each once.</summary>
    public required ImmutableArray<FieldChange> Fields { get; init; }

    /// <summary>Who.</summary>
    public required string By { get; init; }

    /// <summary>When the device says that it was made, with the device's offset from UTC.</summary>
    public required DateTimeOffset SaidAt { get; init; }

    /// <summary>When it came into this data file.</summary>
    public required DateTimeOffset CameAt { get; init; }

    /// <summary>Where it comes from, for example <c>nests.csv:12</c>; empty when it was typed.</summary>
    public string Source { get; init; } = "";

    /// <summary>Order of arrival in this data file, from 1; only for "what is new since", never for meaning.</summary>
    public long Position { get; init; }

    /// <summary>Format of the change, so that later versions can read it.</summary>
    public int Format { get; init; } = 1;
}
