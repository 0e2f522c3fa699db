using System.Collections.Immutable;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A row of a sheet: one record, there already or to be made.</summary>
/// <param name="Key">Name of the row in the form.</param>
/// <param name="Name">What the row is called on the sheet.</param>
/// <param name="Kind">Kind of its record.</param>
/// <param name="Fixed">What the place on the sheet says of the record: transect and nest.</param>
/// <param name="Columns">Its boxes, in the order of the sheet.</param>
public sealed record EntryRow(string Key, string Name, RecordKind Kind, ImmutableArray<(string Column, string Value)> Fixed, ImmutableArray<EntryColumn> Columns)
{
    /// <summary>The record that the row shows; null when there is none yet.</summary>
    public RecordState? Record { get; init; }

    /// <summary>The column without which the row says nothing; empty when there is none.</summary>
    public string Gist { get; init; } = "";

    /// <summary>The column of the row's date, which tells records of one nest apart; empty when there is one record a place.</summary>
    public string DateColumn { get; init; } = "";

    /// <summary>The dates that are expected; null while nothing is set out.</summary>
    public CheckWindow? Window { get; init; }

    /// <summary>Why nothing is expected in this row; null when something is.</summary>
    public Phrase? Ended { get; init; }

    /// <summary>Whether a record stands at this row's place on the sheet.</summary>
    public bool Is(RecordState record) => record.Kind == Kind.Name && record.IsCreated && Text(record, FieldName.Void) != "yes" && Fixed.All(f => NaturalKey.Part(Kind, f.Column, Text(record, f.Column)) == NaturalKey.Part(Kind, f.Column, f.Value));

    /// <summary>The value shown of a column; empty when there is none.</summary>
    public static string Text(RecordState? record, string column) => record?.Field(column == FieldName.Void ? column : FieldName.OfColumn(column))?.Value ?? "";
}
