using Tussock.Edges.Tests.Commands;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Archives;

/// <summary>A season that was published comes back with the same answers, and never touches one that is there.</summary>
public sealed class ArchiveRoundTripTests : IDisposable
{
    private readonly MadeArchive made = new();

    public void Dispose() => made.Dispose();

    [Theory]
    [InlineData("archive")]
    [InlineData("archive.zip")]
    public void The_invented_season_comes_back_with_the_same_results(string name)
    {
        made.Holding(MadeArchive.Invented(1, "home 2026", "2026"));

        Same(made.Home, "home 2026", made.Back(made.Written(name)), "2026, coarsened");
    }

    [Fact]
    public void Exact_it_comes_back_byte_for_byte_with_its_places()
    {
        made.Holding(MadeArchive.With(MadeArchive.Invented(1, "home 2026", "2026"), ("comment", "")));
        var back = made.Back(made.Written(more: "--exact"));

        Assert.Equal(Typed.ResultsText(made.Home), Typed.ResultsText(back));
        var (there, here) = (MadeArchive.Season(made.Home, "home 2026"), MadeArchive.Season(back, "home 2026"));
        Assert.Equal(there.Nests.Select(n => (n.Flag, n.At, n.Source.Text("direction"))), here.Nests.Select(n => (n.Flag, n.At, n.Source.Text("direction"))));
        Assert.Equal(there.Transects.Select(t => (t.Start, t.End, t.BearingTrueDeg)), here.Transects.Select(t => (t.Start, t.End, t.BearingTrueDeg)));
    }

    [Fact]
    public void Three_seasons_come_back_together_each_with_its_results_and_pooled_with_theirs()
    {
        made.Holding(MadeArchive.Small(MadeArchive.Invented(1, "north 2024", "2024")), MadeArchive.Small(MadeArchive.Invented(2, "north 2025", "2025")), MadeArchive.Small(MadeArchive.Invented(3, "north 2026", "2026")));
        var back = made.Back(made.Written(more: ["--season", "all"]));

        foreach (var year in new[] { "2024", "2025", "2026" }) Same(made.Home, "north " + year, back, year + ", coarsened", "--season");
        var names = MadeArchive.Names(MadeArchive.Season(made.Home, "north 2024"), MadeArchive.Season(back, "2024, coarsened"));
        Assert.Empty(MadeArchive.Differences(Typed.Results(made.Home, "--season", "all"), Typed.Results(back, "--season", "all"), names));
    }

    [Fact]
    public void A_season_with_cameras_whose_clocks_were_wrong_comes_back()
    {
        var tables = SeasonFolderReader.Read(Corpus.Folder("scenes/three-visitors"), TestContext.Current.CancellationToken).Tables!;
        made.Holding(tables);
        var name = tables.Package.SeasonJson("name")!.Trim('"');
        var back = made.Back(made.Written());

        Same(made.Home, name, back, Published(back));
    }

    [Fact]
    public void Odd_texts_come_back_or_stay_at_home()
    {
        var tables = MadeArchive.Invented(1, "home", "2026");
        tables = MadeArchive.With(tables, RecordKind.Nests, "cover", (_, c) => c == "bunchgrass" ? "zacate \"alto\", él\nviejo 🌾" : c);
        tables = MadeArchive.With(tables, RecordKind.Belts, "cover", (_, c) => c == "bunchgrass" ? "zacate \"alto\", él\nviejo 🌾" : c);
        tables = MadeArchive.With(tables, RecordKind.Nests, "plant", (r, _) => r.Line % 2 == 0 ? "naïve, \"quoted\" plant" : "=1+1");
        made.Holding(tables);
        var back = made.Back(made.Written());

        var here = MadeArchive.Season(back, "2026, coarsened");
        Assert.Contains(here.Nests, n => n.Source.Text("plant") == "naïve, \"quoted\" plant");
        Assert.Contains(here.Nests, n => n.Source.Text("plant") == "=1+1");
        var names = MadeArchive.Names(MadeArchive.Season(made.Home, "home"), here);
        names["zacate \"alto\", él\nviejo 🌾"] = "class 1";
        Assert.Empty(MadeArchive.Differences(Typed.Results(made.Home), Typed.Results(back), names));
    }

