using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Fates;

namespace Tussock.Tests;

/// <summary>
/// A tiny reader of the season folders under <c>tests/checks/reference-seasons</c>: plain commas, days as numbers, every transect a line.
/// It shares nothing with the product's reader, so that estimators are tested by themselves.
/// </summary>
public static class ReferenceSeason
{
    private static readonly ConcurrentDictionary<(string Set, bool Cameras), (NestSpans Spans, ImmutableArray<string> Pastures)> Known = new();

    /// <summary>All nests of a set; camera times are used when <paramref name="cameras"/> is true.</summary>
    public static NestSpans Whole(string set, bool cameras = false) => Season(set, cameras).Spans;

    /// <summary>The nests of each pasture, by name.</summary>
    public static IReadOnlyDictionary<string, NestSpans> ByPasture(string set, bool cameras = false)
    {
        var (spans, pastures) = Season(set, cameras);
        return Enumerable.Range(0, pastures.Length).ToDictionary(p => pastures[p], p => spans.Where(row => spans.Pasture[row] == p), StringComparer.Ordinal);
    }

    /// <summary>The nests of each cover class, by name.</summary>
    public static IReadOnlyDictionary<string, NestSpans> ByCover(string set, bool cameras = false)
    {
        var spans = Whole(set, cameras);
        return Enumerable.Range(0, spans.CoverNames.Length).ToDictionary(c => spans.CoverNames[c], c => spans.Where(row => spans.Cover[row] == c), StringComparer.Ordinal);
    }

    /// <summary>Season, pastures and cover classes of a set, each with the path of its block in <c>extra.json</c>, for example <c>pasture/PA001</c>.</summary>
    public static IEnumerable<(string Path, NestSpans Spans)> Groups(string set, bool cameras = false) =>
        [("season", Whole(set, cameras)), .. ByPasture(set, cameras).Select(g => ("pasture/" + g.Key, g.Value)), .. ByCover(set, cameras).Select(g => ("cover/" + g.Key, g.Value))];

    /// <summary>The value of one block of <c>expected.json</c> or <c>extra.json</c> of a set.</summary>
    public static JsonElement Block(string set, string file, string block)
    {
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", Path.Combine(set, file)));
        return json.RootElement.GetProperty(block).GetProperty("value").Clone();
    }

    /// <summary>The element that a path like <c>pasture/PA001</c> leads to.</summary>
    public static JsonElement At(this JsonElement element, string path) => path.Split('/').Aggregate(element, (e, name) => e.GetProperty(name));

    /// <summary>Fate at a day by the ordered rule: camera time, last intact visit, first visit found lost.</summary>
    public static FateAt Fate(double lastIntact, double firstLost, double lostAt, double day, double window) =>
        !double.IsNaN(lostAt) ? lostAt > day ? FateAt.Survived : FateAt.Lost
        : lastIntact >= day - window ? FateAt.Survived
        : firstLost <= day + window ? FateAt.Lost
        : FateAt.Unknown;

    private static (NestSpans Spans, ImmutableArray<string> Pastures) Season(string set, bool cameras) =>
        Known.GetOrAdd((set, cameras), key => Read(Path.Combine(Checks.Folder("reference-seasons"), key.Set, key.Cameras ? "season_with_cameras" : "season")));

    private static (NestSpans, ImmutableArray<string>) Read(string folder)
    {
        var transects = Table(folder, "transects.csv").OrderBy(t => t["transect"], StringComparer.Ordinal).ToArray();
        var lines = transects.Select(t => t["transect"]).ToImmutableArray();
        var pastures = transects.Select(t => t["pasture"]).Distinct().Order(StringComparer.Ordinal).ToImmutableArray();
        var covers = Covers(folder);
        var visits = Table(folder, "visits.csv").ToLookup(v => (v["transect"], v["nest"]));
        var cameras = File.Exists(Path.Combine(folder, "cameras.csv")) ? Table(folder, "cameras.csv").Where(c => c["took_eggs"] == "yes").ToLookup(c => (c["transect"], c["nest"])) : null;
        var nests = Table(folder, "nests.csv")
            .Select(n => (Row: n, Span: Span(visits[(n["transect"], n["nest"])], cameras?[(n["transect"], n["nest"])] ?? [])))
            .Where(n => n.Span.B > 0)
            .OrderBy(n => n.Row["transect"], StringComparer.Ordinal).ThenBy(n => Number(n.Row["nest"])).ToArray();
        var lineOf = lines.Select((name, i) => (name, i)).ToDictionary(x => x.name, x => x.i, StringComparer.Ordinal);
        T[] Column<T>(Func<(Dictionary<string, string> Row, (double A, double B, double T, Cause Cause) Span), T> pick) => nests.Select(pick).ToArray();
        var spans = new NestSpans
        {
            LastIntact = Column(n => n.Span.A),
            FirstLost = Column(n => n.Span.B),
            LostAt = Column(n => n.Span.T),
            Line = Column(n => lineOf[n.Row["transect"]]),
            Transect = Column(n => lineOf[n.Row["transect"]]),
            Nest = Column(n => (int)Number(n.Row["nest"])),
            Cover = Column(n => covers.IndexOf(n.Row["cover"])),
            Pasture = Column(n => pastures.IndexOf(transects[lineOf[n.Row["transect"]]]["pasture"])),
            Cause = Column(n => n.Span.Cause),
            Day14 = Column(n => Fate(n.Span.A, n.Span.B, n.Span.T, 14, 3)),
            Day28 = Column(n => Fate(n.Span.A, n.Span.B, n.Span.T, 28, 3)),
            LineNames = lines,
            CoverNames = covers,
        };
        return (spans, pastures);
    }

    private static (double A, double B, double T, Cause Cause) Span(IEnumerable<Dictionary<string, string>> visits, IEnumerable<Dictionary<string, string>> cameras)
    {
        double a = 0, b = double.PositiveInfinity;
        var cause = Cause.None;
        foreach (var visit in visits.Where(v => v["finding"] is "depredated" or "other_loss"))
        {
            if (Number(visit["day"]) >= b) continue;
            b = Number(visit["day"]);
            cause = visit["finding"] == "depredated" ? Cause.Depredated : Cause.NotRecorded;
        }

        foreach (var visit in visits.Where(v => v["finding"] == "intact" && Number(v["day"]) < b)) a = Math.Max(a, Number(visit["day"]));
        var t = cameras.Select(c => Number(c["day"])).Where(day => day > a && day <= b).Order().DefaultIfEmpty(double.NaN).First();
        return (a, b, t, cause == Cause.None && !double.IsNaN(t) ? Cause.Depredated : cause);
    }

    private static ImmutableArray<string> Covers(string folder)
    {
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "datapackage.json")));
        return json.RootElement.GetProperty("season").GetProperty("cover_classes").EnumerateArray()
            .Select(c => c.ValueKind == JsonValueKind.String ? c.GetString()! : c.GetProperty("name").GetString()!).ToImmutableArray();
    }

    private static List<Dictionary<string, string>> Table(string folder, string file)
    {
        var rows = File.ReadAllLines(Path.Combine(folder, file));
        var names = rows[0].Split(',');
        return rows.Skip(1).Where(r => r.Length > 0).Select(r => r.Split(',').Select((cell, i) => (cell, i)).ToDictionary(x => names[x.i], x => x.cell, StringComparer.Ordinal)).ToList();
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}
