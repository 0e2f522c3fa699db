namespace Tussock.Records;

/// <summary>A table with the positions of the columns that a reader asks for, looked up once.</summary>
internal sealed class TableColumns
{
    private readonly RecordTable table;
    private readonly Dictionary<string, int> index = new(StringComparer.Ordinal);

    internal TableColumns(RecordTable table)
    {
        this.table = table;
        for (var i = 0; i < table.Columns.Length; i++) index.TryAdd(table.Columns[i], i);
    }

    internal RecordTable Table => table;

    internal string Text(RecordRow row, string column)
    {
        if (!index.TryGetValue(column, out var i) || i >= row.Cells.Length) return "";
        var text = row.Cells[i];
        return text.Length == 0 || (!char.IsWhiteSpace(text[0]) && !char.IsWhiteSpace(text[^1])) ? text : text.Trim();
    }

    internal double? Number(RecordRow row, string column) => Cell.Number(Text(row, column));

    internal int? Whole(RecordRow row, string column) => Cell.Whole(Text(row, column));

    internal DateOnly? Date(RecordRow row, string column) => Cell.Date(Text(row, column));

    internal TimeOnly? Time(RecordRow row, string column) => Text(row, column) is { Length: > 0 } text ? Cell.Time(text) : null;

    internal string Token(RecordRow row, string column) => Cell.Token(Text(row, column));

    internal Land.Position? Position(RecordRow row, string latitude, string longitude) =>
        Number(row, latitude) is { } north && Number(row, longitude) is { } east ? new Land.Position(north, east) : null;

    internal Source Source(RecordRow row) => new(table, row);
}
