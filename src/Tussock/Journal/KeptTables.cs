using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>The tables of a season that are kept in memory, so that a change of some records need not read all of them again.</summary>
/// <param name="Tables">The tables.</param>
/// <param name="Placed">By kind, how many rows have a place of their own in the file; those behind them stand by id.</param>
public sealed record KeptTables(SeasonTables Tables, ImmutableDictionary<string, int> Placed)
{
    /// <summary>The tables of a stored season.</summary>
    /// <param name="season">A season that is not new.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static KeptTables Of(StoredSeason season, CancellationToken cancellation = default) =>
        new(JournalSeason.Tables(season, cancellation), RecordKind.All.ToImmutableDictionary(k => k.Name, k => season.Of(k.Name).Count(r => r.Place < double.MaxValue && !r.IsVoid), StringComparer.Ordinal));

    /// <summary>The tables after some records have changed: what reading the season anew would give, but that a column is never taken away.</summary>
    /// <param name="changed">The records as they are now, each once.</param>
    /// <returns>The tables; null when they have to be read anew: a new column, a row with a place of its own that comes in or goes out, another order of columns.</returns>
    /// <remarks>Cost: one pass over the tables that the records are of.</remarks>
    public KeptTables? With(IReadOnlyCollection<RecordState> changed)
    {
        ArgumentNullException.ThrowIfNull(changed);
        var kept = this;
        foreach (var kind in changed.GroupBy(c => c.Kind, StringComparer.Ordinal))
        {
            if (kind.Key == JournalKind.Season) kept = kept with { Tables = kept.Tables with { Package = Description.Read(kind.Last().Shown()) } };
            else if (kind.Key == JournalKind.Text) kept = kept with { Tables = kept.Tables with { Texts = Texts(kept.Tables.Texts, kind) } };
            else if (kind.Key == JournalKind.Table || RecordKind.Named(kind.Key) is { } known && kept.Tables.Table(known) is null) return null;
            else if (RecordKind.Named(kind.Key) is { } named)
            {
                if (kept.WithRows(kept.Tables.Table(named)!, kind) is not { } with) return null;
                kept = with;
            }
        }

        return kept;
    }

    private static ImmutableSortedDictionary<string, string> Texts(ImmutableSortedDictionary<string, string> texts, IEnumerable<RecordState> changed)
    {
        foreach (var record in changed.Where(r => r.IsCreated).Select(r => r.Shown())) texts = record.IsVoid ? texts.Remove(record.Text("name")) : texts.SetItem(record.Text("name"), record.Text("text"));
        return texts;
    }

    private KeptTables? WithRows(RecordTable table, IEnumerable<RecordState> changed)
    {
        var at = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < table.Columns.Length; i++) at[FieldName.OfColumn(table.Columns[i])] = i;
        var id = at["id"];
        var left = changed.Where(r => r.IsCreated).ToDictionary(r => r.Id.ToString(), StringComparer.Ordinal);
        if (left.Values.Any(r => r.Fields.Any(f => f.Value.Length > 0 && FieldName.Column(f.Name) is not null && !at.ContainsKey(f.Name)))) return null;
        var rows = table.Rows.ToBuilder();
        var placed = Placed.GetValueOrDefault(table.Kind.Name);
        var first = rows.Count;
        for (var i = rows.Count - 1; i >= 0; i--)
        {
            if (!left.Remove(rows[i].Cells[id], out var record)) continue;
            var shown = record.Shown();
            if (shown.IsVoid)
            {
                rows.RemoveAt(i);
                first = Math.Min(first, i);
                if (i < placed) placed--;
            }
            else rows[i] = new RecordRow(rows[i].Line, JournalSeason.Cells(shown, at, table.Columns.Length, id));
        }

        foreach (var record in left.Values.Select(r => r.Shown()).Where(r => !r.IsVoid))
        {
            if (record.Place < double.MaxValue) return null;
            var where = PlaceOf(record.Id, rows, placed, id);
            rows.Insert(where, new RecordRow(where + 2, JournalSeason.Cells(record, at, table.Columns.Length, id)));
            first = Math.Min(first, where);
        }

        for (var i = first; i < rows.Count; i++) if (rows[i].Line != i + 2) rows[i] = rows[i] with { Line = i + 2 };
        return new KeptTables(Tables with { Tables = Tables.Tables.Replace(table, table with { Rows = rows.ToImmutable() }) }, Placed.SetItem(table.Kind.Name, placed));
    }

    /// <summary>Where a row without a place of its own stands among its like, which are in order of their ids.</summary>
    private static int PlaceOf(Guid id, ImmutableArray<RecordRow>.Builder rows, int placed, int column)
    {
        var (low, high) = (placed, rows.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Guid.Parse(rows[middle].Cells[column]).CompareTo(id) < 0) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}
