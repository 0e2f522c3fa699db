namespace Tussock.Records;

/// <summary>The row from which a record was read: its place, and every column of it by name.</summary>
/// <param name="Table">The table.</param>
/// <param name="Row">The row of it.</param>
public readonly record struct Source(RecordTable Table, RecordRow Row)
{
    /// <summary>Text of a column, trimmed; empty when the cell is empty or the column is not there.</summary>
    public string Text(string column)
    {
        var index = Table.IndexOf(column);
        return index < 0 || index >= Row.Cells.Length ? "" : Row.Cells[index].Trim();
    }

    /// <summary>Number in a column; null when there is none or it can't be read.</summary>
    public double? Number(string column) => Cell.Number(Text(column));

    /// <summary>Date in a column; null when there is none or it can't be read.</summary>
    public DateOnly? Date(string column) => Cell.Date(Text(column));

    /// <summary>yes or no in a column; null when there is neither.</summary>
    public bool? YesNo(string column) => Cell.YesNo(Text(column));

    /// <summary>Token in a column, in its canonical spelling; empty when there is none.</summary>
    public string Token(string column) => Cell.Token(Text(column));

    /// <summary>Place of a column of this row.</summary>
    public Place Place(string? column = null) => new(Table.Kind.File, Row.Line, column);
}
