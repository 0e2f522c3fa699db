using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Desk;

/// <summary>The rows of a table that a page shows, and the columns that hold anything.</summary>
/// <param name="Columns">Columns with a filled cell, and those of the key; positions in the table.</param>
/// <param name="Rows">The rows of the page.</param>
/// <param name="Found">How many rows fit what was asked.</param>
/// <param name="Pages">How many pages they fill, at least one.</param>
/// <param name="Page">The page shown.</param>
public sealed record ShownRows(ImmutableArray<int> Columns, ImmutableArray<RecordRow> Rows, int Found, int Pages, int Page)
{
    /// <summary>Rows on a page.</summary>
    public const int RowsAPage = 100;

    /// <summary>Filters, sorts and cuts: numbers by their size, anything else as text; rows without a value come last.</summary>
    public static ShownRows Of(RecordTable table, TableAsked asked)
    {
        var columns = Enumerable.Range(0, table.Columns.Length).Where(i => table.Columns[i] != "id" && (table.Kind.Key.Contains(table.Columns[i]) || table.Rows.Any(r => i < r.Cells.Length && r.Cells[i].Length > 0))).ToImmutableArray();
        IEnumerable<RecordRow> rows = table.Rows;
        if (asked.Text.Length > 0) rows = rows.Where(r => r.Cells.Any(c => c.Contains(asked.Text, StringComparison.OrdinalIgnoreCase)));
        var sort = table.IndexOf(asked.Sort);
        if (sort >= 0)
        {
            var keyed = rows.Select(r => (Row: r, Text: sort < r.Cells.Length ? r.Cells[sort] : "")).Select(r => (r.Row, r.Text, Number: Cell.Number(r.Text))).ToArray();
            var order = keyed.OrderBy(r => r.Text.Length == 0);
            order = asked.Descending
                ? order.ThenByDescending(r => r.Number ?? double.NegativeInfinity).ThenByDescending(r => r.Text, StringComparer.Ordinal)
                : order.ThenBy(r => r.Number ?? double.PositiveInfinity).ThenBy(r => r.Text, StringComparer.Ordinal);
            rows = order.Select(r => r.Row);
        }

        var found = rows.ToArray();
        var pages = Math.Max(1, (found.Length + RowsAPage - 1) / RowsAPage);
        var page = Math.Clamp(asked.Page, 1, pages);
        return new ShownRows(columns, [.. found.Skip((page - 1) * RowsAPage).Take(RowsAPage)], found.Length, pages, page);
    }
}
