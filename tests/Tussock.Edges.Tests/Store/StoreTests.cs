// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using Microsoft.Data.Sqlite;
using Tussock.Exchange.SeasonFolder;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Store;

public sealed class StoreTests : IDisposable
{
    private static readonly DateTimeOffset Noon = new(2024, 7, 1, 12, 0, 0, TimeSpan.FromHours(-5));
    private readonly StoreScratch scratch = new();

    public void Dispose() => scratch.Dispose();

    public static TheoryData<string> References => [.. PlainFolder.ReferenceFolders().Select(f => Path.GetRelativePath(PlainFolder.Checks, f))];

    private static ImportOutcome Import(string path, SeasonTables season, bool apply = false, bool removeMissing = false, bool preview = false, Action<string>? before = null) =>
        DataFile.OpenToWrite(path, before).Import(new ImportRequest { Season = season, By = "Ann", Now = Noon, Apply = apply, RemoveMissing = removeMissing, Preview = preview });

    private byte[] Bytes() => File.ReadAllBytes(scratch.File);

    private static SeasonTables Small => PlainFolder.Invented("small", 12);

    [Theory]
    [MemberData(nameof(References))]
    public void A_reference_season_comes_out_as_it_went_in(string folder)
    {
        var season = PlainFolder.Read(Path.Combine(PlainFolder.Checks, folder));
        Assert.Equal(ImportEnd.Done, Import(scratch.File, season).End);
        var file = DataFile.OpenToRead(scratch.File);
        var back = file.Tables(file.Seasons().Single().Name);
        Assert.Equal(season.Text(withId: false), back.Text(withId: false));
        Assert.All(back.Tables, t => Assert.Equal("id", t.Columns[^1]));
        Assert.Empty(file.Check());
        var bytes = Bytes();
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, season).End);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, back).End);
        Assert.Equal(bytes, Bytes());
        Assert.Equal(["season.db"], scratch.Names);
    }

    [Theory]
    [MemberData(nameof(References))]
    public void The_folder_written_from_the_data_is_nothing_new_to_the_data(string folder)
    {
        var season = SeasonFolderReader.Read(Path.Combine(PlainFolder.Checks, folder)).Tables!;
        Import(scratch.File, season);
        var exported = Path.Combine(scratch.Folder, "exported");
        Assert.Empty(SeasonFolderWriter.Write(DataFile.OpenToRead(scratch.File).Tables(DataFile.OpenToRead(scratch.File).Seasons().Single().Name), exported));
        var bytes = Bytes();
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, SeasonFolderReader.Read(exported).Tables!).End);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, SeasonFolderReader.Read(exported).Tables!, removeMissing: true).End);
        Assert.Equal(bytes, Bytes());
    }

    [Fact]
    public void An_export_goes_into_another_data_file_with_the_same_ids()
    {
        Import(scratch.File, Small);
        var back = DataFile.OpenToRead(scratch.File).Tables("small");
        var other = Path.Combine(scratch.Folder, "other.db");
        Import(other, back);
        Assert.Equal(back.Text(withId: true), DataFile.OpenToRead(other).Tables("small").Text(withId: true));
    }

    [Fact]
    public void Reading_changes_no_byte_and_leaves_no_other_file()
    {
        Import(scratch.File, Small);
        var bytes = Bytes();
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(("small", "2024"), file.Seasons().Select(s => (s.Name, s.Year)).Single());
        Assert.Equal(file.Since(0).Length, file.Position);
        Assert.Empty(file.Check());
        Assert.Equal(bytes, Bytes());
        Assert.Equal(["season.db"], scratch.Names);
    }

    [Fact]
    public void A_preview_writes_nothing_not_even_a_file()
    {
        var outcome = Import(scratch.File, Small, preview: true);
        Assert.Equal((ImportEnd.Previewed, true), (outcome.End, outcome.IsNewSeason));
        Assert.Equal(12, outcome.Plan.Counts.Single(c => c.Kind == "nests").New);
        Assert.Empty(scratch.Names);
        Import(scratch.File, Small);
        var bytes = Bytes();
        Assert.Equal(ImportCase.Changed, Import(scratch.File, Small.With(RecordKind.Nests, 3, "eggs", "2"), preview: true).Plan.Findings.Single().Case);
        Assert.Equal(bytes, Bytes());
    }

    [Fact]
    public void Changed_values_wait_for_a_yes()
    {
        Import(scratch.File, Small);
        var bytes = Bytes();
        var edited = Small.With(RecordKind.Nests, 3, "eggs", "2");
        Assert.Equal(ImportEnd.NeedsApply, Import(scratch.File, edited).End);
        Assert.Equal(bytes, Bytes());
        Assert.Equal(ImportEnd.Done, Import(scratch.File, edited, apply: true).End);
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(edited.Text(withId: false), file.Tables("small").Text(withId: false));
        Assert.Empty(file.Check());
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, edited).End);
    }

    [Fact]
    public void An_edit_in_the_data_outlives_the_folder_and_can_be_undone()
    {
        Import(scratch.File, Small);
        var file = DataFile.OpenToWrite(scratch.File);
        var season = file.Seasons().Single().Id;
        var nest = Nest(file, 3);
        Edit(file, season, nest, "eggs", "1");
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, Small).End);
        Assert.Equal("1", file.Tables("small").Table(RecordKind.Nests)!.Rows[3].Cells[4]);
        file.Write(season, [History.Undo(file.Changes(nest), "eggs")!], "Bob", Noon);
        Assert.Equal("3", file.Tables("small").Table(RecordKind.Nests)!.Rows[3].Cells[4]);
        Assert.Equal(["Ann", "Ann", "Bob"], History.Of(file.Changes(nest), "eggs").Select(s => s.Change.By));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void A_conflict_keeps_both_values_in_the_file()
    {
        Import(scratch.File, Small);
        var file = DataFile.OpenToWrite(scratch.File);
        var nest = Nest(file, 3);
        Edit(file, file.Seasons().Single().Id, nest, "eggs", "1");
        var outcome = Import(scratch.File, Small.With(RecordKind.Nests, 3, "eggs", "2"), apply: true);
        Assert.Equal(ImportCase.Conflict, outcome.Plan.Findings.Single().Case);
        Assert.Equal(2, Fold.Record(file.Changes(nest)).Field("eggs")!.Heads.Length);
        Assert.Equal(2L, Scalar("SELECT COUNT(*) FROM field_head"));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Rows_that_the_folder_lost_are_taken_out_when_asked()
    {
        Import(scratch.File, Small);
        var less = Small.Without(RecordKind.Visits, 5);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.File, less).End);
        Assert.Equal(ImportEnd.NeedsApply, Import(scratch.File, less, removeMissing: true).End);
        Assert.Equal(ImportEnd.Done, Import(scratch.File, less, apply: true, removeMissing: true).End);
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(less.Text(withId: false), file.Tables("small").Text(withId: false));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Two_seasons_live_in_one_file_side_by_side()
    {
        var other = PlainFolder.Invented("another", 18);
        Import(scratch.File, Small);
        Import(scratch.File, other);
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(["another", "small"], file.Seasons().Select(s => s.Name));
        Assert.Equal(Small.Text(withId: false), file.Tables("small").Text(withId: false));
        Assert.Equal(other.Text(withId: false), file.Tables("another").Text(withId: false));
        Assert.Empty(file.Check());
        var none = Assert.Throws<DataFileException>(() => file.Tables("third"));
        Assert.Contains("another, small", Words.Catalogue.English.Say(none.Problem.What), StringComparison.Ordinal);
    }

    [Fact]
    public void A_second_writer_is_told_to_wait_and_changes_nothing()
    {
        Import(scratch.File, Small);
        using (var first = new SqliteConnection("Data Source=" + scratch.File + ";Pooling=False"))
        {
            first.Open();
            using var transaction = first.BeginTransaction();
            var busy = Assert.Throws<DataFileException>(() => Import(scratch.File, PlainFolder.Invented("another", 6)));
            Assert.Equal("busy", busy.Problem.Rule);
        }

        Assert.Equal(["small"], DataFile.OpenToRead(scratch.File).Seasons().Select(s => s.Name));
    }

    [Fact]
    public async Task Writers_at_the_same_time_wait_for_each_other_and_lose_nothing()
    {
        var token = TestContext.Current.CancellationToken;
        await Task.WhenAll(Enumerable.Range(0, 6).Select(i => Task.Run(() => Import(scratch.File, PlainFolder.Invented("season " + i, 30)), token)));
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(6, file.Seasons().Length);
        Assert.Empty(file.Check());
        Assert.Equal(["season.db"], scratch.Names);
    }

    [Fact]
    public void A_write_between_comparison_and_lock_is_seen()
    {
        Import(scratch.File, Small);
        var once = 0;
        var edited = Small.With(RecordKind.Nests, 3, "eggs", "2");
        var outcome = Import(scratch.File, edited, apply: true, before: _ =>
        {
            if (once++ == 0) Import(scratch.File, edited, apply: true);
        });
        Assert.Equal(ImportEnd.NothingToDo, outcome.End);
        Assert.Empty(DataFile.OpenToRead(scratch.File).Check());
    }

    [Fact]
    public void A_cancelled_import_leaves_what_was_there()
    {
        Import(scratch.File, Small);
        using var stop = new CancellationTokenSource();
        var request = new ImportRequest { Season = PlainFolder.Invented("another", 9000), By = "Ann", Now = Noon };
        Assert.Throws<OperationCanceledException>(() => DataFile.OpenToWrite(scratch.File).Import(request, new Now<ImportProgress>(p =>
        {
            if (p.Done > 5000) stop.Cancel();
        }), stop.Token));
        var file = DataFile.OpenToRead(scratch.File);
        Assert.Equal(["small"], file.Seasons().Select(s => s.Name));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Check_finds_what_somebody_changed_behind_the_journal()
    {
        Import(scratch.File, Small);
        string[] Rules(string sql)
        {
            var copy = Path.Combine(scratch.Folder, Guid.CreateVersion7().ToString("N") + ".db");
            DataFile.OpenToRead(scratch.File).CopyTo(copy);
            Execute(copy, sql);
            return [.. DataFile.OpenToRead(copy).Check().Select(p => p.Rule).Distinct()];
        }

        Assert.Empty(Rules("SELECT 1"));
        Assert.Equal(["row_differs"], Rules("UPDATE nests SET fields = replace(fields, 'grass', 'shrub')"));
        Assert.Equal(["row_differs"], Rules("UPDATE visits SET \"key\" = 'x' WHERE rowid = 1"));
        Assert.Equal(["digest_orphan", "row_lacks"], Rules("DELETE FROM transects WHERE rowid = 1").Order(StringComparer.Ordinal));
        Assert.Equal(["row_orphan"], Rules("DELETE FROM change WHERE kind = 'nests'"));
        Assert.Equal(["head_differs"], Rules("INSERT INTO field_head (record, field, change, season, kind, value) VALUES (randomblob(16), 'eggs', randomblob(16), randomblob(16), 'nests', '4')"));
        Assert.Contains("change_unreadable", Rules("UPDATE change SET fields = '{\"eggs\":' WHERE kind = 'nests'"));
    }

    [Fact]
    public void Changes_before_their_creation_wait_visibly_and_are_not_lost()
    {
        Import(scratch.File, Small);
        var file = DataFile.OpenToWrite(scratch.File);
        var season = file.Seasons().Single().Id;
        var record = Guid.CreateVersion7();
        file.Write(season, [new Draft("nests", record, ChangeOp.Set, [new FieldChange("eggs", "2", [])])], "phone", Noon);
        Assert.Equal(("waiting", Severity.Note), file.Check().Select(p => (p.Rule, p.Severity)).Single());
        Assert.Equal(12, file.Tables("small").Table(RecordKind.Nests)!.Rows.Length);
        file.Write(season, [new Draft("nests", record, ChangeOp.Create, [new FieldChange("transect", "T0", []), new FieldChange("nest", "7", [])])], "phone", Noon);
        Assert.Empty(file.Check());
        Assert.Equal("2", file.Tables("small").Table(RecordKind.Nests)!.Rows[^1].Cells[4]);
    }

    [Theory]
    [InlineData("Host=db;Username=a;Password=secret", "server")]
    [InlineData("postgresql://a:secret@db/x", "server")]
    [InlineData(".", "is_a_folder")]
    public void A_path_that_cannot_be_a_data_file_is_refused_in_a_sentence(string path, string rule)
    {
        var refused = Assert.Throws<DataFileException>(() => DataFile.OpenToWrite(path)).Problem;
        Assert.Equal(rule, refused.Rule);
        Assert.DoesNotContain("secret", Said(refused), StringComparison.Ordinal);
        Assert.Equal(rule, Assert.Throws<DataFileException>(() => DataFile.OpenToRead(path)).Problem.Rule);
    }

    [Fact]
    public void A_file_of_something_else_is_refused_and_left_as_it_is()
    {
        File.WriteAllText(scratch.File, new string('x', 5000));
        Assert.Equal("not_a_data_file", Assert.Throws<DataFileException>(() => DataFile.OpenToWrite(scratch.File)).Problem.Rule);
        Assert.Equal(new string('x', 5000), File.ReadAllText(scratch.File));
        File.Delete(scratch.File);
        Execute(scratch.File, "CREATE TABLE other (x)");
        Assert.Equal("not_a_data_file", Assert.Throws<DataFileException>(() => DataFile.OpenToRead(scratch.File)).Problem.Rule);
        Assert.Equal("no_such_file", Assert.Throws<DataFileException>(() => DataFile.OpenToRead(scratch.File + "x")).Problem.Rule);
    }

    [Fact]
    public void A_newer_file_is_refused()
    {
        Import(scratch.File, Small);
        Execute(scratch.File, "INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Later', '99.0.0')");
        Assert.Equal("newer", Assert.Throws<DataFileException>(() => Import(scratch.File, Small)).Problem.Rule);
    }

    [Fact]
    public void A_damaged_file_is_reported()
    {
        Import(scratch.File, PlainFolder.Invented("small", 600));
        var bytes = Bytes();
        for (var i = bytes.Length / 2; i < (bytes.Length / 2) + 20_000; i++) bytes[i] = 0x5A;
        File.WriteAllBytes(scratch.File, bytes);
        try
        {
            Assert.Contains(DataFile.OpenToRead(scratch.File).Check(), p => p.Rule == "damaged");
        }
        catch (DataFileException damaged)
        {
            // Where the damage lies decides whether the check can still finish.
            Assert.Equal("damaged", damaged.Problem.Rule);
        }
    }

    [Fact]
    public void An_empty_file_counts_as_none_yet()
    {
        File.WriteAllBytes(scratch.File, []);
        Assert.Empty(DataFile.OpenToRead(scratch.File).Seasons());
        Assert.Equal("empty", Assert.Throws<DataFileException>(() => DataFile.OpenToRead(scratch.File).Tables("small")).Problem.Rule);
        Assert.Equal(ImportEnd.Done, Import(scratch.File, Small).End);
    }

    [Fact]
    public void A_copy_is_whole_and_overwrites_nothing()
    {
        Import(scratch.File, Small);
        var file = DataFile.OpenToRead(scratch.File);
        var copy = Path.Combine(scratch.Folder, "copy.db");
        file.CopyTo(copy);
        Assert.Equal(file.Tables("small").Text(withId: true), DataFile.OpenToRead(copy).Tables("small").Text(withId: true));
        Assert.Equal("copy_exists", Assert.Throws<DataFileException>(() => file.CopyTo(copy)).Problem.Rule);
    }

    [Fact]
    public void Every_sentence_of_the_store_can_be_said()
    {
        foreach (var key in Words.Catalogue.English.Keys.Where(k => k.StartsWith("store.", StringComparison.Ordinal) && !k.EndsWith("_todo", StringComparison.Ordinal)))
        {
            Assert.True(Words.Catalogue.English.Has(key + "_todo") || key is "store.row_differs" or "store.row_lacks" or "store.row_orphan" or "store.head_differs" or "store.digest_orphan" or "store.change_unreadable", key);
        }
    }

    private static string Said(Problem problem) => Words.Catalogue.English.Say(problem.What) + Words.Catalogue.English.Say(problem.ToDo);

    private static Guid Nest(DataFile file, int row) => Guid.Parse(file.Tables("small").Table(RecordKind.Nests)!.Rows[row].Cells[^1]);

    private static void Edit(DataFile file, Guid season, Guid record, string field, string value) =>
        file.Write(season, [new Draft("nests", record, ChangeOp.Set, [new FieldChange(field, value, Fold.Record(file.Changes(record)).Field(field)?.HeadIds ?? [])])], "Ann", Noon);

    private object? Scalar(string sql)
    {
        using var connection = new SqliteConnection("Data Source=" + scratch.File + ";Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private static void Execute(string path, string sql)
    {
        using var connection = new SqliteConnection("Data Source=" + path + ";Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    /// <summary>Progress that is told at once, on the thread that works.</summary>
    private sealed class Now<T>(Action<T> told) : IProgress<T>
    {
        public void Report(T value) => told(value);
    }
}