    [Fact]
    public void A_ranch_that_is_called_like_a_sign_loses_no_sign()
    {
        var tables = MadeArchive.Small(MadeArchive.Invented(1, "home", "2026"));
        foreach (var kind in new[] { RecordKind.Pastures, RecordKind.Transects, RecordKind.Events }) tables = MadeArchive.With(tables, kind, "property", (_, p) => p.Length == 0 ? p : p + ", Skunk in the Bowl with a Whole Egg");
        made.Holding(tables);
        var back = made.Back(made.Written());

        Assert.Equal(MadeArchive.Season(made.Home, "home").Remains.Select(r => r.Source.Text("value")), MadeArchive.Season(back, "2026, coarsened").Remains.Select(r => r.Source.Text("value")));
        Same(made.Home, "home", back, "2026, coarsened");
    }

    [Fact]
    public void Three_nests_are_enough()
    {
        var folder = made.At("three");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), """{"title":"Three","season":{"name":"three","year":"2024","cover_classes":["grass","shrub"]},"resources":[]}""");
        File.WriteAllText(Path.Combine(folder, "pastures.csv"), "property,pasture\nTwo Windmills,North\n");
        File.WriteAllText(Path.Combine(folder, "transects.csv"), "property,pasture,transect,set_on\nTwo Windmills,North,1,2024-05-01\n");
        File.WriteAllText(Path.Combine(folder, "nests.csv"), "transect,nest,cover\n1,1,grass\n1,2,shrub\n1,3,grass\n");
        File.WriteAllText(Path.Combine(folder, "visits.csv"), "transect,nest,day,finding\n1,1,14,intact\n1,2,14,depredated\n1,3,14,not_relocated\n1,1,28,intact\n1,3,28,intact\n");
        Typed.Done("import", made.Home, folder);

        Same(made.Home, "three", made.Back(made.Written()), "2024, coarsened");
    }

    [Fact]
    public void Two_people_s_nest_of_one_name_keeps_the_record_that_stands()
    {
        var tables = MadeArchive.Invented(1, "home", "2026");
        var nests = tables.Table(RecordKind.Nests)!;
        var first = nests.Rows[0];
        RecordTable doubled = new(nests.Kind, [.. nests.Columns, "id"], [.. nests.Rows.Select((r, i) => r with { Cells = r.Cells.Add(i == 0 ? "ffffffff-0000-7000-8000-000000000000" : Guid.NewGuid().ToString("D")) }), first with { Cells = first.Cells.SetItem(nests.IndexOf("cover"), "bunchgrass").Add("00000000-0000-7000-8000-000000000000") }]);
        made.Holding(tables with { Tables = [.. tables.Tables.Select(t => t.Kind == RecordKind.Nests ? doubled : t)] });
        var archive = made.Written();

        Assert.DoesNotContain(MadeArchive.Texts(archive), t => t.Text.Contains("00000000-0000-7000", StringComparison.Ordinal) || t.Text.Contains("ffffffff-0000", StringComparison.Ordinal));
        Same(made.Home, "home", made.Back(archive), "2026, coarsened");
    }

    [Fact]
    public void An_archive_of_what_came_from_an_archive_says_the_same_places_and_stays_coarsened()
    {
        made.Holding(MadeArchive.Invented(1, "home", "2026"));
        var first = made.Written();
        var back = made.Back(first);
        Typed.Done("export", back, made.At("again"), "--as", "archive", "--at", Typed.At, "--exact");

        Assert.Equal(File.ReadAllText(Path.Combine(first, "tables", "transects.csv")), File.ReadAllText(Path.Combine(made.At("again"), "tables", "transects.csv")));
        Assert.Contains("\"coarsened\": \"yes\"", File.ReadAllText(Path.Combine(made.At("again"), "datapackage.json")), StringComparison.Ordinal);
    }

    [Fact]
    public void An_archive_never_moves_a_place_that_is_there()
    {
        made.Holding(MadeArchive.Invented(1, "2026, coarsened", "2026"));
        var before = Exported("before");
        var archive = made.Written();

        var run = Typed.Run("import", made.Home, archive, "--apply");
        Assert.Equal(1, run.Exit);
        Assert.Contains("data file of its own", run.Err, StringComparison.Ordinal);
        Assert.Equal(before, Exported("after"));
        // Under another name its nests would count twice beside those from which it was made.
        Assert.Equal(1, Typed.Run("import", made.Home, archive, "--season", "from afar").Exit);
        var exact = made.Written("exact", "--exact", "--season", "2026, coarsened");
        var there = Typed.Run("import", made.Home, exact, "--apply");
        Assert.Equal(1, there.Exit);
        Assert.Contains("--season NAME", there.Err, StringComparison.Ordinal);
        Assert.Equal(before, Exported("after exact"));
    }

    [Fact]
    public void Two_coarsened_archives_whose_numbers_mean_different_land_never_come_into_one_data_file()
    {
        using var other = new MadeArchive();
        made.Holding(MadeArchive.Small(MadeArchive.Invented(1, "north", "2025")));
        other.Holding(MadeArchive.Small(MadeArchive.Invented(2, "south", "2026")));
        var back = made.Back(made.Written());
        var before = File.ReadAllBytes(back);

        foreach (var name in new string[][] { [], ["--season", "from afar"] })
        {
            var run = Typed.Run(["import", back, other.Written("archive-" + name.Length), .. name]);
            Assert.Equal(1, run.Exit);
            Assert.Contains("data file of its own", run.Err, StringComparison.Ordinal);
        }

        // Its own archive once more, under another name, is the same nests.
        Assert.Contains("Nothing", Typed.Done("import", back, made.At("archive"), "--season", "from afar").Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(back));
        // The other way round it would be the same: a folder or an exact archive beside coarsened seasons.
        Typed.Done("export", other.Home, made.At("folder"));
        foreach (var source in (string[])[made.At("folder"), other.Written("exact-too", "--exact")])
        {
            var run = Typed.Run("import", back, source);
            Assert.Equal(1, run.Exit);
            Assert.Contains("seasons of a coarsened archive", run.Err, StringComparison.Ordinal);
        }

        Assert.Equal(before, File.ReadAllBytes(back));
        // Exact archives have their own names, and come in beside what is there.
        Typed.Done("import", made.Home, other.Written("exact", "--exact"));
        Assert.Equal(2, Tussock.Store.DataFile.OpenToRead(made.Home).Seasons().Length);
    }

    [Theory]
    [InlineData("season")]
    [InlineData("README.md")]
    [InlineData("cameras")]
    public void What_is_no_archive_is_never_written_over(string what)
    {
        made.Holding(MadeArchive.Small(MadeArchive.Invented(1, "home", "2026")));
        var folder = made.At("there");
        if (what == "season") Typed.Done("export", made.Home, folder);
        else Directory.CreateDirectory(folder);
        if (what == "README.md") File.WriteAllText(Path.Combine(folder, what), "Dear");
        if (what == "cameras") File.WriteAllText(Path.Combine(folder, "datapackage.json"), """{"profile":"https://raw.githubusercontent.com/tdwg/camtrap-dp/1.0.1/camtrap-dp-profile.json","resources":[]}""");
        var before = MadeArchive.Texts(folder);

        var run = Typed.Run("export", made.Home, folder, "--as", "archive", "--overwrite");
        Assert.Equal(1, run.Exit);
        Assert.Contains("no archive", run.Err, StringComparison.Ordinal);
        Assert.Equal(before, MadeArchive.Texts(folder));
    }

    [Fact]
    public void A_date_of_set_out_that_was_assumed_is_still_one_when_it_comes_back()
    {
        made.Holding(MadeArchive.With(MadeArchive.Small(MadeArchive.Invented(1, "home", "2026")), RecordKind.Nests, SeasonConduct.SetOnAssumed, (r, _) => r.Line == 2 ? "yes" : r.Line == 3 ? "who knows" : ""));

        var back = MadeArchive.Season(made.Back(made.Written()), "2026, coarsened");
        Assert.Equal("yes", Assert.Single(back.Nests.Select(n => n.Source.Text(SeasonConduct.SetOnAssumed)), a => a.Length > 0));
    }

    [Fact]
    public void The_same_seasons_give_the_same_bytes_and_a_second_import_is_nothing()
    {
        made.Holding(MadeArchive.Invented(1, "home", "2026"));
        var (first, second) = (made.Written("one.zip"), made.Written("two.zip"));

        Assert.Equal(File.ReadAllBytes(first), File.ReadAllBytes(second));
        var back = made.Back(first);
        var bytes = File.ReadAllBytes(back);
        Assert.Contains("Nothing", Typed.Done("import", back, second).Out, StringComparison.Ordinal);
        Assert.Equal(bytes, File.ReadAllBytes(back));
    }

    [Fact]
    public void A_coarsened_archive_leaves_no_exact_table_of_a_former_one_behind()
    {
        made.Holding(MadeArchive.Invented(1, "home", "2026"));
        var folder = made.Written(more: "--exact");
        File.WriteAllText(Path.Combine(folder, "tables", "remains.csv"), "season,x\nhome,a former one\n");
        made.Holding(MadeArchive.Invented(2, "bare", "2027") with { Tables = [.. MadeArchive.Invented(2, "bare", "2027").Tables.Where(t => t.Kind.IsRequired)] });
        Assert.Equal(1, Typed.Run("export", made.Home, folder, "--as", "archive", "--season", "bare").Exit);
        made.Written(more: ["--season", "bare", "--overwrite"]);

        Assert.Equal(["nests.csv", "pastures.csv", "transects.csv", "visits.csv"], Directory.GetFiles(Path.Combine(folder, "tables")).Select(Path.GetFileName).Order());
        Assert.DoesNotContain(MadeArchive.Texts(folder), t => t.Text.Contains("Two Windmills", StringComparison.Ordinal));
        Directory.CreateDirectory(made.At("mine"));
        File.WriteAllText(Path.Combine(made.At("mine"), "letter.txt"), "Dear");
        Assert.Equal(1, Typed.Run("export", made.Home, made.At("mine"), "--as", "archive", "--season", "bare", "--overwrite").Exit);
    }

    [Fact]
    public void A_preview_writes_nothing_and_an_archive_does_not_go_into_a_folder()
    {
        made.Holding(MadeArchive.Invented(1, "home", "2026"));
        var archive = made.Written();

        Typed.Done("import", made.At("new.db"), archive, "--preview");
        Assert.False(File.Exists(made.At("new.db")));
        Typed.Done("export", made.Home, made.At("folder"));
        Assert.Equal(1, Typed.Run("import", made.At("folder"), archive).Exit);
    }

    private static void Same(string home, string season, string back, string published, params string[] option)
    {
        var names = MadeArchive.Names(MadeArchive.Season(home, season), MadeArchive.Season(back, published));
        string[] Choice(string name) => option.Length == 0 ? [] : [option[0], name];
        Assert.Empty(MadeArchive.Differences(Typed.Results(home, Choice(season)), Typed.Results(back, Choice(published)), names));
    }

    private static string Published(string data) => Tussock.Store.DataFile.OpenToRead(data).Seasons()[0].Name;

    private string Exported(string name, params string[] more)
    {
        Typed.Done(["export", made.Home, made.At(name), .. more]);
        return string.Join('\n', MadeArchive.Texts(made.At(name)));
    }
}
