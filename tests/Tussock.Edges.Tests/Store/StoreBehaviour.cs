// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using Tussock.Exchange.SeasonFolder;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Store;

/// <summary>What holds of the store wherever the data are.</summary>
public abstract class StoreBehaviour(DataKind kind) : IDisposable
{
    private static readonly DateTimeOffset Noon = new(2024, 7, 1, 12, 0, 0, TimeSpan.FromHours(-5));
    private readonly TestData scratch = TestData.Of(kind);

    public void Dispose()
    {
        scratch.Dispose();
        GC.SuppressFinalize(this);
    }

    public static TheoryData<string> References => [.. PlainFolder.ReferenceFolders().Select(f => Path.GetRelativePath(PlainFolder.Checks, f))];

    private static ImportOutcome Import(string path, SeasonTables season, bool apply = false, bool removeMissing = false, bool preview = false, Action<string>? before = null) =>
        DataFile.OpenToWrite(path, before).Import(new ImportRequest { Season = season, By = "Ann", Now = Noon, Apply = apply, RemoveMissing = removeMissing, Preview = preview });

    private string Stored() => scratch.State;

    private static SeasonTables Small => PlainFolder.Invented("small", 12);

    [Theory]
    [MemberData(nameof(References))]
    public void A_reference_season_comes_out_as_it_went_in(string folder)
    {
        var season = PlainFolder.Read(Path.Combine(PlainFolder.Checks, folder));
        Assert.Equal(ImportEnd.Done, Import(scratch.Data, season).End);
        var file = DataFile.OpenToRead(scratch.Data);
        var back = file.Tables(file.Seasons().Single().Name);
        Assert.Equal(season.Text(withId: false), back.Text(withId: false));
        Assert.All(back.Tables, t => Assert.Equal("id", t.Columns[^1]));
        Assert.Empty(file.Check());
        var stored = Stored();
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, season).End);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, back).End);
        Assert.Equal(stored, Stored());
        Assert.Empty(scratch.Others);
    }

    [Theory]
    [MemberData(nameof(References))]
    public void The_folder_written_from_the_data_is_nothing_new_to_the_data(string folder)
    {
        var season = SeasonFolderReader.Read(Path.Combine(PlainFolder.Checks, folder)).Tables!;
        Import(scratch.Data, season);
        var exported = Path.Combine(scratch.Folder, "exported");
        Assert.Empty(SeasonFolderWriter.Write(DataFile.OpenToRead(scratch.Data).Tables(DataFile.OpenToRead(scratch.Data).Seasons().Single().Name), exported));
        var stored = Stored();
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, SeasonFolderReader.Read(exported).Tables!).End);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, SeasonFolderReader.Read(exported).Tables!, removeMissing: true).End);
        Assert.Equal(stored, Stored());
    }

    [Fact]
    public void An_export_goes_into_another_data_file_with_the_same_ids()
    {
        Import(scratch.Data, Small);
        var back = DataFile.OpenToRead(scratch.Data).Tables("small");
        using var other = scratch.Another();
        Import(other.Data, back);
        Assert.Equal(back.Text(withId: true), DataFile.OpenToRead(other.Data).Tables("small").Text(withId: true));
    }

    [Fact]
    public void Reading_changes_no_byte_and_leaves_no_other_file()
    {
        Import(scratch.Data, Small);
        var stored = Stored();
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Equal(("small", "2024"), file.Seasons().Select(s => (s.Name, s.Year)).Single());
        Assert.Equal(file.Since(0).Length, file.Position);
        Assert.Empty(file.Check());
        Assert.Equal(stored, Stored());
        Assert.Empty(scratch.Others);
    }

    [Fact]
    public void A_preview_writes_nothing_not_even_a_file()
    {
        var nothing = Stored();
        var outcome = Import(scratch.Data, Small, preview: true);
        Assert.Equal((ImportEnd.Previewed, true), (outcome.End, outcome.IsNewSeason));
        Assert.Equal(12, outcome.Plan.Counts.Single(c => c.Kind == "nests").New);
        Assert.Empty(scratch.Others);
        Assert.Equal(nothing, Stored());
        Import(scratch.Data, Small);
        var stored = Stored();
        Assert.Equal(ImportCase.Changed, Import(scratch.Data, Small.With(RecordKind.Nests, 3, "eggs", "2"), preview: true).Plan.Findings.Single().Case);
        Assert.Equal(stored, Stored());
    }

    [Fact]
    public void Changed_values_wait_for_a_yes()
    {
        Import(scratch.Data, Small);
        var stored = Stored();
        var edited = Small.With(RecordKind.Nests, 3, "eggs", "2");
        Assert.Equal(ImportEnd.NeedsApply, Import(scratch.Data, edited).End);
        Assert.Equal(stored, Stored());
        Assert.Equal(ImportEnd.Done, Import(scratch.Data, edited, apply: true).End);
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Equal(edited.Text(withId: false), file.Tables("small").Text(withId: false));
        Assert.Empty(file.Check());
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, edited).End);
    }

    [Fact]
    public void An_edit_in_the_data_outlives_the_folder_and_can_be_undone()
    {
        Import(scratch.Data, Small);
        var file = DataFile.OpenToWrite(scratch.Data);
        var season = file.Seasons().Single().Id;
        var nest = Nest(file, 3);
        Edit(file, season, nest, "eggs", "1");
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, Small).End);
        Assert.Equal("1", file.Tables("small").Table(RecordKind.Nests)!.Rows[3].Cells[4]);
        file.Write(season, [History.Undo(file.Changes(nest), "eggs")!], "Bob", Noon);
        Assert.Equal("3", file.Tables("small").Table(RecordKind.Nests)!.Rows[3].Cells[4]);
        Assert.Equal(["Ann", "Ann", "Bob"], History.Of(file.Changes(nest), "eggs").Select(s => s.Change.By));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void A_conflict_keeps_both_values_in_the_file()
    {
        Import(scratch.Data, Small);
        var file = DataFile.OpenToWrite(scratch.Data);
        var nest = Nest(file, 3);
        Edit(file, file.Seasons().Single().Id, nest, "eggs", "1");
        var outcome = Import(scratch.Data, Small.With(RecordKind.Nests, 3, "eggs", "2"), apply: true);
        Assert.Equal(ImportCase.Conflict, outcome.Plan.Findings.Single().Case);
        Assert.Equal(2, Fold.Record(file.Changes(nest)).Field("eggs")!.Heads.Length);
        Assert.Equal(2L, scratch.Run("SELECT COUNT(*) FROM field_head"));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Rows_that_the_folder_lost_are_taken_out_when_asked()
    {
        Import(scratch.Data, Small);
        var less = Small.Without(RecordKind.Visits, 5);
        Assert.Equal(ImportEnd.NothingToDo, Import(scratch.Data, less).End);
        Assert.Equal(ImportEnd.NeedsApply, Import(scratch.Data, less, removeMissing: true).End);
        Assert.Equal(ImportEnd.Done, Import(scratch.Data, less, apply: true, removeMissing: true).End);
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Equal(less.Text(withId: false), file.Tables("small").Text(withId: false));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Two_seasons_live_in_one_file_side_by_side()
    {
        var other = PlainFolder.Invented("another", 18);
        Import(scratch.Data, Small);
        Import(scratch.Data, other);
        var file = DataFile.OpenToRead(scratch.Data);
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
        Import(scratch.Data, Small);
        using (scratch.Held())
        {
            var busy = Assert.Throws<DataFileException>(() => Import(scratch.Data, PlainFolder.Invented("another", 6)));
            Assert.Equal("busy", busy.Problem.Rule);
        }

        Assert.Equal(["small"], DataFile.OpenToRead(scratch.Data).Seasons().Select(s => s.Name));
    }

    [Fact]
    public async Task Writers_at_the_same_time_wait_for_each_other_and_lose_nothing()
    {
        var token = TestContext.Current.CancellationToken;
        await Task.WhenAll(Enumerable.Range(0, 6).Select(i => Task.Run(() => Import(scratch.Data, PlainFolder.Invented("season " + i, 30)), token)));
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Equal(6, file.Seasons().Length);
        Assert.Empty(file.Check());
        Assert.Empty(scratch.Others);
    }

    [Fact]
    public void A_write_between_comparison_and_lock_is_seen()
    {
        Import(scratch.Data, Small);
        var once = 0;
        var edited = Small.With(RecordKind.Nests, 3, "eggs", "2");
        var outcome = Import(scratch.Data, edited, apply: true, before: _ =>
        {
            if (once++ == 0) Import(scratch.Data, edited, apply: true);
        });
        Assert.Equal(ImportEnd.NothingToDo, outcome.End);
        Assert.Empty(DataFile.OpenToRead(scratch.Data).Check());
    }

    [Fact]
    public void A_cancelled_import_leaves_what_was_there()
    {
        Import(scratch.Data, Small);
        using var stop = new CancellationTokenSource();
        var request = new ImportRequest { Season = PlainFolder.Invented("another", 9000), By = "Ann", Now = Noon };
        Assert.Throws<OperationCanceledException>(() => DataFile.OpenToWrite(scratch.Data).Import(request, new Now<ImportProgress>(p =>
        {
            if (p.Done > 5000) stop.Cancel();
        }), stop.Token));
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Equal(["small"], file.Seasons().Select(s => s.Name));
        Assert.Empty(file.Check());
    }

    [Fact]
    public void Check_finds_what_somebody_changed_behind_the_journal()
    {
        Import(scratch.Data, Small);
        string[] Rules(string sql)
        {
            using var copy = scratch.Copied();
            copy.Run(sql);
            return [.. DataFile.OpenToRead(copy.Data).Check().Select(p => p.Rule).Distinct()];
        }

        Assert.Empty(Rules("SELECT 1"));
        Assert.Equal(["row_differs"], Rules("UPDATE nests SET fields = replace(fields, 'grass', 'shrub')"));
        Assert.Equal(["row_differs"], Rules("UPDATE visits SET \"key\" = 'x' WHERE id IN (SELECT id FROM visits LIMIT 1)"));
        Assert.Equal(["digest_orphan", "row_lacks"], Rules("DELETE FROM transects WHERE id IN (SELECT id FROM transects LIMIT 1)").Order(StringComparer.Ordinal));
        Assert.Equal(["row_orphan"], Rules("DELETE FROM change WHERE kind = 'nests'"));
        Assert.Equal(["head_differs"], Rules("INSERT INTO field_head (record, field, change, season, kind, value) SELECT id, 'eggs', id, season, 'nests', '4' FROM nests LIMIT 1"));
        Assert.Contains("change_unreadable", Rules("UPDATE change SET fields = '{\"eggs\":' WHERE kind = 'nests'"));
    }

    [Fact]
    public void Changes_before_their_creation_wait_visibly_and_are_not_lost()
    {
        Import(scratch.Data, Small);
        var file = DataFile.OpenToWrite(scratch.Data);
        var season = file.Seasons().Single().Id;
        var record = Guid.CreateVersion7();
        file.Write(season, [new Draft("nests", record, ChangeOp.Set, [new FieldChange("eggs", "2", [])])], "phone", Noon);
        Assert.Equal(("waiting", Severity.Note), file.Check().Select(p => (p.Rule, p.Severity)).Single());
        Assert.Equal(12, file.Tables("small").Table(RecordKind.Nests)!.Rows.Length);
        file.Write(season, [new Draft("nests", record, ChangeOp.Create, [new FieldChange("transect", "T0", []), new FieldChange("nest", "7", [])])], "phone", Noon);
        Assert.Empty(file.Check());
        Assert.Equal("2", file.Tables("small").Table(RecordKind.Nests)!.Rows[^1].Cells[4]);
    }

    [Fact]
    public void A_newer_file_is_refused()
    {
        Import(scratch.Data, Small);
        scratch.Run("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Later', '99.0.0')");
        Assert.Equal("newer", Assert.Throws<DataFileException>(() => Import(scratch.Data, Small)).Problem.Rule);
    }

    [Theory]
    [InlineData(DataKind.File)]
    [InlineData(DataKind.Server)]
    public void A_backup_goes_into_data_of_either_kind_and_photos_with_it(DataKind into)
    {
        Import(scratch.Data, Small);
        var file = DataFile.OpenToWrite(scratch.Data);
        Edit(file, file.Seasons().Single().Id, Nest(file, 3), "eggs", "1");
        file.AddPerson(new Person(Guid.NewGuid(), "Ann", PersonRole.Lead, [], Noon), "hash", "test");
        var photo = file.Media.Keep([1, 2, 3])!;
        using var other = Of(into);
        file.BackUp(scratch.At("b.zip"), overwrite: false, Noon, "0");
        Assert.True(DataFile.Restore(scratch.At("b.zip"), other.Data, overwrite: false, Noon).IsDone);
        var back = DataFile.OpenToWrite(other.Data);
        Assert.Equal(file.Since(0).Select(c => c.Id), back.Since(0).Select(c => c.Id));
        Assert.Equal(file.Tables("small").Text(withId: true), back.Tables("small").Text(withId: true));
        Assert.Equal((file.People().Single(), file.Book(5).Single()) is var (p, w) ? (p.Id, w) : default, (back.People().Single().Id, back.Book(5).Single()));
        Assert.Equal([photo], back.Media.All().Select(m => m.Hash));
        Assert.Empty(back.Check());
        Assert.Equal("restore_exists", Assert.Throws<DataFileException>(() => DataFile.Restore(scratch.At("b.zip"), other.Data, overwrite: false, Noon)).Problem.Rule);

        // The book goes on behind the numbers that came with the backup, and what was there is kept.
        back.SetPassword(back.People().Single().Id, "hash", "test", Noon);
        Assert.Equal(2, back.Book(5).Length);
        Assert.True(DataFile.Restore(scratch.At("b.zip"), other.Data, overwrite: true, Noon).Kept is { } kept && DataFile.OpenToRead(kept).Book(5).Length == 2);
        Assert.Single(DataFile.OpenToRead(other.Data).Book(5));
    }

    [Fact]
    public void A_copy_is_whole_and_overwrites_nothing()
    {
        Import(scratch.Data, Small);
        var file = DataFile.OpenToRead(scratch.Data);
        var copy = Path.Combine(scratch.Folder, "copy.db");
        file.CopyTo(copy);
        Assert.Equal(file.Tables("small").Text(withId: true), DataFile.OpenToRead(copy).Tables("small").Text(withId: true));
        Assert.Equal("copy_exists", Assert.Throws<DataFileException>(() => file.CopyTo(copy)).Problem.Rule);
    }

    private static TestData Of(DataKind into) => TestData.Of(into);

    private static Guid Nest(DataFile file, int row) => Guid.Parse(file.Tables("small").Table(RecordKind.Nests)!.Rows[row].Cells[^1]);

    private static void Edit(DataFile file, Guid season, Guid record, string field, string value) =>
        file.Write(season, [new Draft("nests", record, ChangeOp.Set, [new FieldChange(field, value, Fold.Record(file.Changes(record)).Field(field)?.HeadIds ?? [])])], "Ann", Noon);

    /// <summary>Progress that is told at once, on the thread that works.</summary>
    private sealed class Now<T>(Action<T> told) : IProgress<T>
    {
        public void Report(T value) => told(value);
    }
}
