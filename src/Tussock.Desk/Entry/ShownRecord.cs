using System.Collections.Immutable;
using Tussock.Journal;

namespace Tussock.Desk.Entry;

/// <summary>The record that a row of a form showed, with the changes behind each of its values: one text, which the form carries along.</summary>
/// <param name="Id">Id of the record.</param>
/// <param name="Heads">Changes by column.</param>
public sealed record ShownRecord(Guid Id, ImmutableDictionary<string, ImmutableArray<Guid>> Heads)
{
    /// <summary>The text; empty when there is no record.</summary>
    public static string Text(RecordState? record, IEnumerable<string> columns) => record is null ? "" : record.Id + string.Concat(columns.Distinct().Select(c => (Column: c, State: record.Field(FieldName.OfColumn(c)))).Where(c => c.State is not null).Select(c => ";" + c.Column + "=" + string.Join(',', c.State!.HeadIds)));

    /// <summary>Reads the text; null when it means no record.</summary>
    public static ShownRecord? Read(string text)
    {
        var parts = text.Split(';');
        return Guid.TryParse(parts[0], out var id)
            ? new ShownRecord(id, parts.Skip(1).Select(p => p.Split('=')).Where(p => p.Length == 2).DistinctBy(p => p[0], StringComparer.Ordinal).ToImmutableDictionary(p => p[0], p => p[1].Split(',').Select(h => Guid.TryParse(h, out var head) ? head : Guid.Empty).ToImmutableArray(), StringComparer.Ordinal))
            : null;
    }

    /// <summary>The changes behind a value that the form showed.</summary>
    public ImmutableArray<Guid> Of(string column) => Heads.GetValueOrDefault(column, []);

    /// <summary>The value that the form showed, as the changes behind it wrote it.</summary>
    public string Was(string column, IEnumerable<Change> changes)
    {
        var heads = Of(column);
        return heads.IsEmpty ? "" : changes.Where(c => heads.Contains(c.Id)).OrderBy(c => c.Id).SelectMany(c => c.Fields.Where(f => f.Name == FieldName.OfColumn(column))).LastOrDefault().Value ?? "";
    }
}
