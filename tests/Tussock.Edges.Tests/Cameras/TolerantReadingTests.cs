using System.IO.Compression;
using System.Text;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Photos;
using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.SeasonFolder;
using Tussock.Fieldwork.Cameras;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Cameras;

/// <summary>Packages as others write them, cameras matched by place, cards of pictures; and zips that mean no good. TUSSOCK_FUZZ=n changes n packages at random instead of 100.</summary>
public sealed class TolerantReadingTests : IDisposable
{
    private readonly ScratchFolder scratch = new();

    public TolerantReadingTests()
    {
        Put("datapackage.json", """{ "title": "Made", "season": { "name": "made", "time_zone": "America/Chicago", "cover_classes": ["bunchgrass"] } }""");
        Put("pastures.csv", "property,pasture", "Two Windmills,South");
        Put("transects.csv", "property,pasture,transect,set_on", "Two Windmills,South,T1,2024-05-06", "Two Windmills,South,2,2024-05-06");
        Put("nests.csv", "transect,nest,cover,eggs,nest_lat,nest_lon,gps_accuracy_m", "T1,1,bunchgrass,3,27.0301,-98.4901,4", "T1,2,bunchgrass,3,27.0306,-98.4901,4", "T1,3,bunchgrass,3,27.0331,-98.4901,4", "2,5,bunchgrass,3,27.0301,-98.4950,4", "2,6,bunchgrass,3,27.0900,-98.4901,4", "2,7,bunchgrass,3,27.0901,-98.4901,4");
        Put("visits.csv", "transect,nest,visited_on,finding", "T1,1,2024-05-20,intact");
        Typed.Done("import", Data, scratch.At("season"));
    }

    private string Data => scratch.At("season.db");

    public void Dispose() => scratch.Dispose();

    [Fact]
    public void Other_separators_encodings_orders_and_packed_tables_are_read_and_pictures_grouped_by_time()
    {
        using var package = new MadePackage("001-as-others-write-them");

        var run = Typed.Done("import", Data, package.Folder);

        Assert.Contains("Cañón 1: nest 2-5, by its locationName, though its place lies", run.Out, StringComparison.Ordinal);
        Assert.Contains("“Bassariscus astutus” is in no list of animals", run.Out, StringComparison.Ordinal);
        var events = Table(RecordKind.Cameras);
        Assert.Equal(["skunk 2024-05-10T21:00:00 2024-05-10T21:03:00 4", "skunk 2024-05-10T23:00:00 2024-05-10T23:00:00 1", " 2024-05-11T23:00:00 2024-05-11T23:00:00 1", "other 2024-05-11T22:00:00 2024-05-11T22:05:00 "],
            events.Select(e => $"{e.Text("culprit")} {e.Text("event_at")} {e.Text("until")} {e.Text("pictures")}"));
        Assert.Equal(["2024-05-06T12:00:00", "2024-05-06T07:00:00"], Table(RecordKind.Deployments).Select(d => d.Text("from")));
        Assert.Single(Typed.Findings(Data), f => f.GetProperty("rule").GetString() == "camera_animal_not_named");
    }

    [Fact]
    public void A_shorter_gap_parts_more_visits_and_a_list_of_ones_own_names_the_animal()
    {
        using var package = new MadePackage("001-as-others-write-them");
        File.WriteAllText(scratch.At("animals.csv"), "name,class\nBassariscus astutus,raccoon\n");

        Typed.Done("import", Data, package.Folder, "--gap-min", "0.5", "--species", scratch.At("animals.csv"));

        Assert.Equal(["skunk", "skunk", "skunk", "skunk", "skunk", "", "raccoon"], Table(RecordKind.Cameras).Select(e => e.Text("culprit")));
    }

