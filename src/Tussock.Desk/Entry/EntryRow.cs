using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A row of a sheet: one record, there already or to be made.</summary>
/// <param name="Key">Name of the row in the form.</param>
/// <param name="Called">What the row is called in full.</param>
/// <param name="Kind">Kind of its record.</param>
/// <param name="Fixed">What the place on the sheet says of the record: transect and nest, for example.</param>
/// <param name="Columns">Its boxes, in the order of the sheet.</param>
public sealed record EntryRow(string Key, Phrase Called, RecordKind Kind, ImmutableArray<(string Column, string Value)> Fixed, ImmutableArray<EntryColumn> Columns)
{
    /// <summary>The line of the paper that the row belongs to; several rows of one line are one segment with its classes.</summary>
    public string Line { get; init; } = Key;

    /// <summary>What stands at the line's beginning.</summary>
    public Phrase Number { get; init; } = Called;

    /// <summary>The record that the row shows; null when there is none yet.</summary>
    public RecordState? Record { get; init; }

    /// <summary>Whether the record was there before the work of this sheet was done, so that a row that says something of it takes what the head says too: a planned station.</summary>
    public bool IsPlanned { get; init; }

    /// <summary>Whether what stands at the head is said of its record; of the line itself it is not, though it may have columns of the same name.</summary>
    public bool TakesHead { get; init; } = true;

    /// <summary>What an empty box means, by column.</summary>
    public ImmutableDictionary<string, string> Usual { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>The token that makes what the head says of whole nests hold.</summary>
    public (string Column, string Token) Whole { get; init; }

    /// <summary>What does not go together in a row, given its values: the box and what is told there.</summary>
    public Func<IReadOnlyDictionary<string, string>, IEnumerable<(string Column, Phrase Told)>> Rule { get; init; } = _ => [];

    /// <summary>The box without which the row says nothing, though its line is begun, and what is told where a line says something and none of its rows does; null where a line that is begun is told whole.</summary>
    public (string Column, Phrase Missing)? Gist { get; init; }

    /// <summary>The column that tells records of one place apart; empty when there is one record a place.</summary>
    public string Apart { get; init; } = "";

    /// <summary>The column of the row's date; empty when it has none.</summary>
    public string DateColumn { get; init; } = "";

    /// <summary>Whether a row without a date can't be written.</summary>
    public bool NeedsDate { get; init; }

    /// <summary>Why a date is odd, so that it needs a second press; null when it is not.</summary>
    public Func<DateOnly, Phrase?> Odd { get; init; } = _ => null;

    /// <summary>Why nothing is expected in this row; null when something is.</summary>
    public Phrase? Ended { get; init; }

    /// <summary>Whether a record stands at this row's place on the sheet.</summary>
    public bool Is(RecordState record) => record.Kind == Kind.Name && record.IsCreated && Text(record, FieldName.Void) != "yes" && Fixed.All(f => NaturalKey.Part(Kind, f.Column, Meant(f.Column, Text(record, f.Column))) == NaturalKey.Part(Kind, f.Column, f.Value));

    /// <summary>What is wrong in a new row, given its values: what does not go together, or is missing.</summary>
    internal IEnumerable<(string Column, Phrase Told)> Wrong(IReadOnlyDictionary<string, string> values) => Gist is { } gist && !values.ContainsKey(gist.Column) ? Rule(values).Append(gist) : Rule(values);

    /// <summary>A value of a column, or what its absence means.</summary>
    public string Meant(string column, string text) => text.Length > 0 ? text : Usual.GetValueOrDefault(column, "");

    /// <summary>The value shown of a column; empty when there is none.</summary>
    public static string Text(RecordState? record, string column) => record?.Field(column == FieldName.Void ? column : FieldName.OfColumn(column))?.Value ?? "";
}
