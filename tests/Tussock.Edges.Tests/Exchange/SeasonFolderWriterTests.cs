using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Exchange;

public sealed class SeasonFolderWriterTests : IDisposable
{
    private static readonly string Whole = Path.Combine(Corpus.Folder("broken/000-whole"), "season");
    private readonly ScratchFolder scratch = new();

    public static TheoryData<string> ReferenceSeasons => [.. Directory.GetFiles(Checks.Folder("reference-seasons"), "datapackage.json", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(Checks.Folder("reference-seasons"), Path.GetDirectoryName(f)!))];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => scratch.Dispose();

    [Theory]
    [MemberData(nameof(ReferenceSeasons))]
    public void A_season_read_and_written_again_has_the_same_tables_byte_for_byte(string name)
    {
        var from = Path.Combine(Checks.Folder("reference-seasons"), name);
        var tables = Tables(from);

        Assert.Empty(SeasonFolderWriter.Write(tables, scratch.At("out"), cancel: Token));

        foreach (var file in Directory.GetFiles(from, "*.csv")) Assert.Equal(File.ReadAllBytes(file), File.ReadAllBytes(Path.Combine(scratch.At("out"), Path.GetFileName(file))));
        Assert.Equal(SameTables.Shown(tables), SameTables.Shown(Tables(scratch.At("out"))));
    }

    [Fact]
    public void Every_kind_of_table_comes_back_with_all_its_columns_unknown_ones_ids_and_order()
    {
        var tables = EveryKind();

        Assert.Empty(SeasonFolderWriter.Write(tables, scratch.At("out"), cancel: Token));

        Assert.Equal(SameTables.ShownWithoutList(tables), SameTables.ShownWithoutList(Tables(scratch.At("out"))));
        Assert.Equal(RecordKind.All.Length, Tables(scratch.At("out")).Package.Resources.Length);
    }

    [Fact]
    public void Cells_are_quoted_only_where_they_must_be()
    {
        var table = new RecordTable(RecordKind.Plants, ["plant", "note"], [Row("a;b 'c'  ", "x,y"), Row("5\" tall", ""), Row("two\nlines", " "), Row("\uFEFFmark", "naïve")]);

        SeasonFolderWriter.Write(Tables(Whole) with { Tables = [table] }, scratch.At("out"), cancel: Token);

        Assert.Equal("plant,note\na;b 'c'  ,\"x,y\"\n\"5\"\" tall\",\n\"two\nlines\", \n\"\uFEFFmark\",naïve\n", File.ReadAllText(Path.Combine(scratch.At("out"), "plants.csv")));
    }

    [Theory]
    [InlineData("1.0")]
    [InlineData("2.0")]
    public void The_description_is_valid_for_the_standard(string version)
    {
        SeasonFolderWriter.Write(EveryKind(), scratch.At("out"), cancel: Token);
        var description = JsonNode.Parse(File.ReadAllText(Path.Combine(scratch.At("out"), "datapackage.json")))!;
        var schema = JsonSchema.FromText(Checks.Read("datapackage-profiles", version + "/datapackage.json"));

        var result = schema.Evaluate(description, new EvaluationOptions { OutputFormat = OutputFormat.List });

        Assert.True(result.IsValid, string.Join('\n', result.Details.Where(d => d.HasErrors).Select(d => d.InstanceLocation + ": " + string.Join("; ", d.Errors!.Values))));
        description["resources"]![0]!["schema"]!["fields"]![0]!["type"] = "nonsense";
        Assert.False(schema.Evaluate(description).IsValid);
    }

