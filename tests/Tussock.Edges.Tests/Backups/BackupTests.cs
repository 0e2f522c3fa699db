// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.IO.Compression;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Store;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Tussock.Store.Backup;
using Tussock.Store.Media;
using Xunit;

namespace Tussock.Edges.Tests.Backups;

/// <summary>What was backed up comes back; what is not whole changes nothing.</summary>
public sealed class BackupTests : IDisposable
{
    private static readonly DateTimeOffset Noon = new(2026, 6, 12, 12, 0, 0, TimeSpan.Zero);
    private readonly StoreScratch scratch = new();
    private readonly string[] photos;

    public BackupTests()
    {
        DataFile.OpenToWrite(scratch.File).Import(new ImportRequest { Season = PlainFolder.Invented("small", 12), By = "crew 1", Now = Noon });
        var media = new MediaStore(scratch.File);
        photos = [.. Enumerable.Range(0, 3).Select(n => media.Keep([1, 2, 3, (byte)n, .. new byte[5000]])!)];
    }

    private string Backup => At("backup.zip");

    public void Dispose() => scratch.Dispose();

    private string At(string name) => Path.Combine(scratch.Folder, name);

    private BackupOutcome Make() => DataFile.OpenToRead(scratch.File).BackUp(Backup, overwrite: true, Noon, "0");

