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
    /// <remarks>Cost: one look at each row where a text is asked for; else only at the rows of the page, once the table's order by the column is known.</remarks>
    public static ShownRows Of(RecordTable table, TableAsked asked)
    {
        var known = TableOrder.Of(table);
        var sort = asked.Sort == "id" ? -1 : table.IndexOf(asked.Sort);
        var order = sort >= 0 ? known.By(sort, asked.Descending) : null;
        var found = asked.Text.Length > 0 ? known.With(asked.Text, order) : order;
        var count = found?.Length ?? table.Rows.Length;
        var pages = Math.Max(1, (count + RowsAPage - 1) / RowsAPage);
        var page = Math.Clamp(asked.Page, 1, pages);
        var first = (page - 1) * RowsAPage;
        return new ShownRows(known.Filled, [.. Enumerable.Range(first, Math.Min(RowsAPage, count - first)).Select(i => table.Rows[found?[i] ?? i])], count, pages, page);
    }
}
