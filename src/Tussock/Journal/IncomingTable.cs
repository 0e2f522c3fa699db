using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>Rows that come in, of any kind of the journal: fields by position, ids where the file has them, keys where it has not.</summary>
internal sealed class IncomingTable
{
    private readonly ImmutableArray<RecordRow> rows;
    private readonly int[] cellOf;
    private readonly int idColumn;
    private readonly RecordKind? known;

    internal IncomingTable(RecordTable table)
        : this(table.Kind.Name, table.Columns, table.Rows) => known = table.Kind;

    internal IncomingTable(string kind, ImmutableArray<string> columns, ImmutableArray<RecordRow> rows)
    {
        Kind = kind;
        this.rows = rows;
        known = RecordKind.Named(kind);
        idColumn = known is null ? -1 : columns.IndexOf("id");
        cellOf = [.. Enumerable.Range(0, columns.Length).Where(i => i != idColumn)];
        Fields = [.. cellOf.Select(i => known is null ? columns[i] : FieldName.OfColumn(columns[i]))];
    }

    internal string Kind { get; }

    /// <summary>Whether its rows have places: only those of the folder's own files.</summary>
    internal bool HasPlaces => known is not null;

    internal ImmutableArray<string> Fields { get; }

    internal int Count => rows.Length;

    internal string Text(int row, int field)
    {
        var cells = rows[row].Cells;
        return cellOf[field] < cells.Length ? cells[cellOf[field]] : "";
    }

    internal string Source(int row) => known is null ? "" : known.File + ":" + Words.Numbers.Whole(rows[row].Line);

    internal int Line(int row) => rows[row].Line;

    /// <summary>The id written in a row; null when none is.</summary>
    internal Guid? Id(int row) => idColumn >= 0 && idColumn < rows[row].Cells.Length && Guid.TryParse(rows[row].Cells[idColumn], out var id) ? id : null;

    /// <summary>The natural key of every row.</summary>
    internal string[] Keys()
    {
        var columns = NaturalKey.Columns(Kind);
        var at = columns.Select(c => Fields.IndexOf(FieldName.OfColumn(c))).ToArray();
        var keys = new string[Count];
        var parts = new string[at.Length];
        for (var row = 0; row < keys.Length; row++)
        {
            for (var i = 0; i < at.Length; i++) parts[i] = at[i] < 0 ? "" : NaturalKey.Part(known, columns[i], Text(row, at[i]));
            keys[row] = string.Join(NaturalKey.Between, parts);
        }

        return keys;
    }

    /// <summary>All tables of an incoming season, the describing ones first.</summary>
    internal static IEnumerable<IncomingTable> Of(SeasonTables incoming, StoredSeason stored)
    {
        var fields = Description.Fields(incoming.Package, stored.Of(JournalKind.Season).FirstOrDefault());
        yield return new IncomingTable(JournalKind.Season, [.. fields.Select(f => f.Name)], [new RecordRow(1, [.. fields.Select(f => f.Value)])]);
        yield return new IncomingTable(JournalKind.Table, ["name", FieldName.Order],
            [.. incoming.Tables.Select(t => new RecordRow(1, [t.Kind.Name, NameList.Text(ColumnOrder.After(ColumnOrder.Stored(stored, t.Kind), ColumnOrder.WithId(t.Columns)))]))]);
        yield return new IncomingTable(JournalKind.Text, ["name", "text"], [.. incoming.Texts.Select(t => new RecordRow(1, [t.Key, t.Value]))]);
        foreach (var table in incoming.Tables) yield return new IncomingTable(table);
    }
}
