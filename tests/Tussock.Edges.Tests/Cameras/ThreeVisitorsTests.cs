using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Scenes;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Cameras;

/// <summary>Three visitors and one dead battery, told by a package of camera records: the same fates as by records typed by hand.</summary>
public sealed class ThreeVisitorsTests : IDisposable
{
    private readonly SceneFolder scene = new("three-visitors");
    private readonly MadePackage package = new("000-three-visitors");

    public void Dispose()
    {
        scene.Dispose();
        package.Dispose();
    }

    [Theory]
    [InlineData("any_egg", 9.4)]
    [InlineData("all_eggs", 9.5)]
    public void The_package_times_the_loss_and_its_fast_clock_is_set_back(string rule, double seen)
    {
        if (rule != "any_egg") scene.Change("datapackage.json", "\"any_egg\"", "\"" + rule + "\"");
        Import();
        var results = Typed.Results(scene.DataFile);
        var fate = results.Fate("1", 3);

        Assert.Equal(seen - (1.0 / 24), fate.Number("t")!.Value, 1e-9);
        Assert.Equal(("lost", "lost"), (fate.Text("day14"), fate.Text("day28")));
        Assert.Equal("coyote", Culprit(results, 3));
        Assert.Equal((19.8, 28, null, "lost"), (results.Fate("1", 8).Number("a"), results.Fate("1", 8).Number("b"), results.Fate("1", 8).Number("t"), results.Fate("1", 8).Text("day28")));
        Assert.Null(Culprit(results, 8));
    }

    [Fact]
    public void The_answer_is_that_of_the_same_records_typed_by_hand()
    {
        using var typed = new SceneFolder("three-visitors");
        Import();

        var (mine, theirs) = (Typed.Results(scene.DataFile), Typed.Results(typed.Folder));

        Assert.Equal(theirs.GetProperty("fates").GetRawText(), mine.GetProperty("fates").GetRawText());
        Assert.Equal(theirs.At("culprits/nests").GetRawText(), mine.At("culprits/nests").GetRawText());
    }

    [Fact]
    public void A_visit_of_an_animal_is_no_loss_where_nothing_says_so()
    {
        package.Change("observations.csv", "egg predation,eggs_taken:2", "sniffing nest,").Change("observations.csv", "egg predation,eggs_taken:1", ",");
        Import();

        Assert.Null(Typed.Results(scene.DataFile).Fate("1", 3).Number("t"));
        var rows = Table(RecordKind.Cameras);
        Assert.Equal(["passed", "looked_in", "", "ate_remains", "person"], rows.Select(r => r.Text("role")));
        Assert.Equal(["", "", "", "no", ""], rows.Select(r => r.Text("took_eggs")));
    }

    [Fact]
    public void Events_deployments_and_pictures_stand_in_their_tables_and_people_only_by_count_and_time()
    {
        Import();

        var events = Table(RecordKind.Cameras);
        Assert.Equal(["raccoon passed", "coyote took_first", "coyote took_later", "raccoon ate_remains", "person person"], events.Select(r => r.Text("culprit") + " " + r.Text("role")));
        Assert.Equal(["2024-05-12T14:24:00", "2024-05-15T21:36:00", "2024-05-16T00:00:00", "2024-05-17T12:00:00", "2024-06-03T08:55:00"], events.Select(r => r.Text("event_at")));
        Assert.Equal(["1", "1", "1", "1", "2"], events.Select(r => r.Text("count")));
        Assert.Equal("", events[4].Text("media"));
        var cameras = Table(RecordKind.Deployments);
        Assert.Equal(["A 60  drawn", "B  battery drawn"], cameras.Select(r => $"{r.Text("camera")} {r.Text("clock_offset_min")} {r.Text("failed_because")} {r.Text("chosen")}"));
        Assert.Equal(["2024-06-03T09:00:00", "2024-05-26"], cameras.Select(r => r.Text("worked_until")));
        Assert.Equal(["a-0031", "a-0044", "a-0047", "a-0060", "b-0009"], Table(RecordKind.Media).Select(r => Path.GetFileNameWithoutExtension(r.Text("file"))));
    }

