using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary>Compares seasons as text, cell by cell.</summary>
internal static class SameSeason
{
    /// <summary>Whether two seasons have the same description, tables and texts.</summary>
    internal static bool Are(SeasonTables one, SeasonTables other) =>
        Described(one) == Described(other) && one.Texts.SequenceEqual(other.Texts) && one.Tables.Length == other.Tables.Length && one.Tables.Zip(other.Tables).All(t => Are(t.First, t.Second));

    /// <summary>Whether anything has been set out or visited.</summary>
    internal static bool IsBegun(SeasonTables season) =>
        season.Table(RecordKind.Visits) is { Rows.Length: > 0 } || new[] { RecordKind.Transects, RecordKind.Nests }.Any(k => season.Table(k) is { } table && table.IndexOf("set_on") is >= 0 and var at && table.Rows.Any(r => r.Cells[at].Trim().Length > 0));

    private static bool Are(RecordTable one, RecordTable other) =>
        one.Kind == other.Kind && one.Columns.SequenceEqual(other.Columns) && one.Rows.Length == other.Rows.Length && one.Rows.Zip(other.Rows).All(r => r.First.Cells.SequenceEqual(r.Second.Cells));

    private static string Described(SeasonTables season) => SeasonPackage.Parse((season.Package with { Resources = [] }).ToText()).ToText();
}
