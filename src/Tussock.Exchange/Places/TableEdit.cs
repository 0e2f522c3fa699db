using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>A table some of whose cells are changed; columns that it lacks are added behind, before <c>id</c> where that is the last.</summary>
internal sealed class TableEdit(RecordTable table)
{
    private readonly Dictionary<(int Row, string Column), string> changed = [];

    /// <summary>Whether a cell was changed.</summary>
    internal bool IsChanged => changed.Count > 0;

    internal string Text(int row, string column) => changed.GetValueOrDefault((row, column)) ?? new Source(table, table.Rows[row]).Text(column);

    internal void Set(int row, string column, string text)
    {
        if (Text(row, column) != text) changed[(row, column)] = text;
    }

    internal RecordTable Made()
    {
        if (changed.Count == 0) return table;
        var added = changed.Keys.Select(c => c.Column).Distinct().Where(c => table.IndexOf(c) < 0).OrderBy(c => table.Kind.Columns.Select(k => k.Name).ToList().IndexOf(c)).ToArray();
        var at = table.Columns is [.., "id"] ? table.Columns.Length - 1 : table.Columns.Length;
        var columns = table.Columns.InsertRange(at, added);
        var rows = table.Rows.ToBuilder();
        var byRow = changed.ToLookup(c => c.Key.Row);
        for (var row = 0; row < rows.Count; row++)
        {
            if (added.Length == 0 && !byRow.Contains(row)) continue;
            var cells = rows[row].Cells.ToBuilder();
            while (cells.Count < table.Columns.Length) cells.Add("");
            cells.InsertRange(at, added.Select(_ => ""));
            foreach (var (key, text) in byRow[row]) cells[columns.IndexOf(key.Column)] = text;
            rows[row] = rows[row] with { Cells = cells.ToImmutable() };
        }

        return table with { Columns = columns, Rows = rows.ToImmutable() };
    }
}
