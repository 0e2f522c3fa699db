using System.Buffers;

namespace Tussock.Exchange.Reading;

/// <summary>Walks through the rows of a file of separated values, byte by byte in bounded memory, and says what is wrong with them.</summary>
/// <remarks>
/// Works on bytes because every sign that matters is ASCII and UTF-8 keeps ASCII apart: a cell that is no UTF-8 can so be named by line and column.
/// Quotes open a cell only as its first byte; elsewhere they are text. LF, CRLF and a lone CR end a row. Not for use by two threads.
/// </remarks>
internal sealed class CsvRows
{
    private readonly SearchValues<byte> plainStops, quotedStops;
    private readonly byte separator, quote;
    private readonly Stream stream;
    private readonly int rowBytes;
    private readonly Action<CsvFault> fault;
    private readonly List<int> ends = [];
    private readonly byte[] block = new byte[1 << 16];
    private byte[] row = new byte[1 << 10];
    private long bytesLeft;
    private int at, filled, length, nextLine = 1;
    private bool isDone, zeroTold;

    /// <param name="stream">The bytes.</param>
    /// <param name="rowBytes">Limit of a row in bytes.</param>
    /// <param name="fileBytes">Bytes after which reading ends.</param>
    /// <param name="fault">Told of every fault.</param>
    /// <param name="separator">What stands between cells, an ASCII sign: a comma in everything that is ours.</param>
    /// <param name="quote">What opens and closes a cell that holds separators, an ASCII sign.</param>
    internal CsvRows(Stream stream, int rowBytes, long fileBytes, Action<CsvFault> fault, byte separator = (byte)',', byte quote = (byte)'"')
    {
        (this.separator, this.quote) = (separator, quote);
        quotedStops = SearchValues.Create([quote, (byte)'\n', (byte)'\r', 0]);
        plainStops = SearchValues.Create([separator, (byte)'\n', (byte)'\r', 0]);
        (this.stream, this.rowBytes, this.fault, bytesLeft) = (stream, rowBytes, fault, fileBytes);
        Fill();
        var start = block.AsSpan(0, filled);
        IsUtf16 = start.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || start.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]);
        if (start.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF])) at = 3;
    }

    private enum CellEnd
    {
        Separator,
        Line,
        File,
    }

    /// <summary>Whether the file begins with the mark of UTF-16.</summary>
    internal bool IsUtf16 { get; }

    /// <summary>Line on which the row begins.</summary>
    internal int Line { get; private set; }

    /// <summary>Cells of the row.</summary>
    internal int Count => ends.Count;

    /// <summary>Whether a fault was told of this row; its cells then mean nothing.</summary>
    internal bool IsFaulty { get; private set; }

    /// <summary>Whether the file ends with this row, without a line end.</summary>
    internal bool IsCutOff { get; private set; }

    /// <summary>Bytes of a cell, without its quotes.</summary>
    internal ReadOnlySpan<byte> Cell(int index)
    {
        var start = index == 0 ? 0 : ends[index - 1];
        return row.AsSpan(start, ends[index] - start);
    }

    /// <summary>Whether nothing but blanks stands in the cells from <paramref name="first"/> on.</summary>
    internal bool IsBlankFrom(int first)
    {
        var start = first == 0 ? 0 : ends[first - 1];
        return row.AsSpan(start, length - start).IndexOfAnyExcept(" \t"u8) < 0;
    }

    /// <summary>Goes to the next row; false at the end.</summary>
    internal bool Next()
    {
        ends.Clear();
        length = 0;
        IsFaulty = false;
        Line = nextLine;
        if (isDone || !Fill()) return false;
        CellEnd end;
        do
        {
            end = Fill() && block[at] == quote ? Quoted() : Plain();
            ends.Add(length);
        }
        while (end == CellEnd.Separator);
        IsCutOff = end == CellEnd.File;
        return true;
    }

    private CellEnd Plain()
    {
        while (Fill())
        {
            if (!TakeUntil(plainStops, CsvFaultKind.RowTooLong, nextLine)) return CellEnd.File;
            if (at == filled) continue;
            var stop = block[at++];
            if (stop == separator) return CellEnd.Separator;
            switch (stop)
            {
                case (byte)'\n':
                    nextLine++;
                    return CellEnd.Line;
                case (byte)'\r':
                    if (Fill() && block[at] == (byte)'\n') at++;
                    nextLine++;
                    return CellEnd.Line;
                default:
                    TellZero();
                    if (!Take([0], CsvFaultKind.RowTooLong, nextLine)) return CellEnd.File;
                    break;
            }
        }

        return CellEnd.File;
    }

    private CellEnd Quoted()
    {
        at++;
        var opened = nextLine;
        while (Fill())
        {
            if (!TakeUntil(quotedStops, CsvFaultKind.UnclosedQuote, opened)) return CellEnd.File;
            if (at == filled) continue;
            var stop = block[at++];
            if (stop == 0) TellZero();
            var isTwice = (stop == quote || stop == (byte)'\r') && Fill() && block[at] == (stop == quote ? quote : (byte)'\n');
            if (stop == quote && !isTwice) return AfterQuote(opened);
            if (!Take([stop], CsvFaultKind.UnclosedQuote, opened)) return CellEnd.File;
            if (stop == quote) at++;
            else if (stop == (byte)'\n' || (stop == (byte)'\r' && !isTwice)) nextLine++;
        }

        // Where a limit ended the bytes, nothing is known about the quote.
        if (!isDone) Tell(CsvFaultKind.UnclosedQuote, opened);
        return CellEnd.File;
    }

    private CellEnd AfterQuote(int opened)
    {
        var mark = length;
        var line = nextLine;
        var end = Plain();
        if (length > mark && !isDone) Tell(CsvFaultKind.TextAfterQuote, opened, line);
        return end;
    }

    private bool TakeUntil(SearchValues<byte> stops, CsvFaultKind tooLong, int line)
    {
        var rest = block.AsSpan(at, filled - at);
        var stop = rest.IndexOfAny(stops);
        var taken = stop < 0 ? rest : rest[..stop];
        at += taken.Length;
        return Take(taken, tooLong, line);
    }

    private bool Take(ReadOnlySpan<byte> bytes, CsvFaultKind tooLong, int line)
    {
        if (length + bytes.Length > rowBytes)
        {
            Tell(tooLong, line);
            isDone = true;
            return false;
        }

        if (length + bytes.Length > row.Length) Array.Resize(ref row, Math.Max(2 * row.Length, length + bytes.Length));
        bytes.CopyTo(row.AsSpan(length));
        length += bytes.Length;
        return true;
    }

    private bool Fill()
    {
        if (at < filled) return true;
        if (isDone) return false;
        if (bytesLeft <= 0)
        {
            if (stream.ReadByte() < 0) return false;
            isDone = true;
            Tell(CsvFaultKind.FileTooLong, nextLine);
            return false;
        }

        at = 0;
        filled = stream.Read(block, 0, (int)Math.Min(block.Length, bytesLeft));
        bytesLeft -= filled;
        return filled > 0;
    }

    private void TellZero()
    {
        IsFaulty = true;
        if (zeroTold) return;
        zeroTold = true;
        Tell(CsvFaultKind.ZeroByte, nextLine);
    }

    private void Tell(CsvFaultKind kind, int line, int? endLine = null)
    {
        IsFaulty = true;
        fault(new CsvFault(kind, line, ends.Count, endLine ?? nextLine));
    }
}
