using System.Collections.Immutable;
using FsCheck.Xunit;
using Tussock.Journal;
using Tussock.Records;
using Xunit;

namespace Tussock.Tests.Journal;

/// <summary>A journal in memory: what the store does with a plan, without a store.</summary>
internal sealed class MemoryJournal
{
    private static readonly Guid Batch = Made.Id(1);
    private readonly List<Change> changes = [];
    private readonly Dictionary<Guid, RowDigest> digests = [];
    private ImmutableSortedDictionary<string, ImmutableArray<string>> digestFields = ImmutableSortedDictionary<string, ImmutableArray<string>>.Empty;

    internal IReadOnlyList<Change> Changes => changes;

    internal StoredSeason Stored(SeasonTables season) => new()
    {
        Id = NaturalKey.SeasonId(season.Package.SeasonJson("name")!.Trim('"')),
        Records = Fold.Records(changes).GroupBy(r => r.Kind).ToDictionary(g => g.Key, g => g.Select(r => r.Shown()).ToImmutableArray(), StringComparer.Ordinal),
        Digests = digests,
        DigestFields = digestFields,
    };

    internal ImportPlan Compare(SeasonTables season, bool removeMissing = false) =>
        Import.Compare(season, Stored(season), removeMissing, (kind, id) => Fold.Record([.. changes.Where(c => c.Kind == kind && c.Record == id)]));

    internal ImportPlan Take(SeasonTables season, bool removeMissing = false)
    {
        var plan = Compare(season, removeMissing);
        foreach (var draft in plan.Drafts) Write(draft);
        foreach (var (record, digest) in plan.Digests) digests[record] = digest;
        foreach (var record in plan.Forgotten) digests.Remove(record);
        digestFields = plan.DigestFields;
        return plan;
    }

    internal void Write(Draft draft) => changes.Add(new Change
    {
        Id = Made.Id(changes.Count + 1),
        Batch = Batch,
        Device = "desk",
        DeviceSeq = changes.Count + 1,
        Season = Made.Season,
        Kind = draft.Kind,
        Record = draft.Record,
        Op = draft.Op,
        Fields = draft.Fields,
        By = "Ann",
        SaidAt = DateTimeOffset.UnixEpoch,
        CameAt = DateTimeOffset.UnixEpoch,
        Source = draft.Source,
    });

    /// <summary>Edits a value as somebody who sees it would.</summary>
    internal void Edit(string kind, Guid record, string field, string value)
    {
        var state = Fold.Record([.. changes.Where(c => c.Kind == kind && c.Record == record)]);
        Write(new Draft(kind, record, field == FieldName.Void ? ChangeOp.Void : ChangeOp.Set, [new FieldChange(field, value, state.Field(field)?.HeadIds ?? [])]));
    }

    internal SeasonTables Tables(SeasonTables season) => JournalSeason.Tables(Stored(season));
}

/// <summary>Small seasons written as text.</summary>
internal static class SmallSeason
{
    internal const string Package = """{"name":"small","title":"Small","season":{"name":"small","year":2024,"cover_classes":["grass","shrub"],"comment":"dry"},"resources":[{"name":"nests","path":"nests.csv"}]}""";

    internal static SeasonTables Of(string nests, string visits = "transect,nest,day,finding", string package = Package) => new(
        SeasonPackage.Parse(package), [Table(RecordKind.Pastures, "property,pasture\nP,A"), Table(RecordKind.Nests, nests), Table(RecordKind.Visits, visits)], ImmutableSortedDictionary<string, string>.Empty.Add("pastures.geojson", "{}"));

    internal static RecordTable Table(RecordKind kind, string text)
    {
        var lines = text.Split('\n');
        return new RecordTable(kind, [.. lines[0].Split(',')], [.. lines.Skip(1).Select((l, i) => new RecordRow(i + 2, [.. l.Split(',')]))]);
    }

    internal static string Text(this SeasonTables season, RecordKind kind)
    {
        var table = season.Table(kind)!;
        return string.Join('\n', table.Rows.Select(r => string.Join(',', r.Cells)).Prepend(string.Join(',', table.Columns)));
    }

    /// <summary>The text of a table without its last column, the id.</summary>
    internal static string TextWithoutId(this SeasonTables season, RecordKind kind) => string.Join('\n', season.Text(kind).Split('\n').Select(l => l[..l.LastIndexOf(',')]));

