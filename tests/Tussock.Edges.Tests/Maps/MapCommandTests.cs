using System.Collections.Immutable;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Exchange;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Maps and calendars from the command line, out and in again.</summary>
public sealed class MapCommandTests : IDisposable
{
    private static readonly string[] Places = ["start_lat", "start_lon", "end_lat", "end_lon", "flag_lat", "flag_lon", "nest_lat", "nest_lon", "position_source", "gps_accuracy_m"];
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Theory]
    [InlineData("gpx", "out.gpx", "out.gpx")]
    [InlineData("geojson", "out.geojson", "out.geojson")]
    [InlineData("kml", "out.kml", "out.kml")]
    [InlineData("shapefile", "out", "out/points.shp out/lines.shp out/pastures.shp")]
    public void Exact_places_that_go_out_and_come_in_again_make_the_same_season(string form, string to, string from)
    {
        Typed.Done("demo", scratch.At("season"));
        Typed.Done("export", scratch.At("season"), "--as", form, "--exact", "--out", scratch.At(to));
        var whole = SeasonFolderReader.Read(scratch.At("season"), TestContext.Current.CancellationToken).Tables!;
        Bare(whole, scratch.At("bare"));
        Typed.Done("import", scratch.At("range.db"), scratch.At("bare"));
        foreach (var file in from.Split(' '))
        {
            Typed.Done("import", scratch.At("bare"), scratch.At(file));
            Typed.Done("import", scratch.At("range.db"), scratch.At(file));
        }

        Typed.Done("export", scratch.At("range.db"), scratch.At("from-file"));
        foreach (var folder in new[] { "bare", "from-file" })
        {
            var read = SeasonFolderReader.Read(scratch.At(folder), TestContext.Current.CancellationToken).Tables!;
            Assert.Equal(PlacesOf(whole), PlacesOf(read));
            Assert.Equal(Tussock.Exchange.GeoJson.BoundaryText.Read(whole.Texts["pastures.geojson"]), Tussock.Exchange.GeoJson.BoundaryText.Read(read.Texts["pastures.geojson"]));
        }

        Assert.Equal(Typed.ResultsText(scratch.At("season")), Typed.ResultsText(scratch.At("range.db")));
        Assert.Contains("Nothing to do", Typed.Done("import", scratch.At("range.db"), scratch.At(from.Split(' ')[0])).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Places_are_not_replaced_without_being_asked_and_a_preview_writes_nothing()
    {
        Typed.Done("demo", scratch.At("season"));
        Typed.Done("import", scratch.At("range.db"), scratch.At("season"));
        var before = File.ReadAllBytes(scratch.At("range.db"));
        File.WriteAllText(scratch.At("walk.gpx"), "<gpx version=\"1.1\">\n<wpt lat=\"31\" lon=\"-99\"><name>N1-1</name></wpt>\n<wpt lat=\"31\" lon=\"-99\"><name>Water tank</name></wpt>\n</gpx>");
        var refused = Typed.Run("import", scratch.At("range.db"), scratch.At("walk.gpx"));
        Assert.Equal(1, refused.Exit);
        Assert.Contains("--apply", refused.Err, StringComparison.Ordinal);
        Assert.Contains("walk.gpx:2: “N1-1”: flag of N1, nest 1; moved by", refused.Out, StringComparison.Ordinal);
        Assert.Contains("walk.gpx:3: “Water tank”: not taken", refused.Out, StringComparison.Ordinal);
        Assert.Contains("nothing was written", Typed.Done("import", scratch.At("range.db"), scratch.At("walk.gpx"), "--preview").Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scratch.At("range.db")));
        Typed.Done("import", scratch.At("range.db"), scratch.At("walk.gpx"), "--apply", "--as", "crew 1");
        Typed.Done("export", scratch.At("range.db"), scratch.At("after"));
        var nests = SeasonFolderReader.Read(scratch.At("after"), TestContext.Current.CancellationToken).Tables!.Table(RecordKind.Nests)!;
        Assert.Equal("31", nests.Rows.Select(r => new Source(nests, r)).Single(s => s.Text("transect") == "N1" && s.Text("nest") == "1").Text("flag_lat"));
        Assert.Equal(0, Typed.Run("check", scratch.At("range.db")).Exit);
    }

    [Fact]
    public void The_folder_that_is_imported_again_does_not_take_the_places_back()
    {
        new MadeFolder().Line("T1", ["intact", "intact"]).Write(scratch.At("season"));
        Typed.Done("import", scratch.At("range.db"), scratch.At("season"));
        File.WriteAllText(scratch.At("walk.gpx"), "<gpx><wpt lat=\"31\" lon=\"-99\"><name>T1 nest 2</name></wpt></gpx>");
        Typed.Done("import", scratch.At("range.db"), scratch.At("walk.gpx"));
        Assert.Contains("nests: 2 rows, 0 new, 0 changed, 0 in conflict", Typed.Done("import", scratch.At("range.db"), scratch.At("season")).Out, StringComparison.Ordinal);
        Assert.Contains("Nothing to do", Typed.Done("import", scratch.At("range.db"), scratch.At("season")).Out, StringComparison.Ordinal);
        Typed.Done("export", scratch.At("range.db"), scratch.At("after"));
        Assert.Contains("31,-99", File.ReadAllText(Path.Combine(scratch.At("after"), "nests.csv")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_coarsened_map_says_so_and_is_not_taken_in()
    {
        var run = Typed.Done("export", "demo", "--as", "gpx", "--out", scratch.At("share.gpx"));
        Assert.Contains("Coarsened", run.Out, StringComparison.Ordinal);
        Assert.Contains("Coarsened", File.ReadAllText(scratch.At("share.gpx")), StringComparison.Ordinal);
        Typed.Done("demo", scratch.At("season"));
        var refused = Typed.Run("import", scratch.At("season"), scratch.At("share.gpx"));
        Assert.Equal(1, refused.Exit);
        Assert.Contains("coarsened", refused.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_season_gives_the_same_bytes()
    {
        foreach (var form in new[] { "gpx", "geojson", "kml" })
        {
            Typed.Done("export", "demo", "--as", form, "--out", scratch.At("one." + form));
            Typed.Done("export", "demo", "--as", form, scratch.At("two." + form));
            Assert.Equal(File.ReadAllBytes(scratch.At("one." + form)), File.ReadAllBytes(scratch.At("two." + form)));
        }
    }

    [Fact]
    public void What_is_there_is_replaced_only_when_asked()
    {
        File.WriteAllText(scratch.At("days.ics"), "mine");
        var refused = Typed.Run("export", "demo", "--as", "ical", "--out", scratch.At("days.ics"));
        Assert.Equal(1, refused.Exit);
        Assert.Equal("mine", File.ReadAllText(scratch.At("days.ics")));
        Typed.Done("export", "demo", "--as", "calendar", "--out", scratch.At("days.ics"), "--overwrite", "--at", Typed.At);
        Assert.StartsWith("BEGIN:VCALENDAR\r\n", File.ReadAllText(scratch.At("days.ics")), StringComparison.Ordinal);
        Assert.Equal(["days.ics"], Directory.GetFiles(scratch.Folder).Select(f => Path.GetFileName(f)));
    }

    [Fact]
    public void Exact_shapefiles_do_not_stay_beside_coarsened_ones()
    {
        Typed.Done("export", "demo", "--as", "shapefile", "--exact", "--out", scratch.At("shapes"));
        File.WriteAllText(Path.Combine(scratch.At("shapes"), "mine.txt"), "mine");
        Assert.True(File.Exists(Path.Combine(scratch.At("shapes"), "lines.shp")));
        Assert.Equal(1, Typed.Run("export", "demo", "--as", "shapefile", "--out", scratch.At("shapes")).Exit);
        Typed.Done("export", "demo", "--as", "shapefile", "--out", scratch.At("shapes"), "--overwrite");
        Assert.Empty(Directory.GetFiles(scratch.At("shapes"), "lines.*"));
        Assert.True(File.Exists(Path.Combine(scratch.At("shapes"), "mine.txt")));
    }

    [Fact]
    public void A_file_of_places_makes_no_data_file()
    {
        File.WriteAllText(scratch.At("walk.gpx"), "<gpx><wpt lat=\"31\" lon=\"-99\"><name>T1-1</name></wpt></gpx>");
        Assert.Equal(1, Typed.Run("import", scratch.At("none.db"), scratch.At("walk.gpx")).Exit);
        Assert.Equal(1, Typed.Run("import", "demo", scratch.At("walk.gpx")).Exit);
        Assert.False(File.Exists(scratch.At("none.db")) || File.Exists("demo"));
    }

    [Theory]
    [InlineData("export", "demo")]
    [InlineData("export", "demo", "a", "--out", "b")]
    [InlineData("export", "demo", "a", "--as", "nothing")]
    public void An_export_needs_one_target_and_a_form_that_exists(params string[] line) => Assert.Equal(2, Typed.Run(line).Exit);

    [Fact]
    public void A_season_without_places_says_so()
    {
        new MadeFolder().Line("T1", ["intact"]).Write(scratch.At("season"));
        var run = Typed.Run("export", scratch.At("season"), "--as", "kml", "--out", scratch.At("a.kml"));
        Assert.Equal(1, run.Exit);
        Assert.Contains("no places", run.Err, StringComparison.Ordinal);
        Assert.False(File.Exists(scratch.At("a.kml")));
    }

    /// <summary>The season without any place.</summary>
    private static void Bare(SeasonTables tables, string folder)
    {
        var bare = tables with
        {
            Tables = [.. tables.Tables.Select(t => t with { Rows = [.. t.Rows.Select(r => r with { Cells = [.. r.Cells.Select((c, i) => Places.Contains(t.Columns[i]) && (t.Kind == RecordKind.Nests || t.Columns[i].EndsWith("_lat", StringComparison.Ordinal) || t.Columns[i].EndsWith("_lon", StringComparison.Ordinal)) ? "" : c)] })] })],
            Texts = tables.Texts.Remove("pastures.geojson"),
        };
        Assert.True(SeasonFolderWriter.Write(bare, folder).IsEmpty);
    }

    /// <summary>All places of a season as numbers, by line and nest.</summary>
    private static string PlacesOf(SeasonTables tables) => string.Join('\n', tables.Tables.Where(t => t.Kind == RecordKind.Transects || t.Kind == RecordKind.Nests).SelectMany(t => t.Rows.Select(r => new Source(t, r)))
        .Select(s => s.Text("transect") + " " + s.Text("nest") + ": " + string.Join(' ', Places.Select(c => s.Number(c) is { } number ? number.ToString("R", System.Globalization.CultureInfo.InvariantCulture) : s.Text(c)))).Order(StringComparer.Ordinal));
}
