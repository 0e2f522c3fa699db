using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Places;
using Tussock.Layout;
using Tussock.Records;
using Tussock.Wayfinding;
using JsonSerializer = System.Text.Json.JsonSerializer;

namespace Tussock.App.Commands;

/// <summary>The land of a plan: from a season that is there, or from a file of boundaries.</summary>
/// <param name="Layout">What is to be laid out.</param>
/// <param name="Tables">Description, pastures and texts of the season to be.</param>
internal sealed record PlanLand(LayoutRequest Layout, SeasonTables Tables)
{
    private const string ZonesFile = "zones.geojson";

    /// <summary>Takes everything up; what is told is a problem each.</summary>
    internal static (PlanLand? Land, ImmutableArray<Problem> Problems) Read(Screen screen, PlanRequest request, CancellationToken cancel)
    {
        var (land, problems) = request.Pastures is { } file ? FromFile(screen, request, file) : FromData(screen, request, cancel);
        if (land is null || problems.Any(p => p.Severity == Severity.Stop)) return (null, problems);
        if (request.Zones is { } zones)
        {
            var reading = MapFiles.Read(zones);
            if (reading.IsStopped) return (null, reading.Problems);
            land = land with
            {
                Layout = land.Layout with { Zones = LandToPlan.Zones(reading.Features, request.Keep) },
                Tables = land.Tables with { Texts = land.Tables.Texts.SetItem(ZonesFile, LandToPlan.ZoneText(reading.Features)) },
            };
        }

        return Chosen(land, request);
    }

    private static (PlanLand?, ImmutableArray<Problem>) Chosen(PlanLand land, PlanRequest request)
    {
        var areas = land.Layout.Areas;
        var unknown = request.Only.Except(areas.Select(a => a.Pasture), StringComparer.Ordinal).ToArray();
        if (unknown.Length > 0) return (null, [Wrong("plan.no_such_pasture", request, ("names", unknown), ("pastures", areas.Select(a => a.Pasture).Distinct().ToArray()))]);
        var chosen = request.Only.IsEmpty ? areas : [.. areas.Where(a => request.Only.Contains(a.Pasture))];
        return chosen.IsEmpty ? (null, [Wrong("plan.no_pastures", request)]) : (land with { Layout = land.Layout with { Areas = chosen } }, []);
    }

    private static (PlanLand?, ImmutableArray<Problem>) FromFile(Screen screen, PlanRequest request, string file)
    {
        if (!request.TakeUp.IsEmpty) return (null, [Wrong("plan.nothing_to_take_up", request)]);
        var reading = MapFiles.Read(file);
        if (reading.IsStopped) return (null, reading.Problems);
        foreach (var note in reading.Problems) screen.Err.WriteLine(screen.Line(note));
        var areas = LandToPlan.Areas(reading.Features, request.Property ?? screen.Words.Say("plan.property"), screen.Words.Say("plan.pasture"));
        var pastures = new RecordTable(RecordKind.Pastures, ["property", "pasture"], [.. areas.Select(a => (a.Property, a.Pasture)).Distinct().Select((p, i) => new RecordRow(i + 2, [p.Property, p.Pasture]))]);
        var texts = ImmutableSortedDictionary<string, string>.Empty.WithComparers(StringComparer.Ordinal).Add(SeasonBoundaries.File, LandToPlan.BoundaryText(areas));
        var name = request.Name ?? "planned";
        ImmutableArray<JsonProperty> season =
        [
            Text("name", name), .. Given(request), new("trial_days", "28"), new("check_days", "[14, 28]"),
            .. request.Covers.IsEmpty ? [] : new[] { new JsonProperty("cover_classes", JsonSerializer.Serialize(request.Covers)) },
        ];
        var rules = request.Rules with { StepM = request.StepM ?? StepLength.AssumedM, Covers = request.Covers };
        return (new PlanLand(new LayoutRequest(areas, rules), new SeasonTables(new SeasonPackage([Text("name", name), Text("title", name)], season, []), [pastures], texts)), []);
    }

    /// <summary>The land of a season that is known already; what should be heard besides is told.</summary>
    internal static (PlanLand? Land, ImmutableArray<Problem> Problems) Of(Season season, PlanRequest request, Action<Phrase> tell)
    {
        var (land, problems) = FromSeason(season, request, tell);
        return land is null ? (null, problems) : Chosen(land, request);
    }

    private static (PlanLand?, ImmutableArray<Problem>) FromData(Screen screen, PlanRequest request, CancellationToken cancel)
    {
        var (season, problems) = SeasonSource.Season(request.Data!, request.Season, cancel);
        return season is null ? (null, problems) : FromSeason(season, request, said => screen.Err.WriteLine(screen.Words.Say(said)));
    }

