using System.Text.Json.Nodes;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>The Table Schema (Data Package standard) of a table: what a column of its kind may hold, and never more than what its cells do hold.</summary>
/// <remarks>Our own reader takes "Not relocated" for <c>not_relocated</c> and "Yes" for <c>yes</c>; other people's checkers do not. Where a cell is written so, the column is described as plain text.</remarks>
internal static class TableSchema
{
    private static readonly string[] Yes = ["yes", "y", "true", "1"];
    private static readonly string[] No = ["no", "n", "false", "0"];

    /// <summary>The schema with one field a column, in the order of the table.</summary>
    internal static JsonObject Of(RecordTable table)
    {
        var fields = new JsonArray();
        for (var i = 0; i < table.Columns.Length; i++) fields.Add(Field(table, i));
        return new JsonObject { ["fields"] = fields, ["missingValues"] = new JsonArray("") };
    }

    private static JsonObject Field(RecordTable table, int index)
    {
        var name = table.Columns[index];
        var column = table.Kind.ColumnNamed(name);
        var (type, constraints) = column is null || !table.Rows.All(r => index >= r.Cells.Length || IsPlain(column, r.Cells[index])) ? ("string", new JsonObject()) : Meaning(column);
        if (column is { IsRequired: true }) constraints["required"] = true;
        var field = new JsonObject { ["name"] = name, ["type"] = type };
        if (type == "boolean")
        {
            field["trueValues"] = new JsonArray([.. Yes]);
            field["falseValues"] = new JsonArray([.. No]);
        }

        if (constraints.Count > 0) field["constraints"] = constraints;
        return field;
    }

    private static (string Type, JsonObject Constraints) Meaning(Column column) => column.Type switch
    {
        ColumnType.Count => ("integer", new JsonObject { ["minimum"] = 0 }),
        ColumnType.Number => ("number", []),
        ColumnType.Amount => ("number", new JsonObject { ["minimum"] = 0 }),
        ColumnType.Date => ("date", []),
        ColumnType.YesNo => ("boolean", []),
        ColumnType.Token => ("string", new JsonObject { ["enum"] = new JsonArray([.. column.Tokens]) }),
        ColumnType.Latitude => ("number", new JsonObject { ["minimum"] = -90, ["maximum"] = 90 }),
        ColumnType.Longitude => ("number", new JsonObject { ["minimum"] = -180, ["maximum"] = 180 }),
        _ => ("string", []),
    };

    private static bool IsPlain(Column column, string cell) => cell.Length == 0 || column.Type switch
    {
        ColumnType.Count => cell.All(char.IsAsciiDigit),
        ColumnType.YesNo => Yes.Contains(cell) || No.Contains(cell),
        ColumnType.Token => column.Tokens.Contains(cell),
        ColumnType.Text or ColumnType.Direction => true,
        _ => CellCheck.Expected(column, cell) is null && cell.Trim().Length == cell.Length,
    };
}
