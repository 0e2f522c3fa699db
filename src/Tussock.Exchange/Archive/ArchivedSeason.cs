using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;
using JsonProperty = Tussock.Records.JsonProperty;

namespace Tussock.Exchange.Archive;

/// <summary>One season as it goes into an archive: its name there, its description, and its tables with what stays at home left out.</summary>
/// <param name="Season">The season as it is at home.</param>
/// <param name="Name">Its name in the archive.</param>
/// <param name="Settings">The <c>season</c> object of its description, as JSON.</param>
/// <param name="Tables">Its tables.</param>
internal sealed record ArchivedSeason(Season Season, string Name, ImmutableArray<JsonProperty> Settings, ImmutableArray<RecordTable> Tables)
{
    /// <summary>Columns that say in which cell of the public grid a line begins.</summary>
    internal static readonly ImmutableArray<string> CellColumns = ["cell_lat", "cell_lon", "cell_reach_m"];

    /// <summary>Makes it.</summary>
    internal static ArchivedSeason Of(Season season, string name, PublishedNames names, bool isExact) =>
        new(season, name, ArchivedSettings.Of(season, name, names, isExact), [.. ColumnHandings.Kinds.Select(k => season.Tables.Table(k)).OfType<RecordTable>().Select(t => Table(season, t, names, isExact))]);

    /// <summary>The place of a line that may be told: where it begins, or the middle of that cell; null where no place was recorded.</summary>
    internal static Position? PlaceOf(Transect line, IEnumerable<Nest> nests, bool isExact)
    {
        var first = line.Start ?? nests.Select(n => n.Flag ?? n.At).FirstOrDefault(p => p is not null);
        // A season that came out of an archive has cells and no places.
        if (first is null && line.Source.Number("cell_lat") is >= -90 and <= 90 and var north && line.Source.Number("cell_lon") is >= -180 and <= 180 and var east) return CoarseGrid.Middle(new Position(north, east));
        return first is { } place ? isExact ? place : CoarseGrid.Middle(place) : null;
    }

    private static RecordTable Table(Season season, RecordTable table, PublishedNames names, bool isExact)
    {
        var isLines = table.Kind == RecordKind.Transects;
        var columns = table.Columns.Where(c => Handed(table.Kind, c, isExact) && !(isLines && CellColumns.Contains(c))).ToArray();
        var hasIds = season.Clashes.Any(c => c.Stands.Table.Kind == table.Kind);
        var places = isLines && !isExact ? Places(season) : [];
        ImmutableArray<string> all = [.. hasIds ? ["id"] : Array.Empty<string>(), .. columns, .. places.Count > 0 ? CellColumns : []];
        var rows = new List<RecordRow>();
        var sources = new List<Source>();
        foreach (var row in table.Rows)
        {
            var source = new Source(table, row);
            if (IsOfPeople(source)) continue;
            var property = source.Text("property");
            IEnumerable<string> cells = columns.Select(c => names.Of(ColumnHandings.Of(table.Kind, c), source.Text(c), property));
            if (places.Count > 0) cells = cells.Concat(places.GetValueOrDefault(row) is { } at ? [Degrees(at.Latitude), Degrees(at.Longitude), Words.Numbers.Fixed(CoarseGrid.ReachM(at), 0)] : ["", "", ""]);
            rows.Add(new RecordRow(rows.Count + 2, [.. cells]));
            sources.Add(source);
        }

        if (!hasIds) return new RecordTable(table.Kind, all, [.. rows]);
        var ids = ArchivedIds.Of(table.Kind, sources, rows);
        return new RecordTable(table.Kind, all, [.. rows.Select((r, i) => r with { Cells = r.Cells.Insert(0, ids[i]) })]);
    }

    private static Dictionary<RecordRow, Position?> Places(Season season)
    {
        var nests = season.Nests.ToLookup(n => n.Transect);
        return season.Transects.ToDictionary(t => t.Source.Row, t => PlaceOf(t, nests[t], false));
    }

    private static string Degrees(double degrees) => Reading.StrangerXml.Degrees(degrees);

    private static bool Handed(RecordKind kind, string column, bool isExact) => ColumnHandings.Of(kind, column) is not (Handing.Withheld or Handing.Informant) and var how && (isExact || how != Handing.WhereExact);

    /// <summary>People who passed a camera are nobody's business; only where they took eggs does the nest's fate need the row.</summary>
    private static bool IsOfPeople(Source row) => row.Table.Kind == RecordKind.Cameras && SeenPeople.In(row) && row.YesNo("took_eggs") != true;
}