    [Fact]
    public void Preview_shows_the_match_and_writes_nothing_and_the_open_camera_is_told()
    {
        Start();
        var before = File.ReadAllBytes(scene.DataFile);

        var run = Typed.Done("import", scene.DataFile, package.Zip(), "--preview");

        Assert.Contains("A-2024: nest 1-3, by its deploymentTags", run.Out, StringComparison.Ordinal);
        Assert.Contains("B-2024: nest 1-8, by its locationName", run.Out, StringComparison.Ordinal);
        Assert.Contains("C-2024: no nest of the season has a place to match by", run.Out, StringComparison.Ordinal);
        Assert.Contains("Only looked", run.Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scene.DataFile));
    }

    [Fact]
    public void The_same_package_twice_changes_nothing_and_a_corrected_one_corrects_what_it_brought()
    {
        Import();
        var before = File.ReadAllBytes(scene.DataFile);
        Assert.Contains("Nothing to do", Typed.Done("import", scene.DataFile, package.Folder).Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scene.DataFile));

        package.Change("observations.csv", "o2,A-2024,,e2,2024-05-16T02:36:00Z,2024-05-16T02:41:00Z,event,animal,,Canis latrans", "o2,A-2024,,e2,2024-05-16T02:36:00Z,2024-05-16T02:41:00Z,event,animal,,Lynx rufus");
        Assert.Equal(1, Typed.Run("import", scene.DataFile, package.Folder).Exit);
        Assert.Equal(before, File.ReadAllBytes(scene.DataFile));
        Typed.Done("import", scene.DataFile, package.Folder, "--apply");

        Assert.Equal(["raccoon", "bobcat", "coyote", "raccoon", "person"], Table(RecordKind.Cameras).Select(r => r.Text("culprit")));
        Assert.Equal("bobcat", Culprit(Typed.Results(scene.DataFile), 3));
    }

    [Fact]
    public void An_event_corrected_here_and_in_the_package_stays_as_it_is_here_until_asked_otherwise()
    {
        Import();
        var folder = package.Beside("corrected");
        Typed.Done("export", scene.DataFile, folder);
        var cameras = Path.Combine(folder, "cameras.csv");
        var text = File.ReadAllText(cameras);
        var at = text.IndexOf("raccoon", StringComparison.Ordinal);
        File.WriteAllText(cameras, text[..at] + "badger" + text[(at + 7)..]);
        Typed.Done("import", scene.DataFile, folder, "--apply");
        package.Change("observations.csv", "Procyon lotor,1,walking", "Lynx rufus,1,walking");

        Assert.Contains("kept as it is here", Typed.Done("import", scene.DataFile, package.Folder).Out, StringComparison.Ordinal);
        Assert.Equal("badger", Table(RecordKind.Cameras)[0].Text("culprit"));
        Typed.Done("import", scene.DataFile, package.Folder, "--apply");
        Assert.Equal("bobcat", Table(RecordKind.Cameras)[0].Text("culprit"));
    }

    [Fact]
    public void What_a_corrected_package_no_longer_has_is_kept_until_asked_otherwise()
    {
        Import();
        package.Change("observations.csv", "o1,A-2024,,e1,2024-05-12T14:24:00-05:00,2024-05-12T14:25:10-05:00,event,animal,,Procyon lotor,1,walking,,0.99\n", "");

        var kept = Typed.Done("import", scene.DataFile, package.Folder);
        Assert.Contains("cameras.csv: one row that came before and did not come now; kept", kept.Out, StringComparison.Ordinal);
        Assert.Contains(Table(RecordKind.Cameras), r => r.Text("observation") == "o1");
        Typed.Done("import", scene.DataFile, package.Folder, "--remove-missing", "--apply");

        Assert.DoesNotContain(Table(RecordKind.Cameras), r => r.Text("observation") == "o1");
        Typed.Done("check", scene.DataFile);
    }

    [Fact]
    public void The_clock_and_the_nest_of_a_camera_can_be_said_on_the_command_line()
    {
        Start();
        Typed.Done("import", scene.DataFile, package.Folder, "--clock-offset-min", "A-2024=120", "--nest", "C-2024=1-5");

        Assert.Equal(["120", "", ""], Table(RecordKind.Deployments).Select(r => r.Text("clock_offset_min")));
        Assert.Equal(9.4 - (2.0 / 24), Typed.Results(scene.DataFile).Fate("1", 3).Number("t")!.Value, 1e-9);
        var before = File.ReadAllBytes(scene.DataFile);
        package.Change("deployments.csv", "|clock_offset_min:60", "");
        Assert.Contains("Nothing to do", Typed.Done("import", scene.DataFile, package.Folder).Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scene.DataFile));
    }

    [Fact]
    public void A_broken_package_takes_nothing_in()
    {
        Start();
        using var broken = new MadePackage("104-impossible-and-local-times");
        var before = File.ReadAllBytes(scene.DataFile);

        var run = Typed.Run("import", scene.DataFile, broken.Zip());

        Assert.Equal(1, run.Exit);
        Assert.Contains("observations.csv:2 eventStart", run.Err, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scene.DataFile));
    }

    /// <summary>The season as it was before anybody looked at the cameras.</summary>
    private void Start()
    {
        File.Delete(Path.Combine(scene.Folder, "cameras.csv"));
        File.Delete(Path.Combine(scene.Folder, "deployments.csv"));
        scene.Change("visits.csv", "1,8,19.8,intact,3,camera,crew 2\n", "");
        scene.Change("datapackage.json", ",\n  {\n   \"name\": \"cameras\",\n   \"path\": \"cameras.csv\"\n  },\n  {\n   \"name\": \"deployments\",\n   \"path\": \"deployments.csv\"\n  }", "");
        Typed.Done("import", scene.DataFile, scene.Folder);
    }

    private void Import()
    {
        Start();
        Typed.Done("import", scene.DataFile, package.Folder);
    }

    private Source[] Table(RecordKind kind)
    {
        var folder = package.Beside("out-" + Guid.NewGuid().ToString("N"));
        Typed.Done("export", scene.DataFile, folder);
        var table = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken).Tables!.Table(kind)!;
        return [.. table.Rows.Select(r => new Source(table, r))];
    }

    private static string? Culprit(System.Text.Json.JsonElement results, int nest) => results.At("culprits/nests").EnumerateArray().Single(n => n.Number("nest") == nest).Text("confirmed");
}
