using System.Globalization;
using System.IO.Compression;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Commands;
using Tussock.Exchange.Archive;
using Tussock.Land;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Archives;

/// <summary>Nothing in a coarsened archive tells a place finer than the grid, a name, a note or a gate code; in an exact one it says so, and people stay numbers.</summary>
public sealed partial class ArchivePrivacyTests : IDisposable
{
    private const string Code = "gate code 4471";
    private const string Person = "Mariposa Vuelvepiedras";
    private readonly MadeArchive made = new();

    public void Dispose() => made.Dispose();

    [Fact]
    public void No_place_finer_than_the_grid_stands_anywhere()
    {
        made.Holding(Talkative());
        var archive = made.Written();
        var season = MadeArchive.Season(made.Home, "Vuelta Larga 2026");
        var places = season.Transects.SelectMany(t => new[] { t.Start, t.End }).Concat(season.Nests.SelectMany(n => new[] { n.Flag, n.At })).OfType<Position>().ToArray();
        Assert.True(places.Length > 500);

        foreach (var (path, text) in MadeArchive.Texts(archive))
        {
            // Middles of cells have three digits behind the point; whatever has more is no degree: shares, lengths, metres a step.
            foreach (Match number in Decimal().Matches(text))
            {
                var value = double.Parse(number.Value, CultureInfo.InvariantCulture);
                Assert.False(number.Value.Split('.')[1].Length > 3 && places.Any(p => Math.Abs(Math.Abs(value) - Math.Abs(p.Latitude)) < 0.02 || Math.Abs(Math.Abs(value) - Math.Abs(p.Longitude)) < 0.02), path + ": " + number.Value);
            }
        }

        var middles = MadeArchive.Texts(archive).Single(t => t.Path == "tables/transects.csv").Text;
        Assert.Contains("cell_lat,cell_lon,cell_reach_m", middles, StringComparison.Ordinal);
        var columns = MadeArchive.Texts(archive).Where(t => t.Path.EndsWith(".csv", StringComparison.Ordinal)).SelectMany(t => t.Text.Split('\n')[0].Split(',').Select(c => t.Path + ":" + c)).ToArray();
        foreach (var column in new[] { "start_lat", "end_lon", "nest_lat", "flag_lon", "direction", "direction_2", "bearing_true_deg", "gps_accuracy_m", "area_ha", "side_of", "near_m", "position_source" }) Assert.DoesNotContain(columns, c => c.EndsWith(":" + column, StringComparison.Ordinal));
        Assert.DoesNotContain("tables/nests.csv:steps", columns);
        Assert.DoesNotContain("tables/nests.csv:distance_m", columns);
    }

    [Fact]
    public void Everything_on_a_line_stands_in_the_cell_in_which_the_line_begins_and_within_what_is_said()
    {
        made.Holding(Talkative());
        var archive = made.Written();
        var season = MadeArchive.Season(made.Home, "Vuelta Larga 2026");
        var rows = File.ReadAllLines(Path.Combine(archive, "event.csv")).Where(l => l.Contains(",WGS84,", StringComparison.Ordinal)).Select(l => WhereIs().Match(l)).ToArray();

        var sorted = season.Transects.Select(t => t.Name).Distinct().Order(StringComparer.Ordinal).ToArray();

        Assert.True(rows.Length > 500);
        Assert.All(rows.GroupBy(r => r.Groups["line"].Value), g => Assert.Single(g.Select(r => (r.Groups["lat"].Value, r.Groups["lon"].Value)).Distinct()));
        foreach (var row in rows)
        {
            var at = new Position(double.Parse(row.Groups["lat"].Value, CultureInfo.InvariantCulture), double.Parse(row.Groups["lon"].Value, CultureInfo.InvariantCulture));
            Assert.Equal(at, CoarseGrid.Middle(at));
            var line = season.Transects.Single(t => t.Name == sorted[int.Parse(row.Groups["line"].Value, CultureInfo.InvariantCulture) - 1]);
            foreach (var nest in season.Nests.Where(n => n.Transect == line && n.At is not null))
            {
                var (east, north) = new LocalPlane(at).Metres(nest.At!.Value);
                Assert.True(Math.Sqrt((east * east) + (north * north)) <= double.Parse(row.Groups["reach"].Value, CultureInfo.InvariantCulture), line.Name);
            }
        }
    }

