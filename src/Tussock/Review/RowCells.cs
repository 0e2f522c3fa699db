using Tussock.Records;

namespace Tussock.Review;

/// <summary>One column of one file, looked up once and read from many rows.</summary>
internal readonly struct RowCells
{
    private readonly int index;

    internal RowCells(Season season, RecordKind kind, string column) => index = season.Tables.Table(kind)?.IndexOf(column) ?? -1;

    /// <summary>Whether the file has the column.</summary>
    internal bool IsThere => index >= 0;

    /// <summary>Trimmed text; empty when nothing was written.</summary>
    internal string Text(Source source) => index < 0 || index >= source.Row.Cells.Length ? "" : source.Row.Cells[index].Trim();

    internal string Token(Source source) => Cell.Token(Text(source));

    internal double? Number(Source source) => Cell.Number(Text(source));
}
