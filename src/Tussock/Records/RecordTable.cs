using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>The rows of one kind of record as text: the neutral form between folder, store and season.</summary>
/// <remarks>
/// Cells are kept exactly as they were written, unknown columns among them, so that a folder that is read and written again has the same
/// values, columns and order. An <c>id</c> column, where the file has one, is among the columns. May be shared between threads.
/// </remarks>
/// <param name="Kind">The kind of record.</param>
/// <param name="Columns">Header, in the order of the file.</param>
/// <param name="Rows">Rows, in the order of the file.</param>
public sealed record RecordTable(RecordKind Kind, ImmutableArray<string> Columns, ImmutableArray<RecordRow> Rows)
{
    /// <summary>Position of a column; −1 when the file lacks it.</summary>
    public int IndexOf(string column) => Columns.IndexOf(column);
}

/// <summary>One row of a table.</summary>
/// <param name="Line">Line in the file, the header being 1; a quoted cell with line ends makes the next row's line greater.</param>
/// <param name="Cells">One text a column of the table; empty where nothing was written.</param>
public sealed record RecordRow(int Line, ImmutableArray<string> Cells);
