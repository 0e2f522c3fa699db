using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>Kinds of record that the journal knows: those of the folder, and three that describe the folder itself.</summary>
public static class JournalKind
{
    /// <summary>The season: one record, its id the season's; a field for each property of the description.</summary>
    public const string Season = "season";

    /// <summary>A table: its columns in order. The record's natural key is the name of the table's kind.</summary>
    public const string Table = "table";

    /// <summary>Another file of the folder: its name and its text.</summary>
    public const string Text = "text";

    /// <summary>All kinds, describing ones first.</summary>
    public static ImmutableArray<string> All { get; } = [Season, Table, Text, .. RecordKind.All.Select(k => k.Name)];
}
