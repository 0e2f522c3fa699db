using System.Text.Json;
using Tussock.Exchange.Places;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>The command that plans: what it writes goes the whole way through the other commands.</summary>
public sealed class PlanCommandTests : IDisposable
{
    private const string Land = """
        {"type":"FeatureCollection","features":[
        {"type":"Feature","properties":{"property":"Two Windmills","pasture":"South","stratum":"clay"},"geometry":{"type":"Polygon","coordinates":[[[-98.41,27.0],[-98.4,27.0],[-98.4,27.02],[-98.41,27.02],[-98.41,27.0]]]}},
        {"type":"Feature","properties":{"property":"Two Windmills","pasture":"South","stratum":"sand"},"geometry":{"type":"Polygon","coordinates":[[[-98.4,27.0],[-98.38,27.0],[-98.38,27.02],[-98.4,27.02],[-98.4,27.0]],[[-98.395,27.008],[-98.39,27.008],[-98.39,27.012],[-98.395,27.012],[-98.395,27.008]]]}},
        {"type":"Feature","properties":{"name":"Far Side"},"geometry":{"type":"Polygon","coordinates":[[[-98.37,27.0],[-98.35,27.0],[-98.36,27.02],[-98.37,27.0]]]}}]}
        """;

    private readonly ScratchFolder scratch = new();

    private string Pastures { get; }

    public PlanCommandTests()
    {
        Pastures = scratch.At("land.geojson");
        File.WriteAllText(Pastures, Land);
    }

    public void Dispose() => scratch.Dispose();

    private static Season Read(string folder)
    {
        var (season, problems) = SeasonFolderReader.ReadSeason(folder, TestContext.Current.CancellationToken);
        return season ?? throw new InvalidOperationException(string.Join('\n', problems));
    }

    private string[] Line(string folder, params string[] more) => ["plan", "--pastures", Pastures, "--transects", "6", "--nests", "8", "--seed", "5", "--covers", "bunchgrass,cactus", "--out", scratch.At(folder), "--at", Typed.At, .. more];

    private static Dictionary<string, string> Texts(string folder) => Directory.GetFiles(folder, "*", SearchOption.AllDirectories).ToDictionary(f => Path.GetRelativePath(folder, f), File.ReadAllText);

    [Fact]
    public void A_file_of_boundaries_becomes_a_season_ready_for_set_out()
    {
        Typed.Done(Line("plan", "--property", "Two Windmills", "--year", "2027", "--time-zone", "America/Chicago"));

        var season = Read(scratch.At("plan"));
        Assert.Equal(12, season.Transects.Length);
        Assert.Equal(96, season.Nests.Length);
        Assert.Empty(season.Visits);
        Assert.All(season.Transects, t => Assert.True(t is { SetOn: null, StepM: 0.75, StepsBetween: 50, Start: not null, End: not null }));
        Assert.All(season.Nests, n => Assert.True(n is { SetOn: null, Cover: "", Flag: not null } && n.Source.Text("position_source") == "planned" && n.Source.Text("class_due").Length > 0));
        Assert.Equal(["clay", "sand"], season.Transects.Where(t => t.Pasture.Name == "South").Select(t => t.Source.Text("stratum")).Distinct().Order());
        var boundaries = SeasonBoundaries.Of(season.Tables).Value;
        Assert.All(season.Nests, n => Assert.True(boundaries[(n.Transect.Pasture.Property, n.Transect.Pasture.Name)].Contains(n.Flag!.Value)));
        Assert.Equal("2027", season.Settings.Year);
        Assert.All(["lines.geojson", "lines.gpx", "map.svg"], f => Assert.True(File.Exists(Path.Combine(scratch.At("plan"), f)), f));
    }

    [Fact]
    public void The_same_plan_twice_changes_no_byte_and_another_one_asks()
    {
        Typed.Done(Line("plan"));
        var before = Texts(scratch.At("plan"));

        Typed.Done(Line("plan"));
        Assert.Equal(before, Texts(scratch.At("plan")));

        var other = Typed.Run(Line("plan", "--straight", "--separation", "150"));
        Assert.Equal(1, other.Exit);
        Assert.Contains("--overwrite", other.Err, StringComparison.Ordinal);
        Assert.Equal(before, Texts(scratch.At("plan")));

        Typed.Done(Line("plan", "--straight", "--separation", "150", "--overwrite"));
        Assert.NotEqual(before["transects.csv"], Texts(scratch.At("plan"))["transects.csv"]);
    }

