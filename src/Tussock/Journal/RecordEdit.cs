using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>One field of a form that somebody filled in.</summary>
/// <param name="Column">Name of the column.</param>
/// <param name="Was">The value that the form showed.</param>
/// <param name="Value">The value that it came back with.</param>
/// <param name="Heads">The changes behind the value that the form showed.</param>
/// <param name="Settles">Whether people said different things and this is the answer, even when it is the value that was shown.</param>
public sealed record EditedField(string Column, string Was, string Value, ImmutableArray<Guid> Heads, bool Settles = false)
{
    /// <summary>Whether somebody meant this value: a form also sends back what nobody touched.</summary>
    public bool IsTouched => Settles || RecordEdit.Plain(Value) != RecordEdit.Plain(Was);
}

/// <summary>What became of a form: a change to write, or why not.</summary>
/// <param name="Draft">The change; null when nothing is to be written.</param>
/// <param name="Stale">Fields that somebody else has changed since the form was shown, with what stands there now; then nothing is written.</param>
/// <param name="Unreadable">Columns whose new text can't be read, with what was expected; then nothing is written.</param>
public sealed record RecordEdit(Draft? Draft, ImmutableArray<(EditedField Field, FieldState? Now)> Stale, ImmutableArray<(string Column, Phrase Expected)> Unreadable)
{
    /// <summary>Compares a form with the record as it stands.</summary>
    /// <param name="kind">Kind of the record.</param>
    /// <param name="now">The record as it stands.</param>
    /// <param name="fields">The fields of the form.</param>
    /// <returns>A change of exactly the fields that the form changed, replacing the heads that it showed.</returns>
    public static RecordEdit Of(RecordKind kind, RecordState now, IEnumerable<EditedField> fields)
    {
        // Sent twice, or somebody else wrote the same meanwhile: nothing is left to write.
        bool IsThere(EditedField field) => now.Field(FieldName.OfColumn(field.Column)) is { IsConflict: false } state && state.Value == field.Value;
        var changed = fields.Select(f => f with { Value = Plain(f.Value) }).Where(f => f.Settles || (!IsSame(kind.ColumnNamed(f.Column), f.Value, Plain(f.Was)) && !IsThere(f))).ToArray();
        var unreadable = changed.Where(f => kind.ColumnNamed(f.Column) is not null).Select(f => (f.Column, Expected: CellCheck.Expected(kind.ColumnNamed(f.Column)!, f.Value))).Where(f => f.Expected is not null).ToArray();
        var stale = changed.Select(f => (Field: f, Now: now.Field(FieldName.OfColumn(f.Column)))).Where(f => !f.Field.Heads.ToHashSet().SetEquals(f.Now?.HeadIds ?? []) && f.Now?.Value != f.Field.Value).ToArray();
        var draft = changed.Length == 0 || unreadable.Length > 0 || stale.Length > 0 ? null
            : new Draft(now.Kind, now.Id, ChangeOp.Set, [.. changed.Select(f => new FieldChange(FieldName.OfColumn(f.Column), f.Value, now.Field(FieldName.OfColumn(f.Column))?.HeadIds ?? []))]);
        return new RecordEdit(draft, [.. stale], [.. unreadable.Select(u => (u.Column, u.Expected!))]);
    }

    /// <summary>A list shows a token in its own spelling; choosing nothing else is no change.</summary>
    private static bool IsSame(Column? column, string value, string was) => value == was || (column is { Type: ColumnType.Token or ColumnType.YesNo } && Cell.Token(value) == Cell.Token(was));

    internal static string Plain(string text) => text.ReplaceLineEndings("\n").Trim();
}
