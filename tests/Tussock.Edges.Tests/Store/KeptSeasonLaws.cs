// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Store;

/// <summary>A season that is kept and brought up to date by what is new is the season as it would be read anew.</summary>
public abstract class KeptSeasonLaws(DataKind kind) : IDisposable
{
    private static readonly DateTimeOffset Noon = new(2026, 6, 12, 12, 0, 0, TimeSpan.Zero);
    private static readonly string[] Columns = ["note", "finding", "observer", "eggs_intact", "nest"];
    private readonly TestData scratch = TestData.Of(kind);

    public void Dispose()
    {
        scratch.Dispose();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Whatever_is_written_the_kept_tables_are_those_of_the_file(int seed)
    {
        var random = new Random(seed);
        var file = Begun();
        var kept = file.Keep("small");
        for (var round = 0; round < 60; round++)
        {
            for (var n = random.Next(4); n >= 0; n--) file.Write(kept.Id, [Any(file, random)], "crew 1", Noon);
            kept = file.Newer(kept, "small");
            Same(file, kept);
        }

    }

    [Fact]
    public void What_phones_send_out_of_order_comes_into_the_kept_tables_when_its_creation_does()
    {
        var file = Begun();
        var kept = file.Keep("small");
        var (create, set) = (Sent(kept.Id, 1, ChangeOp.Create, "finding", "intact"), Sent(kept.Id, 2, ChangeOp.Set, "note", "late"));
        file.Receive([set], Noon);
        kept = file.Newer(kept, "small");
        Same(file, kept);
        Assert.DoesNotContain(kept.Kept.Tables.Table(RecordKind.Visits)!.Rows, r => r.Cells.Contains("late"));
        file.Receive([create], Noon);
        kept = file.Newer(kept, "small");
        Same(file, kept);
        Assert.Contains(kept.Kept.Tables.Table(RecordKind.Visits)!.Rows, r => r.Cells.Contains("late"));
    }

    [Fact]
    public void A_file_that_was_taken_back_is_read_anew_even_at_the_same_position()
    {
        var file = Begun();
        var backup = Path.Combine(scratch.Folder, "b.zip");
        file.BackUp(backup, overwrite: false, Noon, "0");
        var visit = Visit(file, new Random(1));
        file.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange("note", "first", visit.Field("note")?.HeadIds ?? [])])], "crew 1", Noon);
        var kept = file.Keep("small");
        DataFile.Restore(backup, scratch.Data, overwrite: true, Noon);
        Same(file, file.Newer(kept, "small"));
        file.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange("note", "second", visit.Field("note")?.HeadIds ?? [])])], "crew 1", Noon.AddHours(1));
        Assert.Equal(kept.At.Position, file.Last.Position);
        Same(file, file.Newer(kept, "small"));
    }

    [Fact]
    public void Nothing_new_is_the_same_season_and_another_season_s_changes_move_only_the_position()
    {
        var file = Begun();
        var kept = file.Keep("small");
        Assert.Same(kept, file.Newer(kept, "small"));
        file.Import(new ImportRequest { Season = PlainFolder.Invented("other", 6), By = "crew 2", Now = Noon });
        var after = file.Newer(kept, "small");
        Assert.Same(kept.Kept, after.Kept);
        Assert.Equal(file.Last, after.At);
    }

    [Fact]
    public void An_edit_reads_nothing_but_its_own_table_anew()
    {
        var file = Begun();
        var kept = file.Keep("small");
        var visit = Visit(file, new Random(1));
        file.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange("note", "seen", visit.Field("note")?.HeadIds ?? [])]), new Draft("visits", Guid.NewGuid(), ChangeOp.Create, [new FieldChange("note", "new", [])])], "crew 1", Noon);
        var after = file.Newer(kept, "small");
        Assert.Same(kept.Kept.Tables.Table(RecordKind.Nests), after.Kept.Tables.Table(RecordKind.Nests));
        Assert.Equal(kept.Kept.Tables.Table(RecordKind.Visits)!.Rows.Length + 1, after.Kept.Tables.Table(RecordKind.Visits)!.Rows.Length);
    }

    private DataFile Begun()
    {
        var file = DataFile.OpenToWrite(scratch.Data);
        file.Import(new ImportRequest { Season = PlainFolder.Invented("small", 12), By = "crew 1", Now = Noon });
        return file;
    }

    private static RecordState Visit(DataFile file, Random random)
    {
        var visits = file.States("small").Records.Where(r => r.Kind == "visits").ToArray();
        return visits[random.Next(visits.Length)];
    }

    /// <summary>Something that people do: an edit, a column that is new, a record taken out or put back, a new one, a text of the folder, a conflict.</summary>
    private static Draft Any(DataFile file, Random random)
    {
        var visit = Visit(file, random);
        var value = "v" + random.Next(1000).ToString(CultureInfo.InvariantCulture);
        FieldChange Field(string name, string to, bool isSettled = true) => new(name, to, isSettled ? visit.Field(name)?.HeadIds ?? [] : []);
        return random.Next(12) switch
        {
            0 => new Draft("visits", visit.Id, ChangeOp.Void, [Field(FieldName.Void, "yes")]),
            1 => new Draft("visits", visit.Id, ChangeOp.Void, [Field(FieldName.Void, "")]),
            2 => new Draft("visits", Guid.NewGuid(), ChangeOp.Create, [new FieldChange("transect", "T1", []), new FieldChange("nest", "2", []), new FieldChange("note", value, [])]),
            3 => new Draft("nests", Guid.NewGuid(), ChangeOp.Create, [new FieldChange("transect", "T1", []), new FieldChange("nest", value, [])]),
            4 => new Draft("visits", visit.Id, ChangeOp.Set, [Field("bowl", value)]),
            5 => new Draft("visits", visit.Id, ChangeOp.Set, [Field("note", value, isSettled: false)]),
            6 => new Draft(JournalKind.Text, NaturalKey.Id(visit.Season, JournalKind.Text, "note.txt", 1), random.Next(2) == 0 ? ChangeOp.Create : ChangeOp.Set, [new FieldChange("name", "note.txt", []), new FieldChange("text", value, [])]),
            7 => new Draft(JournalKind.Season, visit.Season, ChangeOp.Set, [new FieldChange("season.year", "\"" + value + "\"", [])]),
            8 => new Draft("visits", visit.Id, ChangeOp.Set, [Field(FieldName.Row, random.Next(1, 99).ToString(CultureInfo.InvariantCulture))]),
            _ => new Draft("visits", visit.Id, ChangeOp.Set, [Field(Columns[random.Next(Columns.Length)], random.Next(3) == 0 ? "" : value)]),
        };
    }

    private Change Sent(Guid season, int n, ChangeOp op, string field, string value) => new()
    {
        Id = Guid.Parse(string.Create(CultureInfo.InvariantCulture, $"01900000-0000-7000-8000-{n:x12}")), Batch = Guid.NewGuid(), Device = "phone", DeviceSeq = n, Season = season, Kind = "visits", Record = Guid.Parse("01900000-0000-7000-8000-00000000ffff"),
        Op = op, Fields = [new FieldChange(field, value, [])], By = "crew 2", SaidAt = Noon, CameAt = Noon, Source = "phone", Position = 0, Format = 1,
    };

    private static void Same(DataFile file, KeptSeason kept)
    {
        var anew = file.Keep("small");
        Assert.Equal(Text(anew), Text(kept));
        Assert.Equal(anew.At, kept.At);
        Assert.Equal(anew.Kept.Placed.OrderBy(p => p.Key, StringComparer.Ordinal), kept.Kept.Placed.OrderBy(p => p.Key, StringComparer.Ordinal));
        Assert.Equal(anew.Disputed, kept.Disputed);
        var states = file.States("small");
        Assert.Equal(states.Tables.Text(withId: true), anew.Kept.Tables.Text(withId: true));
        Assert.Equal(states.Records.Where(r => r.IsCreated && r.Fields.Any(f => f.IsConflict)), anew.Disputed);
    }

    /// <summary>All cells that hold something, by line and column; a column that has become empty says nothing.</summary>
    private static string Text(KeptSeason season)
    {
        var cells = season.Kept.Tables.Tables.SelectMany(t => t.Rows.SelectMany(r => t.Columns.Zip(r.Cells).Where(c => c.Second.Length > 0).OrderBy(c => c.First, StringComparer.Ordinal).Select(c => t.Kind.Name + r.Line.ToString(CultureInfo.InvariantCulture) + c.First + "=" + c.Second)));
        return season.Kept.Tables.Package.ToText() + string.Join('\n', cells.Concat(season.Kept.Tables.Texts.Select(t => t.Key + "=" + t.Value)));
    }
}

/// <summary>The same in a file.</summary>
public sealed class KeptSeasonFileLaws() : KeptSeasonLaws(DataKind.File);

/// <summary>The same on a server.</summary>
public sealed class KeptSeasonServerLaws() : KeptSeasonLaws(DataKind.Server);
