using System.Buffers;
using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>Writes a table as comma-separated text: line feeds, quotes only where a cell needs them.</summary>
public static class CsvText
{
    private static readonly SearchValues<char> NeedQuotes = SearchValues.Create(",\"\r\n");

    /// <summary>Writes header and rows.</summary>
    internal static void Write(RecordTable table, TextWriter to, CancellationToken cancel)
    {
        Row(table.Columns, table.Columns.Length, to);
        foreach (var row in table.Rows)
        {
            cancel.ThrowIfCancellationRequested();
            Row(row.Cells, table.Columns.Length, to);
        }
    }

    /// <summary>Writes header and rows of a table of any kind.</summary>
    internal static void Rows(ImmutableArray<string> columns, IEnumerable<string[]> rows, TextWriter to)
    {
        Row(columns, columns.Length, to);
        foreach (var row in rows) Row([.. row], columns.Length, to);
    }

    /// <summary>Header and rows for a spreadsheet: a text that a spreadsheet would take for a formula is marked as text.</summary>
    public static string OfCells(ImmutableArray<string> columns, ImmutableArray<ImmutableArray<string>> rows)
    {
        using var to = new StringWriter { NewLine = "\n" };
        Row(columns, columns.Length, to);
        foreach (var row in rows) Row([.. row.Select(Harmless)], columns.Length, to);
        return to.ToString();
    }

    private static string Harmless(string text) => text.Length > 0 && (text[0] is '=' or '+' or '-' or '@' or '\t') && Records.Cell.Number(text) is null ? "'" + text : text;

    private static void Row(ImmutableArray<string> cells, int count, TextWriter to)
    {
        for (var i = 0; i < count; i++)
        {
            if (i > 0) to.Write(',');
            if (i < cells.Length) Cell(cells[i], to);
        }

        to.Write('\n');
    }

    private static void Cell(string text, TextWriter to)
    {
        // The mark of UTF-8 at the very beginning would be taken for the file's own.
        if (text.AsSpan().IndexOfAny(NeedQuotes) < 0 && !text.StartsWith('\uFEFF'))
        {
            to.Write(text);
            return;
        }

        to.Write('"');
        to.Write(text.Replace("\"", "\"\"", StringComparison.Ordinal));
        to.Write('"');
    }
}