    [Fact]
    public void A_given_resource_stays_a_missing_one_is_added_and_one_without_its_file_goes()
    {
        var whole = Tables(Whole);
        var given = whole with { Package = whole.Package with { Resources = ["""{"name":"nests","path":"nests.csv","title":"The nests"}""", """{"name":"gone","path":"gone.csv"}"""] } };

        SeasonFolderWriter.Write(given, scratch.At("out"), cancel: Token);

        var resources = Tables(scratch.At("out")).Package.Resources.Select(r => JsonDocument.Parse(r).RootElement).ToList();
        Assert.Equal(["nests", "pastures", "transects", "visits", "remains"], resources.Select(r => r.GetProperty("name").GetString()));
        Assert.Equal("The nests", resources[0].GetProperty("title").GetString());
        Assert.False(resources[0].TryGetProperty("schema", out _));
        Assert.Equal(whole.Table(RecordKind.Visits)!.Columns, resources[3].GetProperty("schema").GetProperty("fields").EnumerateArray().Select(f => f.GetProperty("name").GetString()));
    }

    [Fact]
    public void A_column_is_described_no_more_narrowly_than_its_cells_are_written()
    {
        var visits = new RecordTable(RecordKind.Visits, ["finding", "eggs_intact", "day_assumed"], [Row("Not relocated", "3.0", "Yes")]);
        var plain = new RecordTable(RecordKind.Visits, ["finding", "eggs_intact", "day_assumed"], [Row("not_relocated", "3", "yes")]);

        Assert.Equal(["string", "string", "string"], Types(visits));
        Assert.Equal(["string", "integer", "boolean"], Types(plain));
        Assert.Null(TableSchema.Of(visits)["fields"]![0]!["constraints"]?["enum"]);
        Assert.NotNull(TableSchema.Of(plain)["fields"]![0]!["constraints"]?["enum"]);
    }

