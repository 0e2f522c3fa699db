using System.Collections.Immutable;
using Tussock.Journal;

namespace Tussock.Desk;

/// <summary>One record as its page shows it: as it stands, its history, and what somebody tried to write and could not.</summary>
/// <param name="Record">The record.</param>
/// <param name="Changes">All its changes.</param>
/// <param name="Tried">What came back with the form, by column; empty when nothing did.</param>
/// <param name="Stale">Fields that somebody else had changed meanwhile.</param>
/// <param name="Unreadable">Columns whose text can't be read, with what was expected.</param>
/// <param name="IsSaved">Whether it was just written.</param>
public sealed record RecordForm(RecordState Record, ImmutableArray<Change> Changes, ImmutableDictionary<string, string> Tried, ImmutableArray<(EditedField Field, FieldState? Now)> Stale, ImmutableArray<(string Column, Phrase Expected)> Unreadable, bool IsSaved);