    [Fact]
    public void A_season_that_was_begun_is_never_planned_over()
    {
        Typed.Done(Line("plan"));
        var transects = Path.Combine(scratch.At("plan"), "transects.csv");
        var rows = File.ReadAllLines(transects);
        var cells = rows[1].Split(',');
        cells[3] = "2027-05-10";
        File.WriteAllLines(transects, [rows[0], string.Join(',', cells), .. rows[2..]]);
        var before = Texts(scratch.At("plan"));

        var run = Typed.Run(Line("plan", "--overwrite"));

        Assert.Equal(1, run.Exit);
        Assert.Equal(before, Texts(scratch.At("plan")));
    }

    [Fact]
    public void A_plan_goes_through_inspect_import_export_sheets_and_receivers()
    {
        Typed.Done(Line("plan", "--time-zone", "America/Chicago", "--year", "2027"));
        Assert.All(Typed.Findings(scratch.At("plan")), f => Assert.Equal("planned_not_set", f.Text("rule")));

        Typed.Done("import", scratch.At("data.db"), scratch.At("plan"));
        Typed.Done("import", scratch.At("data.db"), scratch.At("plan"));
        Typed.Done("export", scratch.At("data.db"), scratch.At("back"));
        var (planned, back) = (Read(scratch.At("plan")), Read(scratch.At("back")));
        Assert.Equal(planned.Nests.Select(n => (n.Transect.Name, n.Number, n.Flag, n.Source.Text("class_due"))), back.Nests.Select(n => (n.Transect.Name, n.Number, n.Flag, n.Source.Text("class_due"))));
        Assert.Equal(planned.Transects.Select(t => (t.Name, t.Start, t.End, t.BearingTrueDeg, t.Line)), back.Transects.Select(t => (t.Name, t.Start, t.End, t.BearingTrueDeg, t.Line)));
        Assert.Equal(96, Typed.Results(scratch.At("data.db")).GetProperty("planned_nests").GetInt32());

        Typed.Done("sheets", scratch.At("data.db"), "--out", scratch.At("sheets"));
        Assert.Contains("S1", File.ReadAllText(Path.Combine(scratch.At("sheets"), "sheet-set-out.html")), StringComparison.Ordinal);

        // What the receiver has is taken back to the places that are there: nothing changes.
        Assert.Contains("0 things new or changed", Typed.Done("import", scratch.At("plan"), Path.Combine(scratch.At("plan"), "lines.gpx"), "--preview").Out, StringComparison.Ordinal);
        var read = MapFiles.Read(Path.Combine(scratch.At("plan"), "lines.gpx"));
        Assert.Empty(read.Problems.Where(p => p.Severity == Severity.Stop));
        Assert.Equal(96, read.Features.Count(f => f.Field("kind") == "flag"));
        using var map = JsonDocument.Parse(File.ReadAllText(Path.Combine(scratch.At("plan"), "lines.geojson")));
        Assert.Equal(12, map.RootElement.GetProperty("features").EnumerateArray().Count(f => f.GetProperty("geometry").GetProperty("type").GetString() == "LineString"));
    }

    [Fact]
    public void Lines_of_a_former_year_come_again_by_name()
    {
        Typed.Done(Line("first"));

        Typed.Done("plan", scratch.At("first"), "--transects", "6", "--nests", "8", "--take-up", "S1,S3", "--only", "South", "--seed", "9", "--name", "next", "--out", scratch.At("second"));

        var (first, second) = (Read(scratch.At("first")), Read(scratch.At("second")));
        Assert.Equal("next", second.Settings.Name);
        Assert.Equal(6, second.Transects.Length);
        foreach (var name in new[] { "S1", "S3" }) Assert.Equal(Flags(first, name), Flags(second, name));
        Assert.DoesNotContain(second.Transects, t => t.Line is "S2" or "S4" or "S5" or "S6");

        static IEnumerable<Tussock.Land.Position?> Flags(Season season, string line) => season.Nests.Where(n => n.Transect.Line == line).Select(n => n.Flag);
    }