    [Fact]
    public void A_folder_that_holds_anything_is_not_overwritten_unless_asked()
    {
        var folder = scratch.Copy(Whole, "season");
        var before = Seen(folder);

        Assert.Equal("target_taken", Assert.Single(SeasonFolderWriter.Write(EveryKind(), folder, cancel: Token)).Rule);

        Assert.Equal(before, Seen(folder));
        Assert.Equal(["season"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void An_empty_folder_is_written_into()
    {
        Directory.CreateDirectory(scratch.At("empty"));

        Assert.Empty(SeasonFolderWriter.Write(Tables(Whole), scratch.At("empty") + "/", cancel: Token));

        Assert.Empty(SeasonFolderReader.ReadSeason(scratch.At("empty"), Token).Problems);
        Assert.Equal(["empty"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName));
    }

    [Theory]
    [InlineData(false, "target_taken")]
    [InlineData(true, "target_foreign")]
    public void A_folder_without_a_season_is_never_replaced(bool overwrite, string rule)
    {
        Directory.CreateDirectory(scratch.At("home"));
        File.WriteAllText(Path.Combine(scratch.At("home"), "letter.txt"), "Dear");

        Assert.Equal(rule, Assert.Single(SeasonFolderWriter.Write(Tables(Whole), scratch.At("home"), overwrite, Token)).Rule);
        Assert.Equal("Dear", File.ReadAllText(Path.Combine(scratch.At("home"), "letter.txt")));
    }

    [Fact]
    public void A_file_or_the_root_is_no_place_for_a_season()
    {
        File.WriteAllText(scratch.At("file"), "x");

        Assert.Equal("target_no_folder", Assert.Single(SeasonFolderWriter.Write(Tables(Whole), scratch.At("file"), true, Token)).Rule);
        Assert.Equal("target_root", Assert.Single(SeasonFolderWriter.Write(Tables(Whole), Path.GetPathRoot(scratch.Folder)!, true, Token)).Rule);
    }

    [Fact]
    public void Overwriting_replaces_the_season_and_keeps_what_else_lies_there()
    {
        var folder = scratch.Copy(Whole, "season");
        Directory.CreateDirectory(Path.Combine(folder, "media"));
        File.WriteAllText(Path.Combine(folder, "media", "visits.csv"), "a photo with an odd name");
        File.CreateSymbolicLink(Path.Combine(folder, "link.txt"), "media/visits.csv");
        File.WriteAllText(Path.Combine(folder, "zones.geojson"), "{}");
        var less = Tables(Whole) with { Tables = [.. Tables(Whole).Tables.Where(t => t.Kind.IsRequired)] };

        Assert.Empty(SeasonFolderWriter.Write(less, folder, true, Token));

        Assert.Equal("a photo with an odd name", File.ReadAllText(Path.Combine(folder, "link.txt")));
        Assert.False(File.Exists(Path.Combine(folder, "remains.csv")));
        Assert.False(File.Exists(Path.Combine(folder, "zones.geojson")));
        Assert.Equal(["season"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName));
        Assert.Empty(SeasonFolderReader.ReadSeason(folder, Token).Problems);
    }

    [Fact]
    public void A_linked_folder_stays_a_link()
    {
        scratch.Copy(Whole, "season");
        Directory.CreateSymbolicLink(scratch.At("link"), "season");

        Assert.Empty(SeasonFolderWriter.Write(EveryKind(), scratch.At("link"), true, Token));

        Assert.Equal("season", new DirectoryInfo(scratch.At("link")).LinkTarget);
        Assert.Equal(RecordKind.All.Length, Tables(scratch.At("season")).Tables.Length);
    }

    [Fact]
    public void A_link_that_leads_round_in_a_circle_is_no_place_for_a_season()
    {
        Directory.CreateSymbolicLink(scratch.At("a"), "b");
        Directory.CreateSymbolicLink(scratch.At("b"), "a");

        Assert.Equal("target_no_folder", Assert.Single(SeasonFolderWriter.Write(Tables(Whole), scratch.At("a"), true, Token)).Rule);
        Assert.Equal(["no_folder"], SeasonFolderReader.Read(scratch.At("a"), Token).Problems.Select(p => p.Rule));
    }

    [Fact]
    public void A_text_of_an_unknown_name_is_the_caller_s_mistake() =>
        Assert.Throws<ArgumentException>(() => SeasonFolderWriter.Write(Tables(Whole) with { Texts = Tables(Whole).Texts.Add("../x", "") }, scratch.At("out"), cancel: Token));

    [Fact]
    public void Half_a_character_is_refused_and_leaves_nothing_behind()
    {
        var table = new RecordTable(RecordKind.Plants, ["plant"], [Row("\ud800")]);

        Assert.ThrowsAny<ArgumentException>(() => SeasonFolderWriter.Write(Tables(Whole) with { Tables = [table] }, scratch.At("out"), cancel: Token));
        Assert.Empty(Directory.GetFileSystemEntries(scratch.Folder));
    }

    internal static SeasonTables Tables(string folder)
    {
        var (tables, problems) = SeasonFolderReader.Read(folder, Token);
        Assert.DoesNotContain(problems, p => p.Severity == Severity.Stop);
        return tables!;
    }

    internal static SeasonTables EveryKind()
    {
        var cells = new[] { "plain", "", "with, comma", "with \"quotes\"", "two\nlines", "two\r\nlines", "two\rlines", " blanks ", "\"", "naïve 🦝", "-", "\uFEFF" };
        var tables = RecordKind.All.Select((kind, k) =>
        {
            ImmutableArray<string> columns = ["own, \"column\"", .. kind.Columns.Reverse().Select(c => c.Name), "id", " other "];
            return new RecordTable(kind, columns, [.. Enumerable.Range(0, 20).Select(r => Row([.. columns.Select((_, c) => c == 0 ? "x" : cells[((r * 7) + (c * 5) + k) % cells.Length])]))]);
        });
        var package = SeasonPackage.Parse(File.ReadAllText(Path.Combine(Whole, "datapackage.json")));
        var texts = ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal).Add("changes.jsonl", "{\"a\":1}\r\n{\"b\":\"é\"}\n").Add("pastures.geojson", "{}").Add("signs.json", "[]").Add("zones.geojson", "");
        return new SeasonTables(package with { Resources = [] }, [.. tables], texts);
    }

    internal static string Seen(string folder) =>
        string.Join('\n', Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(f => Path.GetRelativePath(folder, f) + ": " + File.ReadAllText(f)));

    private static RecordRow Row(params string[] cells) => new(0, [.. cells]);

    private static IEnumerable<string?> Types(RecordTable table) => TableSchema.Of(table)["fields"]!.AsArray().Select(f => (string?)f!["type"]);
}
