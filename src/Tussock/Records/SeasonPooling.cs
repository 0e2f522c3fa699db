using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Records;

/// <summary>Puts the seasons of several years together as one, whose transects carry their year.</summary>
/// <remarks>
/// A transect is called by its year and its name, so that two lines of the same name in two years stay two lines; where transects have the same
/// <c>line</c>, they are one. Rules and benchmarks are those of the newest season. What a pasture was in a year goes to that year's transects.
/// </remarks>
public static class SeasonPooling
{
    private static readonly ImmutableArray<string> OfPasture = ["property", "pasture", "id", "note"];
    private static readonly ImmutableArray<string> LeftOut = ["comment", "rain_since_october_mm", "rain_normal_mm"];

    /// <summary>Pools seasons.</summary>
    /// <param name="seasons">The seasons; one is pooled with itself, and those for practice are left out.</param>
    /// <param name="problems">What stops it: a season that can't be read, other days of trial or checks, a cover class with two roles; empty exactly when there is an answer.</param>
    /// <returns>One season's tables; null when something stops it.</returns>
    public static SeasonTables? Pool(IReadOnlyCollection<SeasonTables> seasons, out ImmutableArray<Problem> problems)
    {
        ArgumentNullException.ThrowIfNull(seasons);
        var found = new List<Problem>();
        var read = new List<Season>();
        foreach (var tables in seasons)
        {
            if (SeasonReading.Read(tables, out var wrong) is { } season) read.Add(season);
            found.AddRange(wrong.Select(p => p with { Place = p.Place with { File = Name(tables) + "/" + p.Place.File } }));
        }

        // Nothing in a season for practice happened: it is compared with none.
        if (found.Count == 0 && read.Count > 0 && read.TrueForAll(s => s.Settings.IsPractice)) found.Add(new Problem("only_practice", Severity.Stop, new Place("datapackage.json", null, "season.practice"), Phrase.Of("pooling.practice"), Phrase.Of("pooling.stop_todo")));
        var sorted = read.Where(s => !s.Settings.IsPractice).OrderBy(s => s.Settings.Year, StringComparer.Ordinal).ThenBy(s => s.Settings.Name, StringComparer.Ordinal).ToArray();
        if (found.Count == 0) Stop(sorted, found);
        problems = [.. found];
        return found.Count == 0 ? Pooled(sorted) : null;
    }

    /// <summary>The year of a season as it is called here; its name where it has none.</summary>
    public static string Label(SeasonSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.Year.Length > 0 ? settings.Year : settings.Name;
    }

    private static string Name(SeasonTables tables) => tables.Package.SeasonJson("name")?.Trim('"') ?? "";

    private static void Stop(Season[] seasons, List<Problem> found)
    {
        void Differ(string column, string key, Func<Season, string> say)
        {
            if (seasons.Select(say).Distinct(StringComparer.Ordinal).Count() > 1) found.Add(new Problem("not_to_pool", Severity.Stop, new Place("datapackage.json", null, "season." + column), Phrase.Of(key, ("years", Listed(seasons, say))), Phrase.Of("pooling.stop_todo")));
        }

        Differ("check_days", "pooling.days", s => s.Settings.TrialDays + ": " + string.Join(' ', s.Settings.CheckDays));
        foreach (var cover in seasons.SelectMany(s => s.Settings.CoverClasses).GroupBy(c => c.Name, StringComparer.Ordinal).Where(c => c.Select(x => x.Role).Distinct().Count() > 1))
        {
            found.Add(new Problem("not_to_pool", Severity.Stop, new Place("datapackage.json", null, "season.cover_classes"), Phrase.Of("pooling.role", ("cover", cover.Key)), Phrase.Of("pooling.stop_todo")));
        }
    }

    private static string Listed(IEnumerable<Season> seasons, Func<Season, string> say) => string.Join("; ", seasons.Select(s => (Label(s.Settings), Says: say(s))).Where(s => s.Says.Length > 0).Select(s => s.Item1 + ": " + s.Says));

    private static SeasonTables Pooled(Season[] seasons)
    {
        var newest = seasons[^1];
        // Two seasons of one year keep their lines apart by their names.
        var labels = seasons.Select(s => seasons.Count(o => Label(o.Settings) == Label(s.Settings)) == 1 ? Label(s.Settings) : s.Settings.Name).ToArray();
        ImmutableArray<string> years = [.. seasons.Select(s => Label(s.Settings)).Distinct(StringComparer.Ordinal)];
        var kinds = RecordKind.All.Where(k => seasons.Any(s => s.Tables.Table(k) is not null));
        var texts = ImmutableSortedDictionary<string, string>.Empty;
        foreach (var (name, text) in seasons.SelectMany(s => s.Tables.Texts).Where(t => t.Key != "changes.jsonl")) texts = texts.SetItem(name, text);
        return new SeasonTables(Package(seasons, newest, years), [.. kinds.Select(k => k == RecordKind.Pastures ? Pastures(seasons) : Table(k, seasons, labels))], texts)
        {
            Pooled = new PooledYears([.. seasons.Select(s => s.Settings.Name)], years, PoolingCautions.Of(seasons)),
        };
    }

