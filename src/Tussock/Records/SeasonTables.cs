using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>A whole season as text: its package description, its tables and its other files. Season folder and store both make one; the reader of this floor makes a <see cref="Season"/> of it.</summary>
/// <param name="Package">The description (<c>datapackage.json</c>).</param>
/// <param name="Tables">One table for each CSV file that the season has, in the order of <see cref="RecordKind.All"/>.</param>
/// <param name="Texts">Other files by name, ordinal order: pastures.geojson, zones.geojson, signs.json, changes.jsonl.</param>
public sealed record SeasonTables(SeasonPackage Package, ImmutableArray<RecordTable> Tables, ImmutableSortedDictionary<string, string> Texts)
{
    /// <summary>The seasons that these tables were pooled from; null for one season.</summary>
    public PooledYears? Pooled { get; init; }

    /// <summary>The table of a kind; null when the season has none.</summary>
    public RecordTable? Table(RecordKind kind)
    {
        foreach (var table in Tables) if (table.Kind == kind) return table;
        return null;
    }
}
