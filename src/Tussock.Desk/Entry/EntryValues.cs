using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>What the cells of a form mean: letters as tokens, ditto marks as the cell above, the head's values where a new row says nothing.</summary>
internal sealed class EntryValues(EntrySheet sheet, EntryTyped typed)
{
    private readonly Dictionary<string, string> above = new(StringComparer.Ordinal);

    /// <summary>The cells of a row as typed, read. Rows are asked in the order of the sheet: a ditto mark means the nearest filled cell above.</summary>
    internal ImmutableDictionary<string, string> Own(EntryRow row)
    {
        var own = row.Columns.ToImmutableDictionary(c => c.Name, c => typed.Cell(row, c.Name).Trim() is "\"" or "〃" ? above.GetValueOrDefault(c.Name, "") : c.Read(typed.Cell(row, c.Name)), StringComparer.Ordinal);
        foreach (var (column, text) in own) if (text.Length > 0) above[column] = text;
        return own;
    }

    /// <summary>What the head says of a column; empty when it says nothing.</summary>
    internal string AtHead(string column) => sheet.Head.FirstOrDefault(c => c.Name == column)?.Read(typed.AtHead(column)) ?? "";

    /// <summary>A new row with what it takes from the head; empty values are left out.</summary>
    internal ImmutableDictionary<string, string> WithHead(EntryRow row, ImmutableDictionary<string, string> own)
    {
        var isWhole = own.GetValueOrDefault("finding") == "intact";
        foreach (var column in sheet.Head.Where(c => row.Kind.ColumnNamed(c.Name) is not null && own.GetValueOrDefault(c.Name, "").Length == 0 && (!c.IsForWholeNests || isWhole))) own = own.SetItem(column.Name, AtHead(column.Name));
        return own.Where(v => v.Value.Length > 0 && v.Value != EntryColumn.Nothing).ToImmutableDictionary(StringComparer.Ordinal);
    }

    /// <summary>Whether two texts of a column mean the same.</summary>
    internal static bool IsSame(RecordKind kind, string column, string one, string other) => Flat(Journal.NaturalKey.Part(kind, column, one)) == Flat(Journal.NaturalKey.Part(kind, column, other));

    /// <summary>A line of a form holds no line ends; a browser leaves them out.</summary>
    private static string Flat(string text) => string.Concat(text.Where(c => c is not ('\n' or '\r'))).Trim();
}
