using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text;
using Tussock.Exchange.Reading;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>Reads one CSV file into a table of texts.</summary>
/// <remarks>Rows that have a fault, and rows in which nothing is written, are not in the table. What the cells mean is not looked at here.</remarks>
internal sealed class TableReader
{
    private const int RowsBetweenLooks = 4096;

    private readonly Func<string, bool> isKnown;
    private readonly FileFindings findings;
    private readonly CsvLimits limits;
    private readonly CsvRows rows;
    private readonly bool isTooLong;
    private ImmutableArray<string> columns = [];
    private CellTexts[] texts = [];

    private TableReader(Stream stream, Func<string, bool> isKnown, FileFindings findings, CsvLimits limits, byte separator, byte quote)
    {
        (this.isKnown, this.findings, this.limits) = (isKnown, findings, limits);
        isTooLong = stream.CanSeek && stream.Length > limits.FileBytes;
        if (isTooLong) TellTooLong();
        rows = new CsvRows(stream, limits.RowBytes, isTooLong ? limits.GlanceBytes : limits.FileBytes, Tell, separator, quote);
    }

    /// <summary>Reads the table; null when its header can't be read.</summary>
    /// <exception cref="IOException">The bytes can't be had.</exception>
    internal static RecordTable? Read(Stream stream, RecordKind kind, FileFindings findings, CsvLimits limits, CancellationToken cancel) =>
        Cells(stream, c => kind.ColumnNamed(c) is not null, findings, limits, cancel) is { } read ? new RecordTable(kind, read.Columns, read.Rows) : null;

    /// <summary>Reads header and rows of a table of any kind; null when its header can't be read.</summary>
    /// <param name="stream">The bytes, UTF-8.</param>
    /// <param name="isKnown">Whether a column's name is one that the table may have: tells a wrong separator.</param>
    /// <param name="findings">Where faults go.</param>
    /// <param name="limits">How much is read.</param>
    /// <param name="cancel">Ends the reading.</param>
    /// <param name="separator">What stands between cells.</param>
    /// <param name="quote">What opens and closes a cell that holds separators.</param>
    /// <exception cref="IOException">The bytes can't be had.</exception>
    internal static (ImmutableArray<string> Columns, ImmutableArray<RecordRow> Rows)? Cells(Stream stream, Func<string, bool> isKnown, FileFindings findings, CsvLimits limits, CancellationToken cancel, byte separator = (byte)',', byte quote = (byte)'"') =>
        new TableReader(stream, isKnown, findings, limits, separator, quote).Table(cancel);

    private (ImmutableArray<string> Columns, ImmutableArray<RecordRow> Rows)? Table(CancellationToken cancel)
    {
        if (rows.IsUtf16)
        {
            findings.Stop("utf16", 1, null);
            return null;
        }

        if (!Header()) return null;
        var list = ImmutableArray.CreateBuilder<RecordRow>();
        while (rows.Next())
        {
            if (list.Count % RowsBetweenLooks == 0) cancel.ThrowIfCancellationRequested();
            if (list.Count >= limits.Rows)
            {
                findings.Stop("too_many_rows", rows.Line, null, ("most", limits.Rows));
                break;
            }

            if (Row() is { } row) list.Add(row);
        }

        return (columns, list.DrainToImmutable());
    }

    private bool Header()
    {
        do
        {
            if (rows.Next()) continue;
            findings.Stop("empty_file", null, null, ("file", findings.File));
            return false;
        }
        while (!rows.IsFaulty && rows.IsBlankFrom(0));

        if (rows.IsFaulty) return false;
        var count = rows.Count;
        while (count > 1 && rows.IsBlankFrom(count - 1)) count--;
        if (count > limits.Columns)
        {
            findings.Stop("too_many_columns", rows.Line, null, ("found", count), ("most", limits.Columns));
            return false;
        }

        texts = new CellTexts[count];
        for (var i = 0; i < count; i++) texts[i] = new CellTexts();
        if (Cells(count) is not { } header || IsSeparatedOtherwise(header)) return false;
        columns = ImmutableCollectionsMarshal.AsImmutableArray(header);
        return true;
    }

    private bool IsSeparatedOtherwise(string[] header)
    {
        if (header.Any(h => isKnown(h.Trim()))) return false;
        foreach (var (separator, name) in new[] { (';', "semicolon"), ('\t', "tab"), ('|', "bar") })
        {
            if (!header[0].Contains(separator, StringComparison.Ordinal) || !header[0].Split(separator).Any(h => isKnown(h.Trim(' ', '"')))) continue;
            findings.Stop("wrong_separator", rows.Line, null, ("found", Phrase.Of("folder.separator_" + name)));
            return true;
        }

        return false;
    }

    private RecordRow? Row()
    {
        if (rows.IsFaulty || rows.IsBlankFrom(0)) return null;
        if (rows.Count < columns.Length)
        {
            findings.Stop(rows.IsCutOff ? "cut_off" : "too_few_cells", rows.Line, columns[rows.Count - 1], ("found", rows.Count), ("expected", columns.Length));
            return null;
        }

        if (rows.Count > columns.Length && !rows.IsBlankFrom(columns.Length))
        {
            findings.Stop("too_many_cells", rows.Line, null, ("found", rows.Count), ("expected", columns.Length));
            return null;
        }

        return Cells(columns.Length) is { } cells ? new RecordRow(rows.Line, ImmutableCollectionsMarshal.AsImmutableArray(cells)) : null;
    }

    private string[]? Cells(int count)
    {
        var cells = new string[count];
        var isGood = true;
        for (var i = 0; i < count; i++)
        {
            if (texts[i].Of(rows.Cell(i)) is { } text) cells[i] = text;
            else
            {
                isGood = false;
                findings.Stop("not_utf8", rows.Line, NameOf(i), ("found", TableCheck.Shown(Encoding.Latin1.GetString(rows.Cell(i)))));
            }
        }

        return isGood ? cells : null;
    }

    private void Tell(CsvFault fault)
    {
        var column = NameOf(fault.Cell);
        switch (fault.Kind)
        {
            case CsvFaultKind.UnclosedQuote:
                findings.Stop("unclosed_quote", fault.Line, column, ("most", limits.RowBytes >> 20));
                break;
            case CsvFaultKind.TextAfterQuote:
                findings.Stop("text_after_quote", fault.Line, column, ("line", fault.EndLine));
                break;
            case CsvFaultKind.ZeroByte:
                findings.Stop("zero_byte", fault.Line, column);
                break;
            case CsvFaultKind.RowTooLong:
                findings.Stop("row_too_long", fault.Line, null, ("most", limits.RowBytes >> 20));
                break;
            default:
                if (!isTooLong) TellTooLong();
                break;
        }
    }

    private void TellTooLong() => findings.Stop("file_too_long", null, null, ("most", limits.FileBytes >> 20));

    private string? NameOf(int cell) => cell < columns.Length ? columns[cell] : null;
}
