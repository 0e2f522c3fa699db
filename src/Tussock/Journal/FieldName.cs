namespace Tussock.Journal;

/// <summary>Names of fields in the journal: a column's own name, or a hidden one that begins with a number sign.</summary>
/// <remarks>A column whose name begins with a number sign gets a second one, so that no column can be taken for a hidden field.</remarks>
public static class FieldName
{
    /// <summary>Whether the record is taken out of the season: <c>yes</c>, or anything else for no.</summary>
    public const string Void = "#void";

    /// <summary>Place of the row in its file, a number: rows go out in this order, then by id.</summary>
    public const string Row = "#row";

    /// <summary>The columns of a table, or the names of the properties of a description, in order: a JSON list.</summary>
    public const string Order = "#order";

    /// <summary>The field of a column.</summary>
    public static string OfColumn(string column) => column.StartsWith('#') ? "#" + column : column;

    /// <summary>The column of a field; null for a hidden field.</summary>
    public static string? Column(string field) => !field.StartsWith('#') ? field : field.StartsWith("##", StringComparison.Ordinal) ? field[1..] : null;
}