    [Fact]
    public void What_does_not_fit_ends_with_1_and_what_would_and_writes_nothing()
    {
        var run = Typed.Run("plan", "--pastures", Pastures, "--transects", "90", "--nests", "12", "--out", scratch.At("plan"));

        Assert.Equal((1, ""), (run.Exit, run.Out));
        Assert.Contains("--nests", run.Err, StringComparison.Ordinal);
        Assert.Contains("--as-many-as-fit", run.Err, StringComparison.Ordinal);
        Assert.False(Directory.Exists(scratch.At("plan")));

        Typed.Done("plan", "--pastures", Pastures, "--transects", "90", "--nests", "12", "--as-many-as-fit", "--out", scratch.At("plan"));
        Assert.True(Read(scratch.At("plan")).Transects.Length > 20);
    }

    [Theory]
    [InlineData("plan demo --only Nowhere", 1, "North Draw")]
    [InlineData("plan demo --take-up Nothing", 1, "Caliche Hill 1")]
    [InlineData("plan demo --pastures land.geojson", 2, "--pastures")]
    [InlineData("plan", 2, "DATA")]
    [InlineData("plan demo --nests many", 2, "--nests")]
    [InlineData("plan demo --step 9", 2, "--step")]
    public void A_request_that_cannot_be_is_told(string typed, int exit, string said)
    {
        var run = Typed.Run([.. typed.Split(' '), "--out", scratch.At("none")]);

        Assert.Equal(exit, run.Exit);
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
        Assert.False(Directory.Exists(scratch.At("none")));
    }

    [Fact]
    public void The_sheet_to_set_out_says_where_a_line_turns_and_where_no_flag_stays()
    {
        // 300 m of line on 140 m of land: only a loop fits.
        File.WriteAllText(Pastures, """{"type":"Feature","properties":{"pasture":"Trap"},"geometry":{"type":"Polygon","coordinates":[[[-98.4,27],[-98.3986,27],[-98.3986,27.00127],[-98.4,27.00127],[-98.4,27]]]}}""");

        Typed.Done("plan", "--pastures", Pastures, "--transects", "1", "--nests", "8", "--covers", "bunchgrass,cactus", "--half-flags", "--out", scratch.At("plan"));

        var html = File.ReadAllText(Path.Combine(scratch.At("plan"), "sheets", "sheet-set-out.html"));
        Assert.Contains("from flag 2 ", html, StringComparison.Ordinal);
        Assert.Equal(4, html.Split("no flag here").Length - 1);
        Assert.Equal(4, Read(scratch.At("plan")).Nests.Count(n => n.Source.Text("marked") == "none"));
    }

    [Fact]
    public void A_data_file_is_planned_from_as_well_as_a_folder()
    {
        Typed.Done(Line("plan"));
        Typed.Done("import", scratch.At("data.db"), scratch.At("plan"));

        Typed.Done("plan", scratch.At("data.db"), "--take-up", "all", "--transects", "6", "--nests", "8", "--name", "again", "--out", scratch.At("again"));

        Assert.Equal(Read(scratch.At("plan")).Nests.Select(n => n.Flag), Read(scratch.At("again")).Nests.Select(n => n.Flag));
    }

    [Fact]
    public void Supplies_follow_the_survival_expected_and_the_prices_given()
    {
        Typed.Done(Line("plan"));

        Typed.Done("sheets", scratch.At("plan"), "--out", scratch.At("dear"), "--survival", "1", "--spare", "0", "--cameras", "2", "--cost", "eggs=0.25,flags=0.5");

        var html = File.ReadAllText(Path.Combine(scratch.At("dear"), "sheet-supplies-and-safety.html"));
        // 96 nests of 3 eggs, as many again, 96 + 12 flags: 288 · 0.25 + 108 · 0.5.
        Assert.Contains("at 0.25: 72.00", html, StringComparison.Ordinal);
        Assert.Contains("126.00", html, StringComparison.Ordinal);
        var wrong = Typed.Run("sheets", scratch.At("plan"), "--out", scratch.At("none"), "--cost", "gold=1");
        Assert.Equal(2, wrong.Exit);
        Assert.Contains("eggs=0.30", wrong.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void It_speaks_Spanish_too()
    {
        var run = Typed.Done([.. Line("plan"), "--language", "es"]);

        Assert.Contains("lista para la colocación", run.Out, StringComparison.Ordinal);
    }
}
