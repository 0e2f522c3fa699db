using System.Collections.Immutable;
using System.Runtime.InteropServices;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>Makes the tables of a season of what is stored: the same cells, columns and order as the folder that it came from, with an <c>id</c> in every row.</summary>
public static class JournalSeason
{
    /// <summary>The tables of a stored season; void records are left out.</summary>
    /// <param name="season">A season that is not new.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The season is new.</exception>
    public static SeasonTables Tables(StoredSeason season, CancellationToken cancellation = default)
    {
        if (season.IsNew) throw new ArgumentException("Nothing of the season is stored", nameof(season));
        var texts = season.Of(JournalKind.Text).Where(t => !t.IsVoid).Select(t => KeyValuePair.Create(t.Text("name"), t.Text("text")));
        var tables = ImmutableArray.CreateBuilder<RecordTable>();
        foreach (var kind in RecordKind.All)
        {
            cancellation.ThrowIfCancellationRequested();
            var columns = ColumnOrder.Stored(season, kind);
            if (columns.Length > 0) tables.Add(new RecordTable(kind, columns, Rows(season.Of(kind.Name), columns)));
        }

        return new SeasonTables(Description.Read(season.Of(JournalKind.Season)[0]), tables.ToImmutable(), ImmutableSortedDictionary.CreateRange(StringComparer.Ordinal, texts));
    }

    private static ImmutableArray<RecordRow> Rows(ImmutableArray<StoredRecord> records, ImmutableArray<string> columns)
    {
        var at = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < columns.Length; i++) at[FieldName.OfColumn(columns[i])] = i;
        var id = at["id"];
        var shown = records.Where(r => !r.IsVoid).Select(r => (r.Place, Record: r)).ToArray();
        Array.Sort(shown, (a, b) => a.Place != b.Place ? a.Place.CompareTo(b.Place) : a.Record.Id.CompareTo(b.Record.Id));
        var rows = ImmutableArray.CreateBuilder<RecordRow>(shown.Length);
        foreach (var (_, record) in shown)
        {
            rows.Add(new RecordRow(rows.Count + 2, Cells(record, at, columns.Length, id)));
        }

        return rows.MoveToImmutable();
    }

    /// <summary>The cells of a record's row.</summary>
    internal static ImmutableArray<string> Cells(StoredRecord record, Dictionary<string, int> at, int columns, int id)
    {
        var cells = new string[columns];
        Array.Fill(cells, "");
        foreach (var field in record.Fields) if (at.TryGetValue(field.Name, out var i)) cells[i] = field.Value;
        cells[id] = record.Id.ToString();
        return ImmutableCollectionsMarshal.AsImmutableArray(cells);
    }
}