    [Fact]
    public void Where_no_text_names_a_nest_the_place_does_if_it_points_to_one_alone()
    {
        using var package = new MadePackage("000-three-visitors");
        package.Change("deployments.csv", "nest:1-3|", "").Change("deployments.csv", "transect 1 nest 8", "").Change("deployments.csv", "27.0900,-98.4901,5", "27.09005,-98.4901,5");

        var run = Typed.Done("import", Data, package.Folder, "--preview");

        Assert.Contains("A-2024: nest T1-1, by place, 0 m away", run.Out, StringComparison.Ordinal);
        Assert.Contains("B-2024: nest T1-3, by place, 0 m away", run.Out, StringComparison.Ordinal);
        Assert.Contains("C-2024: may stand at the nests 2-6, 2-7", run.Out, StringComparison.Ordinal);
        Assert.Contains("A-2024: may stand at the nests T1-1, T1-2", Typed.Done("import", Data, package.Change("deployments.csv", "27.0301,-98.4901,5", "27.0304,-98.4901,5").Folder, "--preview", "--within-m", "60").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Cameras_of_other_days_and_far_away_stay_out_and_without_any_match_nothing_is_written()
    {
        using var package = new MadePackage("000-three-visitors");
        package.Change("deployments.csv", "nest:1-3|", "").Change("deployments.csv", "transect 1 nest 8", "").Change("deployments.csv", "2024-0", "2021-0").Change("deployments.csv", "27.0900", "28.0900");
        var before = File.ReadAllBytes(Data);

        var run = Typed.Run("import", Data, package.Folder);

        Assert.Equal(1, run.Exit);
        Assert.Contains("A-2024: stood on other days than the trial at nest T1-1", run.Out, StringComparison.Ordinal);
        Assert.Contains("C-2024: the nearest nest, 2-7, is", run.Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Data));
    }

    [Fact]
    public void Pictures_that_nobody_looked_at_are_events_to_be_named_and_what_was_named_here_stays()
    {
        using var package = new MadePackage("002-nobody-has-looked");
        Typed.Done("import", Data, package.Folder, "--nest", "A-2024=T1-1", "--nest", "B-2024=T1-3");
        Assert.All(Table(RecordKind.Cameras), e => Assert.Equal("", e.Text("culprit")));
        Assert.Equal(7, Typed.Findings(Data).Count(f => f.GetProperty("rule").GetString() == "camera_animal_not_named"));

        var folder = scratch.At("named");
        Typed.Done("export", Data, folder);
        var cameras = Path.Combine(folder, "cameras.csv");
        var lines = File.ReadAllLines(cameras);
        var header = lines[0].Split(',');
        var cells = lines[1].Split(',');
        cells[Array.IndexOf(header, "culprit")] = "badger";
        lines[1] = string.Join(',', cells);
        File.WriteAllLines(cameras, lines);
        Typed.Done("import", Data, folder, "--apply");
        var before = File.ReadAllBytes(Data);

        Assert.Contains("Nothing to do", Typed.Done("import", Data, package.Folder).Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Data));
        package.Change("media.csv", "2024-05-12T14:24:00-05:00", "2024-05-12T14:26:00-05:00");
        Assert.Contains("changed here and in the cameras' records; kept as it is here", Typed.Done("import", Data, package.Folder, "--preview").Out, StringComparison.Ordinal);
        Assert.Contains("now as the cameras' records say", Typed.Done("import", Data, package.Folder, "--apply").Out, StringComparison.Ordinal);
        Assert.DoesNotContain(Table(RecordKind.Cameras), e => e.Text("culprit") == "badger");
    }

