using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Checks one table against its kind: header, cells, row widths. Says everything that is wrong, not the first thing only.</summary>
public static class TableCheck
{
    /// <summary>Adds what is wrong with the header and the cells of a table.</summary>
    /// <param name="table">The table.</param>
    /// <param name="problems">Where findings go.</param>
    public static void Cells(RecordTable table, ICollection<Problem> problems)
    {
        Header(table, problems);
        for (var i = 0; i < table.Columns.Length; i++)
        {
            if (table.Kind.ColumnNamed(table.Columns[i]) is not { } column || (column.Type is ColumnType.Text or ColumnType.Direction && !column.IsRequired)) continue;
            foreach (var row in table.Rows)
            {
                var text = i < row.Cells.Length ? row.Cells[i].AsSpan().Trim().Length == row.Cells[i].Length ? row.Cells[i] : row.Cells[i].Trim() : "";
                if (CellCheck.Expected(column, text) is { } expected) problems.Add(Unreadable(table, row, column.Name, text, expected));
            }
        }
    }

    /// <summary>A finding that a cell can't be read.</summary>
    public static Problem Unreadable(RecordTable table, RecordRow row, string column, string found, Phrase expected) =>
        new("unreadable_cell", Severity.Stop, new Place(table.Kind.File, row.Line, column),
            Phrase.Of("reading.cell", ("column", column), ("found", found.Length == 0 ? Phrase.Of("reading.nothing") : Shown(found)), ("expected", expected)),
            Phrase.Of("reading.cell_todo"));

    /// <summary>Text of a cell as it is shown in a sentence: quoted, cut at 60 characters, without line ends.</summary>
    public static string Shown(string found)
    {
        var line = found.ReplaceLineEndings(" ");
        return "“" + (line.Length > 60 ? string.Concat(line.AsSpan(0, 60), "…") : line) + "”";
    }

    private static void Header(RecordTable table, ICollection<Problem> problems)
    {
        var place = new Place(table.Kind.File, 1);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var name in table.Columns)
        {
            if (!seen.Add(name)) problems.Add(new Problem("column_twice", Severity.Stop, place with { Column = name }, Phrase.Of("reading.column_twice", ("column", name)), Phrase.Of("reading.column_twice_todo")));
        }

        foreach (var column in table.Kind.Columns)
        {
            if (!column.IsInHeader || seen.Contains(column.Name)) continue;
            problems.Add(new Problem("column_missing", Severity.Stop, place with { Column = column.Name },
                Phrase.Of("reading.column_missing", ("column", column.Name), ("found", string.Join(", ", table.Columns.Take(30)))),
                Near(column.Name, table.Columns) is { } near ? Phrase.Of("reading.column_near_todo", ("near", near), ("column", column.Name)) : Phrase.Of("reading.column_missing_todo", ("column", column.Name))));
        }
    }

    private static string? Near(string wanted, ImmutableArray<string> columns)
    {
        foreach (var name in columns)
        {
            if (Cell.Token(name) == wanted || Letters(name) == Letters(wanted)) return name;
        }

        return null;
    }

    private static string Letters(string name) => new([.. name.Where(char.IsAsciiLetterOrDigit).Select(char.ToLowerInvariant)]);
}