    [Theory]
    [InlineData("archive")]
    [InlineData("archive.zip")]
    public void No_name_note_person_or_gate_code_stands_anywhere(string name)
    {
        var season = Talkative();
        made.Holding(season);
        var archive = made.Written(name);
        var texts = name.EndsWith(".zip", StringComparison.Ordinal) ? Unpacked(archive) : [.. MadeArchive.Texts(archive).SelectMany(t => new[] { t.Path, t.Text })];
        var read = MadeArchive.Season(made.Home, "Vuelta Larga 2026");
        string[] names = [.. read.Pastures.SelectMany(p => new[] { p.Property, p.Name }), .. read.Transects.SelectMany(t => new[] { t.Name, t.Line }), read.Settings.Name, read.Settings.Title, Person, "4471", "windmill by the oak", "photo-17", "Invented ranch"];

        // Ids are made of numbers behind single letters; a line called C1 is not what they mean.
        foreach (var text in texts.Select(t => EventId().Replace(t, ""))) foreach (var one in names.Distinct()) Assert.False(Regex.IsMatch(text, @"(?<![\w])" + Regex.Escape(one) + @"(?![\w])", RegexOptions.IgnoreCase), one + " in " + text[..Math.Min(80, text.Length)]);
        Assert.DoesNotContain(texts, t => t.Contains("person", StringComparison.Ordinal) && t.StartsWith("season,transect,nest,event_at", StringComparison.Ordinal));
    }

    [Fact]
    public void No_id_of_a_record_or_one_made_from_names_goes_out()
    {
        made.Holding(Talkative());
        var archive = made.Written();
        Typed.Done("export", made.Home, made.At("folder"));
        var ids = Directory.GetFiles(made.At("folder"), "*.csv").SelectMany(File.ReadAllLines).SelectMany(l => Uuid().Matches(l).Select(m => m.Value)).ToHashSet(StringComparer.OrdinalIgnoreCase);
        Assert.True(ids.Count > 1000);

        var found = MadeArchive.Texts(archive).SelectMany(t => Uuid().Matches(t.Text).Select(m => m.Value)).Distinct().ToArray();
        Assert.DoesNotContain(found, ids.Contains);
        Assert.Single(found);
    }

    [Fact]
    public void Two_ranches_that_differ_in_names_and_exact_places_alone_give_the_same_bytes()
    {
        var season = MadeArchive.Invented(1, "home", "2026");
        using var other = new MadeArchive();
        made.Holding(season);
        // A metre further, other names in the same order, other people in the same order, other notes: whoever sees the archive can't tell them apart.
        var renamed = season;
        foreach (var kind in new[] { RecordKind.Pastures, RecordKind.Transects, RecordKind.Events }) renamed = MadeArchive.With(renamed, kind, "property", (_, p) => p.Length == 0 ? p : p + " y otra");
        foreach (var kind in new[] { RecordKind.Transects, RecordKind.Nests, RecordKind.Visits, RecordKind.Remains, RecordKind.Cameras, RecordKind.Deployments, RecordKind.Belts, RecordKind.Events }) renamed = MadeArchive.With(renamed, kind, "transect", (_, t) => t.Length == 0 ? t : "Q" + t);
        renamed = MadeArchive.With(renamed, RecordKind.Transects, "line", (_, t) => t.Length == 0 ? t : "Q" + t);
        renamed = MadeArchive.With(renamed, RecordKind.Nests, "nest_lat", (_, c) => c.Length == 0 ? c : c[..^1] + "7");
        renamed = MadeArchive.With(renamed, RecordKind.Nests, "note", (_, _) => Code);
        other.Holding(MadeArchive.With(renamed, ("name", "elsewhere")));

        Assert.Equal(MadeArchive.Texts(made.Written()), MadeArchive.Texts(other.Written()));
    }

    [Fact]
    public void Exact_it_says_so_loudly_and_people_and_notes_stay_at_home_all_the_same()
    {
        made.Holding(Talkative());
        var run = Typed.Done("export", made.Home, made.At("exact"), "--as", "archive", "--exact");
        var texts = MadeArchive.Texts(made.At("exact"));

        Assert.Contains("BEWARE", run.Err, StringComparison.Ordinal);
        Assert.Contains("BEWARE", texts.Single(t => t.Path == "README.md").Text, StringComparison.Ordinal);
        Assert.Contains("BEWARE", texts.Single(t => t.Path == "datapackage.json").Text, StringComparison.Ordinal);
        Assert.Contains("Two Windmills", texts.Single(t => t.Path == "tables/pastures.csv").Text, StringComparison.Ordinal);
        Assert.Contains("nest_lat", texts.Single(t => t.Path == "tables/nests.csv").Text, StringComparison.Ordinal);
        foreach (var (path, text) in texts) foreach (var word in new[] { Person, "4471", "windmill by the oak", "photo-17" }) Assert.False(text.Contains(word, StringComparison.OrdinalIgnoreCase), word + " in " + path);
    }