    internal static Guid Nest(string key) => NaturalKey.Id(NaturalKey.SeasonId("small"), "nests", key.Replace(' ', NaturalKey.Between), 1);
}

public sealed class ImportTests
{
    private const string Three = "transect,nest,cover,eggs,note\nT1,1,grass,3,\nT1,2,shrub,3,by the log\nT1,3,grass,2,";

    private static (MemoryJournal Journal, SeasonTables Season) Imported(string nests = Three)
    {
        var season = SmallSeason.Of(nests);
        var journal = new MemoryJournal();
        journal.Take(season);
        return (journal, season);
    }

    [Fact]
    public void What_was_imported_comes_out_as_it_came_in_with_ids_at_the_end()
    {
        var (journal, season) = Imported();
        var back = journal.Tables(season);
        Assert.Equal(Three, back.TextWithoutId(RecordKind.Nests));
        Assert.Equal("id", back.Table(RecordKind.Nests)!.Columns[^1]);
        Assert.Equal(season.Package.ToText(), back.Package.ToText());
        Assert.Equal(season.Texts, back.Texts);
        Assert.Equal("transect,nest,day,finding,id", back.Text(RecordKind.Visits));
    }

    [Fact]
    public void The_same_folder_again_and_its_own_export_are_nothing_to_do()
    {
        var (journal, season) = Imported();
        Assert.True(journal.Compare(season).IsNothing);
        Assert.True(journal.Compare(journal.Tables(season)).IsNothing);
        Assert.True(journal.Compare(season, removeMissing: true).IsNothing);
    }