    private static (PlanLand?, ImmutableArray<Problem>) FromSeason(Season season, PlanRequest request, Action<Phrase> tell)
    {
        var texts = season.Tables.Texts;
        var areas = texts.TryGetValue(SeasonBoundaries.File, out var text) ? LandToPlan.Areas(Features(text), "", "") : [];
        var known = season.Pastures.Select(p => (p.Property, p.Name)).ToHashSet();
        areas = [.. areas.Where(a => known.Contains((a.Property, a.Pasture)))];
        var bare = season.Pastures.Where(p => (request.Only.IsEmpty || request.Only.Contains(p.Name)) && !areas.Any(a => a.Property == p.Property && a.Pasture == p.Name)).Select(p => p.Name).ToArray();
        if (bare.Length > 0) return (null, [Wrong("plan.no_boundary", request, ("pastures", bare))]);
        var former = FormerLines.Of(season);
        var unknown = request.TakeUp.Except(former.Select(f => f.Name).Append("all"), StringComparer.Ordinal).ToArray();
        if (unknown.Length > 0) return (null, [Wrong("plan.no_such_line", request, ("names", unknown), ("lines", former.Select(f => f.Name).ToArray()))]);
        var layout = new LayoutRequest(areas, request.Rules with { StepM = request.StepM ?? Step(season, tell), Covers = request.Covers.IsEmpty ? [.. season.Settings.CoverClasses.Select(c => c.Name)] : request.Covers })
        {
            Zones = texts.TryGetValue(ZonesFile, out var zones) ? LandToPlan.Zones(Features(zones), request.Keep) : [],
            Taken = [.. season.Transects.Select(t => t.Line).Distinct()],
            Former = request.TakeUp.Contains("all") ? former : [.. former.Where(f => request.TakeUp.Contains(f.Name))],
        };
        return (new PlanLand(layout, Kept(season, request)), []);
    }

    private static ImmutableArray<MapFeature> Features(string text) => GeoJsonReader.Read(Encoding.UTF8.GetBytes(text), SeasonBoundaries.File).Features;

    /// <summary>The longest mean step of the crew, so that the line has room whoever paces it; the usual step where nobody walked the course.</summary>
    private static double Step(Season season, Action<Phrase> tell)
    {
        var steps = season.CrewWalks.GroupBy(w => w.Observer, StringComparer.Ordinal).Select(g => (Who: g.Key, Step: StepLength.Measured(g.Select(w => (w.CourseM, w.Steps))))).Where(s => s.Step is not null).ToArray();
        if (steps.Length == 0) return StepLength.AssumedM;
        var (who, step) = steps.MaxBy(s => s.Step!.Metres);
        var metres = Math.Round(step!.Metres, 2);
        tell(Phrase.Of("plan.step_of_crew", ("who", who), ("metres", metres)));
        return metres;
    }

    /// <summary>What a new season on the same land begins with: pastures, who walked the course, rules; nothing that was found.</summary>
    private static SeasonTables Kept(Season season, PlanRequest request)
    {
        var tables = season.Tables;
        var name = request.Name ?? (season.Transects.IsEmpty ? season.Settings.Name : "planned");
        string[] ofTheYear = ["name", "comment", "rain_since_october_mm", .. Given(request).Select(g => g.Name), .. request.Covers.IsEmpty ? [] : new[] { "cover_classes" }];
        if (name != season.Settings.Name && request.Year is null) ofTheYear = [.. ofTheYear, "year"];
        ImmutableArray<JsonProperty> settings =
        [
            Text("name", name), .. Given(request), .. request.Covers.IsEmpty ? [] : new[] { new JsonProperty("cover_classes", JsonSerializer.Serialize(request.Covers)) },
            .. tables.Package.Season.Where(p => !ofTheYear.Contains(p.Name)),
        ];
        var isNew = name != season.Settings.Name;
        var package = new SeasonPackage([.. tables.Package.Package.Select(p => isNew && p.Name is "name" or "title" ? Text(p.Name, name) : p)], settings, []);
        RecordKind[] kept = [RecordKind.Pastures, RecordKind.Crew];
        return new SeasonTables(package, [.. tables.Tables.Where(t => kept.Contains(t.Kind)).Select(t => isNew ? WithoutIds(t) : t)], tables.Texts.RemoveRange(["changes.jsonl", "signs.json"]));
    }

    /// <summary>The rows of a new season are records of their own: with the ids of the former they would be taken for its records.</summary>
    private static RecordTable WithoutIds(RecordTable table)
    {
        var kept = Enumerable.Range(0, table.Columns.Length).Where(i => table.Columns[i] != "id").ToArray();
        return kept.Length == table.Columns.Length ? table : new RecordTable(table.Kind, [.. kept.Select(i => table.Columns[i])], [.. table.Rows.Select(r => r with { Cells = [.. kept.Where(i => i < r.Cells.Length).Select(i => r.Cells[i])] })]);
    }

    private static IEnumerable<JsonProperty> Given(PlanRequest request)
    {
        if (request.Year is { } year) yield return Text("year", year);
        if (request.TimeZone is { } zone) yield return Text("time_zone", zone);
    }

    private static JsonProperty Text(string name, string value) => new(name, JsonSerializer.Serialize(value));

    private static Problem Wrong(string key, PlanRequest request, params ReadOnlySpan<(string, object)> arguments) =>
        new(key[(key.IndexOf('.', StringComparison.Ordinal) + 1)..], Severity.Stop, new Place(request.Pastures ?? request.Data!), Phrase.Of(key, arguments), Phrase.Of(key + "_todo"));
}
