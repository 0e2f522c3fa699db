namespace Tussock;

/// <summary>Where something stands in the records: file, line and column.</summary>
/// <param name="File">File name inside the season folder, for example <c>visits.csv</c>.</param>
/// <param name="Line">Line, 1 = the header; null when the whole file is meant.</param>
/// <param name="Column">Column name; null when the whole row is meant.</param>
public sealed record Place(string File, int? Line = null, string? Column = null)
{
    /// <summary>file:line column, as people read it.</summary>
    public override string ToString() => File + (Line is { } line ? ":" + line.ToString(System.Globalization.CultureInfo.InvariantCulture) : "") + (Column is null ? "" : " " + Column);
}