    [Fact]
    public void A_value_changed_in_the_folder_only_is_applied_after_asking()
    {
        var (journal, season) = Imported();
        var plan = journal.Take(SmallSeason.Of(Three.Replace("T1,3,grass,2", "T1,3,grass,3", StringComparison.Ordinal)));
        var found = Assert.Single(plan.Findings);
        Assert.Equal((ImportCase.Changed, "eggs", "2", "3", "T1, 3", 4), (found.Case, found.Field, found.Stored, found.Incoming, found.Key, found.Line));
        Assert.True(plan.ChangesStored);
        Assert.EndsWith("T1,3,grass,3,", journal.Tables(season).TextWithoutId(RecordKind.Nests), StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_changed_in_the_data_only_is_kept()
    {
        var (journal, season) = Imported();
        journal.Edit("nests", SmallSeason.Nest("T1 2"), "eggs", "4");
        var plan = journal.Compare(season);
        Assert.Equal(ImportCase.Kept, Assert.Single(plan.Findings).Case);
        Assert.True(plan.IsNothing);
        Assert.False(plan.ChangesStored);
    }

    [Fact]
    public void Changes_of_different_fields_of_one_row_in_folder_and_data_are_both_taken()
    {
        var (journal, season) = Imported();
        journal.Edit("nests", SmallSeason.Nest("T1 2"), "note", "by the stump");
        var plan = journal.Take(SmallSeason.Of(Three.Replace("T1,2,shrub,3", "T1,2,shrub,1", StringComparison.Ordinal)));
        Assert.Equal([ImportCase.Changed, ImportCase.Kept], plan.Findings.Select(f => f.Case));
        Assert.Contains("T1,2,shrub,1,by the stump", journal.Tables(season).Text(RecordKind.Nests), StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_changed_in_both_is_a_conflict_and_both_are_kept()
    {
        var (journal, season) = Imported();
        journal.Edit("nests", SmallSeason.Nest("T1 2"), "cover", "cactus");
        var edited = SmallSeason.Of(Three.Replace("T1,2,shrub", "T1,2,grass", StringComparison.Ordinal));
        Assert.Equal(ImportCase.Conflict, Assert.Single(journal.Take(edited).Findings).Case);
        var field = Fold.Records(journal.Changes).Single(r => r.Id == SmallSeason.Nest("T1 2")).Field("cover")!;
        Assert.Equal(["cactus", "grass"], field.Heads.Select(h => h.Value));
        Assert.True(journal.Compare(edited).IsNothing);
        Assert.NotNull(season);
    }

    [Fact]
    public void A_value_changed_alike_in_both_is_no_conflict()
    {
        var (journal, _) = Imported();
        journal.Edit("nests", SmallSeason.Nest("T1 2"), "cover", "grass");
        var plan = journal.Take(SmallSeason.Of(Three.Replace("T1,2,shrub", "T1,2,grass", StringComparison.Ordinal)));
        Assert.Empty(plan.Findings);
        Assert.Empty(plan.Drafts);
    }

    [Fact]
    public void A_row_that_the_folder_lost_stays_unless_asked_and_comes_back_when_it_returns()
    {
        var (journal, season) = Imported();
        var less = SmallSeason.Of(Three[..Three.LastIndexOf('\n')]);
        Assert.Equal(ImportCase.Missing, Assert.Single(journal.Compare(less).Findings).Case);
        Assert.True(journal.Compare(less).IsNothing);
        Assert.Equal(ImportCase.Removed, Assert.Single(journal.Take(less, removeMissing: true).Findings).Case);
        Assert.Equal(2, journal.Tables(season).Table(RecordKind.Nests)!.Rows.Length);
        Assert.True(journal.Compare(less, removeMissing: true).IsNothing);
        Assert.Equal(ImportCase.Returned, Assert.Single(journal.Take(season).Findings).Case);
        Assert.Equal(Three, journal.Tables(season).TextWithoutId(RecordKind.Nests));
    }

    [Fact]
    public void A_row_taken_out_in_the_data_stays_out()
    {
        var (journal, season) = Imported();
        journal.Edit("nests", SmallSeason.Nest("T1 2"), FieldName.Void, "yes");
        var plan = journal.Compare(season);
        Assert.Equal(ImportCase.Kept, Assert.Single(plan.Findings).Case);
        Assert.True(plan.IsNothing);
    }

    [Fact]
    public void A_record_that_no_folder_has_had_is_never_missing()
    {
        var (journal, season) = Imported();
        journal.Write(new Draft("nests", Made.Id(77), ChangeOp.Create, [new FieldChange("transect", "T1", []), new FieldChange("nest", "9", [])]));
        Assert.True(journal.Compare(season, removeMissing: true).IsNothing);
        Assert.Contains("T1,9,,,", journal.Tables(season).Text(RecordKind.Nests).Split('\n')[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_row_without_id_is_the_record_with_its_key()
    {
        var (journal, season) = Imported();
        journal.Write(new Draft("nests", Made.Id(77), ChangeOp.Create, [new FieldChange("transect", "T1", []), new FieldChange("nest", "9", [])]));
        var plan = journal.Take(SmallSeason.Of(Three + "\nT1,09,grass,3,"));
        Assert.All(plan.Findings, f => Assert.Equal(Made.Id(77), f.Record));
        Assert.Equal(4, journal.Tables(season).Table(RecordKind.Nests)!.Rows.Length);
    }

    [Fact]
    public void Two_looks_at_a_nest_on_one_day_may_change_places()
    {
        var season = SmallSeason.Of(Three, "transect,nest,day,finding,note\nT1,1,14,intact,Ann\nT1,1,14,intact,Bob");
        var journal = new MemoryJournal();
        journal.Take(season);
        Assert.True(journal.Compare(SmallSeason.Of(Three, "transect,nest,day,finding,note\nT1,1,14,intact,Bob\nT1,1,14,intact,Ann")).IsNothing);
    }

    [Fact]
    public void A_new_row_in_the_middle_comes_out_in_the_middle()
    {
        var (journal, season) = Imported();
        var more = Three.Replace("T1,2,", "T1,5,grass,3,new\nT1,6,grass,3,new\nT1,2,", StringComparison.Ordinal) + "\nT1,7,grass,3,new";
        Assert.Equal(3, journal.Take(SmallSeason.Of(more)).Counts.Single(c => c.Kind == "nests").New);
        Assert.Equal(more, journal.Tables(season).TextWithoutId(RecordKind.Nests));
    }

    [Fact]
    public void New_rows_alone_need_no_yes() => Assert.False(Imported().Journal.Compare(SmallSeason.Of(Three + "\nT1,4,grass,3,")).ChangesStored);

    [Fact]
    public void A_column_that_the_folder_lacks_loses_nothing()
    {
        var (journal, season) = Imported();
        Assert.True(journal.Compare(SmallSeason.Of("transect,nest,cover,note\nT1,1,grass,\nT1,2,shrub,by the log\nT1,3,grass,")).IsNothing);
        Assert.Equal(Three, journal.Tables(season).TextWithoutId(RecordKind.Nests));
    }

    [Fact]
    public void A_new_column_comes_out_where_it_came_in()
    {
        var (journal, season) = Imported();
        const string Wider = "transect,nest,#,cover,eggs,note\nT1,1,7,grass,3,\nT1,2,,shrub,3,by the log\nT1,3,,grass,2,";
        journal.Take(SmallSeason.Of(Wider));
        Assert.Equal(Wider, journal.Tables(season).TextWithoutId(RecordKind.Nests));
        Assert.True(journal.Compare(journal.Tables(season)).IsNothing);
    }

    [Fact]
    public void An_id_in_two_rows_stops_the_import()
    {
        var id = Made.Id(5).ToString();
        var plan = new MemoryJournal().Compare(SmallSeason.Of("transect,nest,cover,id\nT1,1,grass," + id + "\nT1,2,grass," + id));
        Assert.Equal("nests.csv:3 id", Assert.Single(plan.Problems).Place.ToString());
        Assert.Empty(plan.Drafts);
    }

    [Fact]
    public void A_changed_rule_of_the_season_is_a_changed_value()
    {
        var (journal, season) = Imported();
        var plan = journal.Take(SmallSeason.Of(Three, package: SmallSeason.Package.Replace(",\"comment\":\"dry\"", ",\"trial_days\": 30", StringComparison.Ordinal)));
        Assert.Equal(["season.comment", "season.trial_days"], plan.Findings.Where(f => f.ChangesStored).Select(f => f.Field).Order(StringComparer.Ordinal));
        Assert.Equal("30", journal.Tables(season).Package.SeasonJson("trial_days"));
        Assert.Null(journal.Tables(season).Package.SeasonJson("comment"));
    }

    [Fact]
    public void A_writer_that_lists_more_tables_makes_no_new_description()
    {
        var (journal, _) = Imported();
        Assert.True(journal.Compare(SmallSeason.Of(Three, package: SmallSeason.Package.Replace("]}", ",{\"name\":\"visits\",\"path\":\"visits.csv\"}]}", StringComparison.Ordinal))).IsNothing);
        Assert.False(journal.Compare(SmallSeason.Of(Three, package: SmallSeason.Package.Replace("]}", ",{\"name\":\"visits\",\"path\":\"my.xlsx\"}]}", StringComparison.Ordinal))).IsNothing);
    }
}

public sealed class ImportLaws
{
    [Property(MaxTest = 100)]
    public bool Rows_in_another_order_are_nothing_to_do(int[] numbers, int seed)
    {
        var rows = numbers.Select(n => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"T1,{Math.Abs((long)n) % 2},{Math.Abs((long)n) / 2 % 2},intact,{n}")).ToArray();
        var visits = rows.Prepend("transect,nest,day,finding,note");
        var journal = new MemoryJournal();
        journal.Take(SmallSeason.Of("transect,nest,cover", string.Join('\n', visits)));
        var shuffled = rows.OrderBy(r => unchecked((uint)RowDigest.Hash(r) ^ (uint)seed) % 97).Prepend("transect,nest,day,finding,note");
        return journal.Compare(SmallSeason.Of("transect,nest,cover", string.Join('\n', shuffled))).IsNothing;
    }

    [Property(MaxTest = 100)]
    public bool What_comes_out_goes_in_again_as_nothing_to_do(string[] cells)
    {
        // Cells of any text, but for the marks that the tests' own splitting uses.
        var rows = cells.Select((c, i) => new RecordRow(i + 2, ["T1", (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), Whole(c), Whole(c)])).ToImmutableArray();
        var season = SmallSeason.Of("transect,nest,cover");
        season = season with { Tables = [.. season.Tables.Where(t => t.Kind != RecordKind.Nests), new RecordTable(RecordKind.Nests, ["transect", "nest", "cover", "##x"], rows)] };
        var journal = new MemoryJournal();
        journal.Take(season);
        var back = journal.Tables(season);
        return journal.Compare(back).IsNothing && back.Table(RecordKind.Nests)!.Rows.Select(r => r.Cells[..4]).Zip(rows).All(p => p.First.SequenceEqual(p.Second.Cells));
    }

    /// <summary>Halves of characters can't be in a file of UTF-8.</summary>
    private static string Whole(string? text) => new([.. (text ?? "").Where(c => !char.IsSurrogate(c))]);
}