    private static SeasonPackage Package(Season[] seasons, Season newest, ImmutableArray<string> years)
    {
        string Text(string text) => "\"" + JsonEncodedText.Encode(text) + "\"";
        var covers = seasons.Reverse().SelectMany(s => s.Settings.CoverClasses).DistinctBy(c => c.Name, StringComparer.Ordinal);
        var classes = "[" + string.Join(", ", covers.Select(c => "{ \"name\": " + Text(c.Name) + ", \"role\": \"" + (c.Role == CoverRole.Grass ? "grass" : "other") + "\" }")) + "]";
        JsonProperty[] own = [new("name", Text(PooledYears.All)), new("year", Text(string.Join(", ", years))), new("cover_classes", classes)];
        var title = string.Join(" · ", seasons.Reverse().Select(s => s.Settings.Title).Distinct(StringComparer.Ordinal));
        var package = newest.Tables.Package;
        return new SeasonPackage(
            [new JsonProperty("title", Text(title)), .. package.Package.Where(p => p.Name != "title")],
            [.. own, .. package.Season.Where(p => !LeftOut.Contains(p.Name) && own.All(o => o.Name != p.Name))], package.Resources);
    }

    /// <summary>Each pasture once, as the newest season that has it says.</summary>
    private static RecordTable Pastures(Season[] seasons)
    {
        var whole = Table(RecordKind.Pastures, [.. seasons.Reverse()], null);
        var (property, pasture) = (whole.IndexOf("property"), whole.IndexOf("pasture"));
        return whole with { Rows = [.. whole.Rows.DistinctBy(r => (r.Cells[property], r.Cells[pasture]))] };
    }

    private static RecordTable Table(RecordKind kind, Season[] seasons, string[]? labels)
    {
        var isTransects = kind == RecordKind.Transects;
        var moved = isTransects ? Moved(seasons) : [];
        string[] more = isTransects ? [PooledYears.Column, .. moved] : [];
        ImmutableArray<string> columns = [.. seasons.SelectMany(s => s.Tables.Table(kind)?.Columns ?? []).Except(more).Distinct(StringComparer.Ordinal), .. more];
        var rows = ImmutableArray.CreateBuilder<RecordRow>();
        for (var i = 0; i < seasons.Length; i++)
        {
            if (seasons[i].Tables.Table(kind) is not { } table) continue;
            var from = columns.Select(table.IndexOf).ToArray();
            var (transect, line) = (labels is null ? -1 : columns.IndexOf("transect"), columns.IndexOf("line"));
            var lasting = isTransects && line >= 0 && from[line] >= 0 ? table.Rows.Select(r => r.Cells[from[line]]).Where(l => l.Length > 0).ToHashSet(StringComparer.Ordinal) : [];
            var pastures = isTransects ? seasons[i].Pastures.ToDictionary(p => (p.Property, p.Name)) : [];
            foreach (var row in table.Rows)
            {
                var cells = new string[columns.Length];
                for (var c = 0; c < cells.Length; c++) cells[c] = from[c] >= 0 ? row.Cells[from[c]] : "";
                if (isTransects)
                {
                    var own = pastures.GetValueOrDefault((cells[columns.IndexOf("property")], cells[columns.IndexOf("pasture")]));
                    cells[columns.IndexOf(PooledYears.Column)] = Label(seasons[i].Settings);
                    foreach (var column in moved) cells[columns.IndexOf(column)] = own?.Source.Text(column) ?? "";
                    // Another transect of the season lies on this one's flag line: its name is a lasting one.
                    if (line >= 0 && cells[line].Length == 0 && lasting.Contains(cells[transect])) cells[line] = cells[transect];
                }

                if (transect >= 0 && cells[transect].Length > 0) cells[transect] = labels![i] + ": " + cells[transect];
                rows.Add(new RecordRow(rows.Count + 2, ImmutableArray.Create(cells)));
            }
        }

        return new RecordTable(kind, columns, rows.ToImmutable());
    }

    /// <summary>Columns in which a pasture is not the same in every season: how it was managed, when it was grazed.</summary>
    private static string[] Moved(Season[] seasons) =>
        [.. seasons.SelectMany(s => s.Tables.Table(RecordKind.Pastures)!.Columns).Distinct(StringComparer.Ordinal).Except(OfPasture)
            .Where(c => seasons.SelectMany(s => s.Pastures).GroupBy(p => (p.Property, p.Name)).Any(p => p.Select(x => x.Source.Text(c)).Distinct(StringComparer.Ordinal).Count() > 1))];
}