    [Theory]
    [InlineData("human", "", "")]
    [InlineData("Human", "", "took_first")]
    [InlineData("hunter", "", "")]
    [InlineData("somebody on a horse track", "", "")]
    [InlineData("other", "Homo sapiens", "")]
    [InlineData("unknown", "human", "")]
    [InlineData("coyote", "", "person")]
    public void People_whom_a_camera_saw_stay_at_home_whatever_they_were_called(string culprit, string species, string role)
    {
        var season = MadeArchive.Small(MadeArchive.Invented(1, "home", "2026"));
        foreach (var (column, text) in new[] { ("culprit", culprit), ("species", species), ("role", role), ("took_eggs", "no") }) season = MadeArchive.With(season, RecordKind.Cameras, column, (_, _) => text);
        made.Holding(season);
        Assert.NotEmpty(MadeArchive.Season(made.Home, "home").CameraEvents);
        var texts = MadeArchive.Texts(made.Written());

        Assert.Single(texts.Single(t => t.Path == "occurrence.csv").Text.Trim().Split('\n'));
        foreach (var (path, text) in texts.Where(t => t.Path is "tables/cameras.csv" or "occurrence.csv")) foreach (var word in new[] { "human", "hunter", "somebody", "sapiens", "person" }) Assert.False(text.Contains(word, StringComparison.OrdinalIgnoreCase), word + " in " + path);
    }

