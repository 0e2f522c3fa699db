using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Records;

namespace Tussock.App.Serving.People;

/// <summary>Cuts a season down to the properties of one landowner before anything is read or computed: what is not in the tables can't come out in a page, a count or an average.</summary>
internal static class OwnTables
{
    /// <summary>Columns that hold places, or what somebody wrote freely and may be about anybody's land.</summary>
    private static readonly ImmutableArray<string> Emptied = ["start_lat", "start_lon", "end_lat", "end_lon", "flag_lat", "flag_lon", "nest_lat", "nest_lon", "note", "landmarks", "told_by", "near"];

    /// <summary>Settings of the season that name no place.</summary>
    private static readonly ImmutableArray<string> Settings =
    [
        "year", "species", "time_zone", "trial_days", "check_days", "window_days", "cover_classes", "loss_rule", "benchmarks", "clump_rule", "edge_rule", "search_rule_steps", "renew_eggs", "egg_kind", "egg_colour", "judge",
        "rain_since_october_mm", "rain_normal_mm",
    ];

    /// <summary>Kinds of record that no landowner's page rests on.</summary>
    private static readonly ImmutableArray<RecordKind> LeftOut = [RecordKind.Media, RecordKind.Plants, RecordKind.Chance];

    /// <summary>The season of these properties alone, under a title of their own.</summary>
    internal static SeasonTables Of(SeasonTables tables, IReadOnlySet<string> own)
    {
        var lines = Column(tables.Table(RecordKind.Transects), "property", "transect").Where(t => own.Contains(t.First)).Select(t => t.Second).ToHashSet(StringComparer.Ordinal);
        var kept = tables.Tables.Where(t => !LeftOut.Contains(t.Kind)).Select(t => Cut(t, own, lines));
        var texts = tables.Texts.Where(t => t.Key == "signs.json").ToImmutableSortedDictionary();
        return new SeasonTables(Package(tables.Package, own), [.. kept], texts);
    }

    /// <summary>A title that says whose land it is and which year.</summary>
    internal static string Title(SeasonPackage package, IEnumerable<string> own)
    {
        var year = package.SeasonJson("year")?.Trim('"') ?? "";
        return string.Join(", ", own.Order(StringComparer.Ordinal).Append(year).Where(t => t.Length > 0));
    }

    private static SeasonPackage Package(SeasonPackage package, IEnumerable<string> own)
    {
        var title = JsonSerializer.Serialize(Title(package, own));
        return new SeasonPackage([new Records.JsonProperty("title", title)], [new Records.JsonProperty("name", title), .. package.Season.Where(p => Settings.Contains(p.Name))], []);
    }

    private static RecordTable Cut(RecordTable table, IReadOnlySet<string> own, HashSet<string> lines)
    {
        var (property, transect) = (table.IndexOf("property"), table.IndexOf("transect"));
        var empty = table.Columns.Select((c, i) => (c, i)).Where(c => Emptied.Contains(c.c)).Select(c => c.i).ToArray();
        var rows = table.Rows.Where(r => IsOwn(Cell(r, property), Cell(r, transect), table.Kind, own, lines));
        return table with { Rows = [.. rows.Select(r => r with { Cells = [.. r.Cells.Select((c, i) => empty.Contains(i) ? "" : c)] })] };
    }

    /// <summary>What names a property or a line is theirs by that; of what names neither, only what happened everywhere and how people walk.</summary>
    private static bool IsOwn(string property, string transect, RecordKind kind, IReadOnlySet<string> own, HashSet<string> lines)
    {
        if (property.Length > 0) return own.Contains(property);
        if (transect.Length > 0) return lines.Contains(transect);
        return kind == RecordKind.Events || kind == RecordKind.Crew;
    }

    private static string Cell(RecordRow row, int at) => at >= 0 && at < row.Cells.Length ? row.Cells[at] : "";

    private static IEnumerable<(string First, string Second)> Column(RecordTable? table, string first, string second)
    {
        if (table is null) return [];
        var (a, b) = (table.IndexOf(first), table.IndexOf(second));
        return table.Rows.Select(r => (Cell(r, a), Cell(r, b)));
    }
}
