using System.Security.Cryptography;
using Tussock.Edges.Tests.Commands;
using Tussock.Exchange.SeasonFolder;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Tussock.Store.Media;
using Xunit;

namespace Tussock.Edges.Tests.Photos;

/// <summary>Pictures of a card: matched where name, place and time say one nest, kept in any case, each once.</summary>
public sealed class PhotoImportTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-photos-").FullName;

    public PhotoImportTests()
    {
        Directory.CreateDirectory(Card);
        Put("datapackage.json", """{ "title": "Made", "season": { "name": "made", "time_zone": "America/Chicago", "cover_classes": ["bunchgrass"] } }""");
        Put("pastures.csv", "property,pasture", "Two Windmills,South");
        Put("transects.csv", "property,pasture,transect,set_on", "Two Windmills,South,A,2026-05-11", "Two Windmills,South,B,2026-05-12");
        // Nests lie 0.0005 degrees of latitude apart, 55 m.
        Put("nests.csv", "transect,nest,cover,nest_lat,nest_lon,gps_accuracy_m", "A,1,bunchgrass,27.0260,-98.4930,4", "A,2,bunchgrass,27.0265,-98.4930,4", "A,3,bunchgrass,27.0270,-98.4930,4", "B,1,bunchgrass,27.0360,-98.4930,4");
        Put("visits.csv", "transect,nest,visited_on,visited_at,finding", "A,1,2026-05-25,08:30,intact", "A,2,2026-05-25,08:50,depredated", "A,3,2026-05-25,09:10,intact", "B,1,2026-05-26,08:30,intact");
        Typed.Done("import", Data, Path.Combine(folder, "season"));
    }

    private string Data => Path.Combine(folder, "season.tussock");

    private string Card => Path.Combine(folder, "card", "100CARD");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Place_time_name_and_day_each_point_to_a_nest()
    {
        Save("1.jpg", new WrittenPicture { TakenAt = "2026:05:25 12:00:00", At = (27.02651, -98.49301), AccuracyM = 5 });
        Save("2.jpg", new WrittenPicture { TakenAt = "2026:05:25 09:11:00" });
        Save("A nest 02.png", new WrittenPicture { TakenAt = null }, isPng: true);
        Save("3.jpg", new WrittenPicture { TakenAt = "2026:05:26 15:00:00" });
        Save("A-01.jpg", new WrittenPicture { TakenAt = "2026:05:25 08:33:00", At = (27.02601, -98.4930), AccuracyM = 5 });

        var run = Typed.Done("import", Data, Path.Combine(folder, "card"));

        Assert.Contains("Taken in: 5, with a nest: 5", run.Out, StringComparison.Ordinal);
        Assert.Equal(["1.jpg A 2 2026-05-25 place day", "2.jpg A 3 2026-05-25 time", "3.jpg B 1 2026-05-26 day", "A nest 02.png A 2  name", "A-01.jpg A 1 2026-05-25 name place time"], Rows());
    }

    [Fact]
    public void The_clock_of_another_zone_is_turned_into_the_seasons()
    {
        // 14:11 at UTC is 09:11 in Chicago in May (five hours behind UTC, IANA time zones).
        Save("1.jpg", new WrittenPicture { TakenAt = "2026:05:25 14:11:00", Offset = "+00:00" });

        Typed.Done("import", Data, Path.Combine(folder, "card"));

        Assert.Equal(["1.jpg A 3 2026-05-25 time"], Rows());
    }

    [Fact]
    public void Without_an_offset_the_time_is_taken_as_it_stands_and_that_is_said()
    {
        Save("1.jpg", new WrittenPicture { TakenAt = "2026:05:25 09:11:00", Offset = null });

        Assert.Contains("offset from UTC", Typed.Done("import", Data, Path.Combine(folder, "card")).Err, StringComparison.Ordinal);
        Assert.Equal(["1.jpg A 3 2026-05-25 time"], Rows());
    }

    [Fact]
    public void What_may_be_several_nests_or_none_is_said_and_kept_without_one()
    {
        Save("between.jpg", new WrittenPicture { TakenAt = "2026:05:25 08:40:00" });
        Save("torn.jpg", new WrittenPicture { TakenAt = "2026:05:25 08:31:00", At = (27.0270, -98.4930), AccuracyM = 5, Seen = "torn" });
        Save("truck.jpg", new WrittenPicture { TakenAt = "2026:06:30 08:40:00" });

        var run = Typed.Done("import", Data, Path.Combine(folder, "card"));

        Assert.Contains("between.jpg: may be A nest 1; A nest 2", run.Out, StringComparison.Ordinal);
        Assert.Contains("torn.jpg: may be A nest 1; A nest 3", run.Out, StringComparison.Ordinal);
        Assert.Contains("truck.jpg: nothing says", run.Out, StringComparison.Ordinal);
        Assert.Contains("Taken in: 3, with a nest: 0", run.Out, StringComparison.Ordinal);
        Assert.Equal(3, Directory.GetFiles(Data + ".media").Length);
    }

    [Fact]
    public void The_same_picture_twice_is_one_and_importing_again_changes_no_byte()
    {
        var picture = new WrittenPicture().Jpeg();
        File.WriteAllBytes(Path.Combine(Card, "1.jpg"), picture);
        File.WriteAllBytes(Path.Combine(Card, "copy of 1.jpg"), picture);

        Typed.Done("import", Data, Path.Combine(folder, "card"));
        var before = File.ReadAllBytes(Data);
        var again = Typed.Done("import", Data, Path.Combine(folder, "card"));

        Assert.Contains("Here already, nothing to do: 2", again.Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Data));
        Assert.Equal(picture, File.ReadAllBytes(Assert.Single(Directory.GetFiles(Data + ".media"))));
    }

    [Fact]
    public void A_picture_that_a_phone_sent_and_then_a_card_is_one()
    {
        var picture = new WrittenPicture().Jpeg();
        var hash = Convert.ToHexStringLower(SHA256.HashData(picture));
        var file = DataFile.OpenToWrite(Data);
        file.Write(file.Seasons()[0].Id, [new Draft("media", Guid.CreateVersion7(), ChangeOp.Create, [new FieldChange("media", hash, []), new FieldChange("type", "image/jpeg", []), new FieldChange("transect", "A", []), new FieldChange("nest", "1", [])])], "crew 1", DateTimeOffset.UtcNow);
        Assert.Equal(hash, new MediaStore(Data).Keep(picture));
        File.WriteAllBytes(Path.Combine(Card, "1.jpg"), picture);

        Assert.Contains("Here already, nothing to do: 1", Typed.Done("import", Data, Path.Combine(folder, "card")).Out, StringComparison.Ordinal);
        Assert.Single(file.Tables("made", TestContext.Current.CancellationToken).Table(RecordKind.Media)!.Rows);
        Assert.Single(Directory.GetFiles(Data + ".media"));
    }

    [Fact]
    public void A_preview_writes_nothing()
    {
        Save("1.jpg", new WrittenPicture());
        var before = File.ReadAllBytes(Data);

        Assert.Contains("Would be taken in: 1", Typed.Done("import", Data, Path.Combine(folder, "card"), "--preview").Out, StringComparison.Ordinal);

        Assert.Equal(before, File.ReadAllBytes(Data));
        Assert.False(Directory.Exists(Data + ".media"));
    }

    [Fact]
    public void What_is_no_picture_or_too_large_is_left_out_with_a_sentence()
    {
        File.WriteAllText(Path.Combine(Card, "1.jpg"), "a text");
        using (var big = File.Create(Path.Combine(Card, "2.jpg"))) big.SetLength(26_214_401);

        var run = Typed.Done("import", Data, Path.Combine(folder, "card"));

        Assert.Contains("1.jpg: no JPEG", run.Err, StringComparison.Ordinal);
        Assert.Contains("2.jpg: larger than 25 MB", run.Err, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Data + ".media"));
    }

    [Fact]
    public void Photos_go_out_with_the_folder_and_come_in_with_it()
    {
        Save("1.jpg", new WrittenPicture());
        Typed.Done("import", Data, Path.Combine(folder, "card"));
        var exported = Path.Combine(folder, "out");
        Typed.Done("export", Data, exported);
        var other = Path.Combine(folder, "other.tussock");

        Typed.Done("import", other, exported);

        var one = Assert.Single(Directory.GetFiles(other + ".media"));
        Assert.Equal(new WrittenPicture().Jpeg(), File.ReadAllBytes(one));
        Assert.Equal(Path.GetFileName(one), Assert.Single(SeasonFolderReader.Read(exported, TestContext.Current.CancellationToken).Tables!.Table(RecordKind.Media)!.Rows).Cells[0]);
        // The first import of a folder learns its rows; from then on the same folder says nothing new.
        Typed.Done("import", Data, exported);
        Assert.Contains("Nothing to do", Typed.Done("import", Data, exported).Out, StringComparison.Ordinal);
        Assert.Single(Rows());
    }

    private void Save(string name, WrittenPicture picture, bool isPng = false) => File.WriteAllBytes(Path.Combine(Card, name), isPng ? picture.Png() : picture.Jpeg());

    private void Put(string file, params string[] lines)
    {
        Directory.CreateDirectory(Path.Combine(folder, "season"));
        File.WriteAllText(Path.Combine(folder, "season", file), string.Join('\n', lines) + "\n");
    }

    private string[] Rows()
    {
        var table = DataFile.OpenToRead(Data).Tables("made", TestContext.Current.CancellationToken).Table(RecordKind.Media)!;
        string At(RecordRow row, string column) => table.IndexOf(column) is var i and >= 0 ? row.Cells[i] : "";
        return [.. table.Rows.Select(r => $"{Path.GetFileName(At(r, "file"))} {At(r, "transect")} {At(r, "nest")} {At(r, "visited_on")} {At(r, "matched_by")}").Order(StringComparer.Ordinal)];
    }
}