    [Fact]
    public void A_class_that_is_in_no_list_is_another_animal_and_its_species_is_told()
    {
        made.Holding(MadeArchive.With(MadeArchive.With(MadeArchive.Small(MadeArchive.Invented(1, "home", "2026")), RecordKind.Cameras, "culprit", (_, _) => "deer"), RecordKind.Cameras, "species", (_, _) => "Odocoileus virginianus"));
        var texts = MadeArchive.Texts(made.Written());

        Assert.Contains("Odocoileus virginianus", texts.Single(t => t.Path == "occurrence.csv").Text, StringComparison.Ordinal);
        Assert.DoesNotContain("deer", texts.Single(t => t.Path == "tables/cameras.csv").Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("55 12 34 56", true)]
    [InlineData("27.51 -98.23", true)]
    [InlineData("gate 4-4-7", true)]
    [InlineData("told by Petirrojo", true)]
    [InlineData("as Zorzal said", true)]
    [InlineData("2026-05-04", false)]
    [InlineData("paddock 12", false)]
    public void A_text_with_three_digits_in_all_or_a_name_that_stays_at_home_stays_at_home(string written, bool isHeld)
    {
        var season = MadeArchive.With(MadeArchive.Small(MadeArchive.Invented(1, "home", "2026")), RecordKind.Pastures, "last_grazed", (_, _) => written);
        season = MadeArchive.With(season, RecordKind.Events, "told_by", (_, _) => "Petirrojo");
        made.Holding(season with { Tables = [.. season.Tables.Where(t => t.Kind != RecordKind.Chance), new RecordTable(RecordKind.Chance, ["transect", "kind", "observer"], [new RecordRow(2, ["", "track", "Zorzal"])])] });
        foreach (var how in new string[][] { [], ["--exact"] })
        {
            var pastures = MadeArchive.Texts(made.Written("archive-" + how.Length, how)).Single(t => t.Path == "tables/pastures.csv").Text;
            Assert.Equal(isHeld, !pastures.Contains(written, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_word_that_goes_out_is_listed_with_those_of_the_season_s_rules()
    {
        var season = MadeArchive.With(MadeArchive.Small(MadeArchive.Invented(1, "home", "dry year")), ("egg_kind", "bantam"), ("species", "scaled quail"));
        made.Holding(MadeArchive.With(season, RecordKind.Nests, "plant", (r, _) => "plant " + (char)('a' + (r.Line % 26))));

        var told = Typed.Done("export", made.Home, made.At("archive"), "--as", "archive").Out;
        foreach (var line in new[] { "season.egg_kind: bantam", "season.species: scaled quail", "season.year: dry year", "season.cover_classes: " }) Assert.Contains(line, told, StringComparison.Ordinal);
        foreach (var plant in MadeArchive.Season(made.Home, "home").Nests.Select(n => n.Source.Text("plant")).Distinct()) Assert.Contains(plant, told, StringComparison.Ordinal);
    }

    [Fact]
    public void Somebody_has_decided_about_every_column_of_the_season_folder_and_what_goes_out_is_explained()
    {
        foreach (var kind in RecordKind.All.Where(k => k != RecordKind.Media && k != RecordKind.Plants && k != RecordKind.Chance))
        {
            Assert.Contains(kind, ColumnHandings.Kinds);
            Assert.Empty(kind.Columns.Where(c => !ColumnHandings.IsDecided(kind, c.Name)).Select(c => kind.Name + "." + c.Name));
            Assert.Empty(kind.Columns.Where(c => ColumnHandings.Of(kind, c.Name) is not (Handing.Withheld or Handing.Informant) && PublishedColumns.Of(kind.Name, c.Name) is null).Select(c => kind.Name + "." + c.Name));
            // A text goes out only by a rule that looks into it.
            Assert.Empty(kind.Columns.Where(c => c.Type == ColumnType.Text && ColumnHandings.Of(kind, c.Name) is Handing.Kept or Handing.WhereExact).Select(c => kind.Name + "." + c.Name).Except(["nests.direction_sense"]));
            Assert.Empty(kind.Columns.Where(c => c.Type is ColumnType.Latitude or ColumnType.Longitude or ColumnType.Direction && ColumnHandings.Of(kind, c.Name) is not (Handing.WhereExact or Handing.Withheld)).Select(c => kind.Name + "." + c.Name));
        }
    }

    /// <summary>A season in which everybody wrote whatever came to mind wherever there was room.</summary>
    private static SeasonTables Talkative()
    {
        var season = MadeArchive.With(MadeArchive.Invented(1, "Vuelta Larga 2026", "2026"), ("comment", Code), ("egg_colour", "as at Two Windmills"), ("edge_rule", Code), ("owner", "Invented ranch"));
        foreach (var kind in RecordKind.All.Where(k => season.Table(k) is not null))
        {
            season = MadeArchive.With(season, kind, "note", (_, _) => Code + ", " + Person + ", windmill by the oak, Two Windmills");
            season = MadeArchive.With(season, kind, "photos", (_, _) => "photo-17");
            season = MadeArchive.With(season, kind, "our own column", (_, _) => "Invented ranch 27.026410 -98.493334");
        }

        foreach (var (kind, column) in new[] { (RecordKind.Transects, "observer"), (RecordKind.Transects, "recorder"), (RecordKind.Visits, "observer"), (RecordKind.Visits, "found_by"), (RecordKind.Belts, "observer"), (RecordKind.Remains, "observer"), (RecordKind.Crew, "observer"), (RecordKind.Events, "told_by"), (RecordKind.Belts, "width_by") }) season = MadeArchive.With(season, kind, column, (r, _) => r.Line % 2 == 0 ? Person : "crew 2");
        foreach (var (kind, column, text) in new[]
        {
            (RecordKind.Nests, "landmarks", "windmill by the oak"), (RecordKind.Nests, "near", "windmill by the oak"), (RecordKind.Nests, "plant", "oak of " + Person), (RecordKind.Nests, "live_or_dead", Code), (RecordKind.Pastures, "management", "rested, ask at Two Windmills"),
            (RecordKind.Pastures, "ecological_site", "north-draw loam"), (RecordKind.Transects, "direction_walked", "to the windmill by the oak"), (RecordKind.Transects, "stratum", "thirteen   gates side"), (RecordKind.Deployments, "camera", "cam of " + Person), (RecordKind.Deployments, "failed_because", Code),
            (RecordKind.Cameras, "media", "photo-17"), (RecordKind.Cameras, "certainty", Person), (RecordKind.Cameras, "species", "dog of " + Person), (RecordKind.Cameras, "until", "27.026410 -98.493334"), (RecordKind.Visits, "not_found_because", "key 4471"), (RecordKind.Remains, "crew_guess", Person), (RecordKind.Belts, "reason", Code), (RecordKind.Events, "unit", Code),
        }) season = MadeArchive.With(season, kind, column, (_, _) => text);
        season = MadeArchive.With(season, RecordKind.Cameras, "culprit", (r, c) => r.Line == 2 ? "person" : r.Line == 3 ? "dog of " + Person : c);
        season = MadeArchive.With(season, RecordKind.Cameras, "took_eggs", (r, c) => r.Line == 2 ? "no" : c);
        season = MadeArchive.With(season, RecordKind.Remains, "value", (r, c) => r.Line == 2 ? "see gate 4471" : c);
        return season with { Texts = season.Texts.SetItem("signs.json", "{\"about\":\"" + Code + "\"}") };
    }

    private static string[] Unpacked(string archive)
    {
        using var zip = ZipFile.OpenRead(archive);
        return [.. zip.Entries.SelectMany(e =>
        {
            using var text = new StreamReader(e.Open());
            return new[] { e.FullName, text.ReadToEnd() };
        })];
    }

    [GeneratedRegex(@"\d+\.\d+")]
    private static partial Regex Decimal();

    [GeneratedRegex(":t(?<line>[0-9]+)[,:].*,(?<lat>-?[0-9.]+),(?<lon>-?[0-9.]+),WGS84,(?<reach>[0-9]+),")]
    private static partial Regex WhereIs();

    [GeneratedRegex("[0-9a-f]{8}(:[stnvcmo][0-9]+)+")]
    private static partial Regex EventId();

    [GeneratedRegex("[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{12}")]
    private static partial Regex Uuid();
}