    private static string[] Below(string folder) => [.. Directory.EnumerateFileSystemEntries(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f)).Order(StringComparer.Ordinal)];

    [Fact]
    public void A_backup_brings_back_records_history_and_photos()
    {
        var made = Make();
        var target = Directory.CreateDirectory(At("new")).FullName;
        var path = Path.Combine(target, "back.db");
        var done = DataFile.Restore(Backup, path, overwrite: false, Noon);

        Assert.True(done.IsDone);
        Assert.Equal(("small", 3, 0), (done.Contents.Seasons.Single(), done.Contents.Photos.Length, made.Contents.PhotosElsewhere));
        var (from, to) = (DataFile.OpenToRead(scratch.File), DataFile.OpenToRead(path));
        Assert.Equal(from.Tables("small").Text(withId: true), to.Tables("small").Text(withId: true));
        Assert.Equal(from.Since(0).Select(c => c.Id), to.Since(0).Select(c => c.Id));
        Assert.Equal(["back.db", "back.db.media", .. photos.Order(StringComparer.Ordinal).Select(p => Path.Combine("back.db.media", p))], Below(target));
        Assert.All(photos, p => Assert.Equal(File.ReadAllBytes(Path.Combine(scratch.File + ".media", p)), File.ReadAllBytes(Path.Combine(path + ".media", p))));
        Assert.Equal(["backup.zip", "new", "season.db", "season.db.media"], scratch.Names);
    }

    [Fact]
    public async Task A_backup_that_is_made_while_others_write_is_one_state()
    {
        var file = DataFile.OpenToWrite(scratch.File);
        var visit = file.States("small").Records.First(r => r.Kind == "visits");
        using var stop = new CancellationTokenSource();
        var writing = Task.Run(() =>
        {
            for (var n = 0; !stop.IsCancellationRequested; n++)
            {
                var heads = Fold.Record(file.Changes(visit.Id)).Field("note")?.HeadIds ?? [];
                file.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange("note", "n" + n, heads)])], "crew 1", Noon);
            }
        });
        for (var n = 0; n < 5; n++)
        {
            var made = Make();
            var path = At("back" + n + ".db");
            Assert.True(DataFile.Restore(Backup, path, overwrite: false, Noon).IsDone);
            Assert.Empty(DataFile.OpenToRead(path).Check());
            Assert.Equal(made.Contents.Position, DataFile.OpenToRead(path).Position);
        }

        await stop.CancelAsync();
        await writing;
    }

    [Fact]
    public void Any_byte_that_is_changed_is_found_or_changes_nothing_that_counts()
    {
        Make();
        var whole = File.ReadAllBytes(Backup);
        var random = new Random(5);
        for (var n = 0; n < 150; n++)
        {
            var bytes = (byte[])whole.Clone();
            // Every part of the file is hit: its front, its middle, and the list and directory at its end.
            var at = n % 3 == 0 ? bytes.Length - 1 - random.Next(1500) : random.Next(bytes.Length);
            bytes[at] ^= (byte)(1 << random.Next(8));
            File.WriteAllBytes(Backup, bytes);
            var path = At("tampered" + n + ".db");
            try
            {
                Assert.True(DataFile.Restore(Backup, path, overwrite: false, Noon).IsDone);
                Assert.Equal(DataFile.OpenToRead(scratch.File).Tables("small").Text(withId: true), DataFile.OpenToRead(path).Tables("small").Text(withId: true));
                Assert.Equal(photos.Order(StringComparer.Ordinal), new MediaStore(path).All().Select(p => p.Hash));
            }
            catch (DataFileException refused)
            {
                Assert.StartsWith("backup_", refused.Problem.Rule, StringComparison.Ordinal);
                Assert.DoesNotContain(scratch.Names, f => f.StartsWith("tampered" + n, StringComparison.Ordinal));
            }
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(10)]
    [InlineData(0.5)]
    [InlineData(0.99)]
    public void A_backup_that_was_cut_off_is_refused(double share)
    {
        Make();
        var whole = File.ReadAllBytes(Backup);
        File.WriteAllBytes(Backup, whole[..(int)(share > 1 ? share : share * whole.Length)]);
        Assert.Equal("backup_unreadable", Refusal());
    }

    [Fact]
    public void A_photo_that_is_missing_or_another_and_a_data_file_that_is_another_are_named()
    {
        Make();
        Assert.Equal("backup_lacks", Changed("media/" + photos[0], null));
        Assert.Equal("backup_differs", Changed("media/" + photos[0], [9, 9]));
        Assert.Equal("backup_lacks", Changed("data.db", null));
        Assert.Equal("backup_differs", Changed("data.db", new byte[100]));
        Assert.Equal("backup_unreadable", Changed("backup.json", "{}"u8.ToArray()));
        Assert.Equal("backup_newer", Changed("backup.json", """{"format":99}"""u8.ToArray()));
        Assert.Equal("backup_missing", Refusal("nowhere.zip"));
    }

    [Fact]
    public void A_data_file_whose_tables_say_something_else_than_its_journal_is_not_taken_back()
    {
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection("Data Source=" + scratch.File + ";Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "UPDATE visits SET fields = '{}' WHERE id IN (SELECT id FROM visits LIMIT 1)";
            Assert.Equal(1, command.ExecuteNonQuery());
        }

        Make();
        var done = DataFile.Restore(Backup, At("back.db"), overwrite: false, Noon);
        Assert.False(done.IsDone);
        Assert.Contains(done.Problems, p => p.Rule == "row_differs");
        Assert.False(File.Exists(At("back.db")));
        Assert.Equal(1, Typed.Run("restore", Backup, At("back.db")).Exit);
    }

    [Fact]
    public void A_data_file_that_is_there_is_replaced_only_when_told_and_kept_with_its_log()
    {
        Make();
        var former = File.ReadAllBytes(scratch.File);
        File.WriteAllText(scratch.File + "-wal", "left by a writer that was killed");
        var refused = Typed.Run("restore", Backup, scratch.File);
        Assert.Equal((1, true), (refused.Exit, refused.Err.Contains("--overwrite", StringComparison.Ordinal)));
        Assert.Equal(former, File.ReadAllBytes(scratch.File));

        var done = Typed.Done("restore", Backup, scratch.File, "--overwrite");
        Assert.Contains("3 photos", done.Out, StringComparison.Ordinal);
        Assert.Contains("before-restore", done.Out, StringComparison.Ordinal);
        var kept = Assert.Single(scratch.Names, f => f.Contains("before-restore", StringComparison.Ordinal) && !f.EndsWith("-wal", StringComparison.Ordinal));
        Assert.Equal(former, File.ReadAllBytes(At(kept)));
        Assert.Contains(kept + "-wal", scratch.Names);
        Assert.DoesNotContain("season.db-wal", scratch.Names);
        Assert.Equal(0, Typed.Run("check", scratch.File).Exit);
    }

    [Fact]
    public void A_restore_that_fails_at_any_step_leaves_a_data_file_that_is_whole()
    {
        Make();
        var steps = 0;
        DataFile.Restore(Backup, At("count.db"), overwrite: false, Noon, _ => steps++);
        Assert.True(steps > 8, "steps: " + steps);
        for (var n = 1; n <= steps; n++)
        {
            var path = At("fails" + n + ".db");
            var left = n;
            Assert.Throws<IOException>(() => DataFile.Restore(Backup, path, overwrite: false, Noon, _ => { if (--left == 0) throw new IOException("No space left on device"); }));
            Assert.False(File.Exists(path));
            Assert.DoesNotContain(scratch.Names, f => f.EndsWith(".new", StringComparison.Ordinal) || f.Contains(".new.", StringComparison.Ordinal));
            Assert.True(DataFile.Restore(Backup, path, overwrite: false, Noon).IsDone);
        }
    }

    [Fact]
    public void Kept_reports_come_back_and_one_that_is_there_already_stays()
    {
        string[] names = ["20260612-120000-000/landowner-invented-ranch-1.html", "20260612-120000-000/made.json", "20260613-120000-000/technical.html"];
        foreach (var name in names.Append(".20260614-120000-000.part/half.html")) Written(scratch.File, name, "of the backup: " + name);
        Assert.Equal(names, Make().Contents.Reports.Select(r => r.Name));
        var path = At("back.db");
        Written(path, names[2], "made here");
        Assert.True(DataFile.Restore(Backup, path, overwrite: false, Noon).IsDone);
        Assert.Equal(["of the backup: " + names[0], "of the backup: " + names[1], "made here"], names.Select(n => File.ReadAllText(Path.Combine(KeptReports.FolderOf(path), n))));
        Assert.Equal(5, Below(KeptReports.FolderOf(path)).Length);

        static void Written(string data, string name, string text)
        {
            var file = Path.Combine(KeptReports.FolderOf(data), name);
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, text);
        }
    }

    [Theory]
    [InlineData("../out/x.html")]
    [InlineData("20260612-120000-000/../../x.html")]
    [InlineData("/etc/x.html")]
    [InlineData("20260612-120000-000\\x.html")]
    [InlineData("20260612-120000-000/.hidden")]
    [InlineData("x.html")]
    [InlineData("")]
    public void A_report_in_a_backup_that_would_lie_elsewhere_is_not_taken(string name)
    {
        File.WriteAllText(Directory.CreateDirectory(Path.Combine(KeptReports.FolderOf(scratch.File), "20260612-120000-000")).FullName + "/x.html", "x");
        Make();
        using (var zip = ZipFile.Open(Backup, ZipArchiveMode.Update))
        {
            string list;
            using (var reader = new StreamReader(zip.GetEntry("backup.json")!.Open())) list = reader.ReadToEnd();
            zip.GetEntry("backup.json")!.Delete();
            using var writer = new StreamWriter(zip.CreateEntry("backup.json").Open());
            writer.Write(list.Replace("20260612-120000-000/x.html", name.Replace("\\", "\\\\", StringComparison.Ordinal), StringComparison.Ordinal));
        }

        Assert.Equal("backup_unreadable", Assert.Throws<DataFileException>(() => DataFile.Restore(Backup, At("back.db"), overwrite: false, Noon)).Problem.Rule);
        Assert.DoesNotContain(scratch.Names, n => n.StartsWith("back.", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(9000)]
    public void A_full_disk_leaves_no_backup_and_no_copy(long room)
    {
        using var small = new SmallDisk(room);
        Assert.Throws<IOException>(() => DataFile.OpenToRead(scratch.File).BackUp(small, Noon, "0"));
        Assert.Equal(["season.db", "season.db.media"], scratch.Names);
    }

    [Fact]
    public void A_photo_whose_bytes_have_rotted_is_left_out_and_named_and_one_that_is_elsewhere_is_counted()
    {
        File.WriteAllText(Path.Combine(scratch.File + ".media", photos[1]), "rotten");
        var elsewhere = new string('a', 64);
        var file = DataFile.OpenToWrite(scratch.File);
        file.Write(file.Seasons()[0].Id, [new Draft(RecordKind.Media.Name, Guid.NewGuid(), ChangeOp.Create, [new FieldChange("media", elsewhere, [])])], "crew 1", Noon);

        var said = Typed.Run("backup", scratch.File, Backup);
        Assert.Equal(1, said.Exit);
        Assert.Contains(photos[1], said.Err, StringComparison.Ordinal);
        Assert.Contains("still on a phone", said.Err, StringComparison.Ordinal);
        Assert.Contains("2 photos", said.Out, StringComparison.Ordinal);
        Assert.Contains("exact", said.Out, StringComparison.Ordinal);
        Typed.Done("restore", Backup, At("back.db"));
        Assert.Equal(2, new MediaStore(At("back.db")).All().Count);
    }

    [Fact]
    public void A_backup_is_not_written_over_another_unless_told()
    {
        File.WriteAllText(Backup, "another");
        Assert.Equal(1, Typed.Run("backup", scratch.File, Backup).Exit);
        Assert.Equal("another", File.ReadAllText(Backup));
        Typed.Done("backup", scratch.File, Backup, "--overwrite");
        Assert.True(DataFile.Restore(Backup, At("back.db"), overwrite: false, Noon).IsDone);
    }

    /// <summary>The rule that refuses the backup; nothing is left of the attempt.</summary>
    private string Refusal(string name = "backup.zip")
    {
        var rule = Assert.Throws<DataFileException>(() => DataFile.Restore(At(name), At("back.db"), overwrite: false, Noon)).Problem.Rule;
        Assert.Equal(["season.db", "season.db.media"], scratch.Names.Where(n => n != "backup.zip"));
        return rule;
    }

    /// <summary>What refuses the backup when one of its entries is another, or gone.</summary>
    private string Changed(string name, byte[]? bytes)
    {
        var whole = File.ReadAllBytes(Backup);
        using (var zip = ZipFile.Open(Backup, ZipArchiveMode.Update))
        {
            zip.GetEntry(name)!.Delete();
            if (bytes is not null)
            {
                using var entry = zip.CreateEntry(name).Open();
                entry.Write(bytes);
            }
        }

        var rule = Refusal();
        File.WriteAllBytes(Backup, whole);
        return rule;
    }

    /// <summary>A disk with little room.</summary>
    private sealed class SmallDisk(long room) : MemoryStream
    {
        public override void Write(byte[] buffer, int offset, int count)
        {
            if (Length + count > room) throw new IOException("No space left on device");
            base.Write(buffer, offset, count);
        }
    }
}