    [Fact]
    public void A_card_of_one_camera_becomes_events_that_wait_for_a_name_and_its_clock_is_set_back()
    {
        foreach (var (name, time) in new[] { ("1", "2024:05:10 21:00:00"), ("2", "2024:05:10 21:10:00"), ("3", "2024:05:11 04:00:00") }) Picture(name, time);
        Picture("4", null);

        var run = Typed.Done("import", Data, scratch.At("card"), "--camera", "2-5", "--clock-offset-min", "30");

        Assert.Contains("4.jpg: does not say when it was taken", run.Err, StringComparison.Ordinal);
        Assert.Equal(["2,5 2024-05-10T21:00:00 2", "2,5 2024-05-11T04:00:00 1"], Table(RecordKind.Cameras).Select(e => $"{e.Text("transect")},{e.Text("nest")} {e.Text("event_at")} {e.Text("pictures")}"));
        Assert.Equal("30", Assert.Single(Table(RecordKind.Deployments)).Text("clock_offset_min"));
        Assert.Equal(3, Table(RecordKind.Media).Length);
        Assert.Equal(3, Directory.GetFiles(Data + ".media").Length);
        var before = File.ReadAllBytes(Data);
        Assert.Contains("Nothing to do", Typed.Done("import", Data, scratch.At("card"), "--camera", "2-5").Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Data));
        Assert.Contains("names no nest", Typed.Run("import", Data, scratch.At("card"), "--camera", "2-9").Err, StringComparison.Ordinal);
    }

    [Fact]
    public void A_zip_that_unpacks_without_end_is_refused_in_words_and_in_time()
    {
        var path = scratch.At("bomb.zip");
        using (var zip = ZipFile.Open(path, ZipArchiveMode.Create))
        {
            using (var package = new MadePackage("000-three-visitors"))
            {
                foreach (var file in Directory.GetFiles(package.Folder).Where(f => !f.EndsWith("media.csv", StringComparison.Ordinal))) zip.CreateEntryFromFile(file, Path.GetFileName(file));
            }

            using var stream = zip.CreateEntry("media.csv", CompressionLevel.Fastest).Open();
            var block = new byte[1 << 20];
            Array.Fill(block, (byte)'a');
            for (var i = 0; i < 200; i++) stream.Write(block);
        }

        var reading = CameraPackageReader.Read(path, MadePackage.Zone, TestContext.Current.CancellationToken);

        Assert.Null(reading.Records);
        Assert.Contains(reading.Problems, p => p.Rule == "row_too_long");
    }

    [Fact]
    public void A_zip_cut_off_or_with_paths_that_lead_out_writes_nothing_anywhere()
    {
        using var package = new MadePackage("000-three-visitors");
        var whole = File.ReadAllBytes(package.Zip());
        File.WriteAllBytes(scratch.At("cut.zip"), whole[..(whole.Length / 2)]);
        Assert.Equal(1, Typed.Run("import", Data, scratch.At("cut.zip")).Exit);
        Assert.Contains("can't be read", Typed.Run("import", Data, scratch.At("cut.zip")).Err, StringComparison.Ordinal);

        var path = scratch.At("tricks.zip");
        using (var zip = ZipFile.Open(path, ZipArchiveMode.Create))
        {
            foreach (var file in Directory.GetFiles(package.Folder)) zip.CreateEntryFromFile(file, Path.GetFileName(file));
            using var stream = zip.CreateEntry("../../outside.csv").Open();
            stream.Write("x"u8);
        }

        var files = Directory.GetFiles(scratch.Folder, "*", SearchOption.AllDirectories).Length;
        Typed.Done("import", Data, path, "--nest", "A-2024=T1-1", "--preview");
        Assert.Equal(files, Directory.GetFiles(scratch.Folder, "*", SearchOption.AllDirectories).Length);
    }

    [Fact]
    public void Packages_changed_at_random_are_read_or_refused_in_sentences()
    {
        var names = Corpus.Names("cameras").ToArray();
        string[] bits = ["\"", ",", "\n", ";", "\0", "..", "{", "}", "[", "null", "1e999", "9999-12-31T23:59:59Z", "0001-01-01T00:00:00Z", "deployments", "gz", "NaN", "-", "|", ":", "\uFEFF"];
        var count = int.TryParse(Environment.GetEnvironmentVariable("TUSSOCK_FUZZ"), out var asked) && asked > 0 ? asked : 100;
        for (var seed = 1; seed <= count; seed++)
        {
            var random = new Random(seed);
            using var package = new MadePackage(names[random.Next(names.Length)]);
            var files = Directory.GetFiles(package.Folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToArray();
            for (var n = random.Next(1, 5); n > 0; n--)
            {
                var file = files[random.Next(files.Length)];
                var bytes = File.ReadAllBytes(file);
                var at = random.Next(bytes.Length + 1);
                var cut = random.Next(3) == 0 ? random.Next(20) : 0;
                File.WriteAllBytes(file, [.. bytes[..at], .. Encoding.UTF8.GetBytes(bits[random.Next(bits.Length)]), .. bytes[Math.Min(bytes.Length, at + cut)..]]);
            }

            var reading = CameraPackageReader.Read(package.Folder, MadePackage.Zone, TestContext.Current.CancellationToken);
            Assert.True(reading.Records is null == reading.Problems.Any(p => p.Severity == Severity.Stop), "seed " + seed);
            Assert.All(reading.Problems, p => Assert.DoesNotContain("{", Tussock.Words.Catalogue.English.Say(p.ToDo), StringComparison.Ordinal));
            if (reading.Records is { } records) Take(records);
        }
    }

    private void Take(CameraRecords records)
    {
        var (tables, _) = SeasonFolderReader.Read(scratch.At("season"), TestContext.Current.CancellationToken);
        var season = SeasonReading.Read(tables!, out _)!;
        var matching = new CameraMatching(season, records.Name, new Dictionary<string, string>(StringComparer.Ordinal));
        var taken = SeasonCameras.Of(season, records, [.. records.Cameras.Select(matching.Of)], new CameraChoices());
        Assert.NotNull(SeasonReading.Read(taken.Tables, out _));
    }

    private void Picture(string name, string? time)
    {
        Directory.CreateDirectory(scratch.At("card"));
        File.WriteAllBytes(Path.Combine(scratch.At("card"), name + ".jpg"), new WrittenPicture { TakenAt = time, Offset = null, Seen = name }.Jpeg());
    }

    private void Put(string file, params string[] lines)
    {
        Directory.CreateDirectory(scratch.At("season"));
        File.WriteAllLines(Path.Combine(scratch.At("season"), file), lines);
    }

    private Source[] Table(RecordKind kind)
    {
        var folder = scratch.At("out-" + Guid.NewGuid().ToString("N"));
        Typed.Done("export", Data, folder);
        var table = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken).Tables!.Table(kind)!;
        return [.. table.Rows.Select(r => new Source(table, r))];
    }
}
