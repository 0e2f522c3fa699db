using System.Text.Json;
using Tussock.Exchange.SeasonFolder;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>Every folder of <c>corpus/broken</c> gives exactly the problems beside it.</summary>
public class BrokenFolderTests
{
    public static TheoryData<string> Names => [.. Corpus.Names("broken")];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_broken_folder_gives_its_expected_problems_and_no_others(string name)
    {
        var expected = JsonDocument.Parse(File.ReadAllText(Path.Combine(Corpus.Folder("broken/" + name), "expected.json"))).RootElement;

        var (season, problems) = SeasonFolderReader.ReadSeason(Season(name), TestContext.Current.CancellationToken);

        Assert.Equal(
            expected.EnumerateArray().Select(e => Line(Text(e, "file"), e.GetProperty("line").ValueKind == JsonValueKind.Null ? null : e.GetProperty("line").GetInt32(), Text(e, "column"), Text(e, "rule"))),
            problems.Select(p => Line(p.Place.File, p.Place.Line, p.Place.Column, p.Rule)));
        foreach (var (e, p) in expected.EnumerateArray().Zip(problems)) Assert.Contains(Text(e, "contains")!, Catalogue.English.Say(p.What), StringComparison.Ordinal);
        Assert.All(problems, p => Assert.EndsWith(".", Catalogue.English.Say(p.ToDo), StringComparison.Ordinal));
        Assert.Equal(problems.All(p => p.Severity == Severity.Note), season is not null);
    }

    [Fact]
    public void A_folder_without_problems_is_the_whole_season_however_it_was_saved()
    {
        var whole = SeasonFolderReader.Read(Season("000-whole"), TestContext.Current.CancellationToken).Tables!;
        var readable = Names.Select(n => n.Data).Where(n => File.ReadAllText(Path.Combine(Corpus.Folder("broken/" + n), "expected.json")).Trim() == "[]").ToList();

        Assert.True(readable.Count >= 8);
        Assert.All(readable, n => Assert.Equal(SameTables.ShownWithoutList(whole), SameTables.ShownWithoutList(SeasonFolderReader.Read(Season(n), TestContext.Current.CancellationToken).Tables!)));
    }

    [Fact]
    public void Every_sentence_of_the_reader_has_its_advice()
    {
        var keys = Catalogue.English.Keys.Where(k => k.StartsWith("folder.", StringComparison.Ordinal) && !k.StartsWith("folder.separator_", StringComparison.Ordinal)).ToList();

        Assert.All(keys.Where(k => !k.EndsWith("_todo", StringComparison.Ordinal)), k => Assert.Contains(k + "_todo", keys));
    }

    private static string Season(string name) => Path.Combine(Corpus.Folder("broken/" + name), "season");

    private static string Line(string? file, int? line, string? column, string? rule) => $"{file}:{line} {column} {rule}";

    private static string? Text(JsonElement e, string name) => e.GetProperty(name).GetString();
}
