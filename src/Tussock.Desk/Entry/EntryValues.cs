using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>What the cells of a form mean: letters as tokens, ditto marks as the cell above, the head's values where a new row says nothing.</summary>
internal sealed class EntryValues(EntrySheet sheet, EntryTyped typed)
{
    private readonly Dictionary<string, string> above = new(StringComparer.Ordinal);

    /// <summary>Lines on which something new is typed: none of their records are there yet.</summary>
    private readonly HashSet<string> begun = [.. sheet.Rows.GroupBy(r => r.Line).Where(l => l.All(r => ShownRecord.Read(typed.Shown.GetValueOrDefault(r.Key, "")) is null) && l.Any(r => IsTyped(typed, r, r.Columns))).Select(l => l.Key)];

    /// <summary>Rows that have to say what their line is about: something stands once on it, and none of its rows says anything or is there yet.</summary>
    private readonly HashSet<string> asked = [.. sheet.Rows.Where(r => r.Gist is not null).GroupBy(r => r.Line).Where(l => l.All(r => ShownRecord.Read(typed.Shown.GetValueOrDefault(r.Key, "")) is null && !HasGist(typed, r)) && l.Any(r => IsTyped(typed, r, r.Columns.Where(c => c.IsForLine)))).Select(l => l.First().Key)];

    /// <summary>Whether a row says something: in boxes of its own, or on a line of which nothing is there yet. A line that is begun is to be told whole, unless its rows stand for themselves.</summary>
    internal bool IsUsed(EntryRow row) => row.Gist is null ? begun.Contains(row.Line) || IsTyped(typed, row, row.Columns.Where(c => !c.IsForLine)) : HasGist(typed, row) || asked.Contains(row.Key);

    /// <summary>The cells of a row as typed, read. Rows are asked in the order of the sheet: a ditto mark means the nearest filled cell above.</summary>
    internal ImmutableDictionary<string, string> Own(EntryRow row)
    {
        var own = row.Columns.ToImmutableDictionary(c => c.Name, c => typed.Cell(row, c.Name).Trim() is "\"" or "〃" ? above.GetValueOrDefault(c.Box, "") : c.Read(typed.Cell(row, c.Name)), StringComparer.Ordinal);
        foreach (var column in row.Columns) if (own[column.Name].Length > 0) above[column.Box] = own[column.Name];
        return own;
    }

    /// <summary>What the head says of a column; empty when it says nothing.</summary>
    internal string AtHead(string column) => sheet.Head.FirstOrDefault(c => c.Name == column)?.Read(typed.AtHead(column)) ?? "";

    /// <summary>A new row with what it takes from the head, and what is usual where neither says anything; empty values are left out.</summary>
    internal ImmutableDictionary<string, string> WithHead(EntryRow row, ImmutableDictionary<string, string> own)
    {
        bool IsEmpty(string column) => own.GetValueOrDefault(column, "").Length == 0;
        var head = sheet.Head.Where(c => row.TakesHead && row.Kind.ColumnNamed(c.Name) is not null).ToLookup(c => c.IsForWholeNests);
        foreach (var column in head[false].Where(c => IsEmpty(c.Name))) own = own.SetItem(column.Name, AtHead(column.Name));
        foreach (var (column, usual) in row.Usual) if (IsEmpty(column) && row.Columns.Any(c => c.Name == column)) own = own.SetItem(column, usual);
        if (row.Whole.Column is { } whole && own.GetValueOrDefault(whole) == row.Whole.Token) foreach (var column in head[true].Where(c => IsEmpty(c.Name))) own = own.SetItem(column.Name, AtHead(column.Name));
        return own.Where(v => v.Value.Length > 0 && v.Value != EntryColumn.Nothing).ToImmutableDictionary(StringComparer.Ordinal);
    }

    private static bool HasGist(EntryTyped typed, EntryRow row) => row.Gist is { } gist && typed.Cell(row, gist.Column).Trim() is not ("" or EntryColumn.Nothing);

    private static bool IsTyped(EntryTyped typed, EntryRow row, IEnumerable<EntryColumn> columns) => columns.Any(c => typed.Cell(row, c.Name).Trim().Length > 0);

    /// <summary>Whether two texts of a column mean the same.</summary>
    internal static bool IsSame(RecordKind kind, string column, string one, string other) => Flat(Journal.NaturalKey.Part(kind, column, one)) == Flat(Journal.NaturalKey.Part(kind, column, other));

    /// <summary>A line of a form holds no line ends; a browser leaves them out.</summary>
    private static string Flat(string text) => string.Concat(text.Where(c => c is not ('\n' or '\r'))).Trim();
}
