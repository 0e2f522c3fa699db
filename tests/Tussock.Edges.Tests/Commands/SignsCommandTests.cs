using System.Text.Json;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>tussock signs</c> on a command line: its document, its sentences, what it refuses.</summary>
public sealed class SignsCommandTests : IDisposable
{
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    private static string Text(string data, params string[] more) => Typed.Done(["signs", data, "--json", "--at", Typed.At, .. more]).Out;

    private static JsonElement Signs(string data, params string[] more) => Typed.Json(Text(data, more));

    [Theory]
    [InlineData("demo")]
    [InlineData("scenes/tailgate")]
    public void Every_key_is_there_and_in_the_page_and_beliefs_add_up(string data)
    {
        var signs = Signs(data == "demo" ? data : Corpus.Folder(data));
        Assert.Empty(Contract.Breaches(signs, "signs-1.json"));
        Assert.All(signs.GetProperty("nests").EnumerateArray(), n => Assert.Equal(1, n.GetProperty("belief").EnumerateObject().Sum(c => c.Value.GetDouble()), 1e-9));
        var page = File.ReadAllText(Path.Combine(Path.GetDirectoryName(Checks.Tests)!, "docs", "signs.md"));
        Assert.All(Keys(signs).Except(signs.GetProperty("nests").EnumerateArray().SelectMany(n => n.GetProperty("belief").EnumerateObject().Select(c => c.Name))), key => Assert.Matches("`" + key + "`", page));
    }

    [Fact]
    public void Losses_without_remains_and_of_unknown_fortnight_stay_in_the_count()
    {
        var signs = Signs("demo");
        var nests = signs.GetProperty("nests").EnumerateArray().ToArray();
        Assert.Contains(nests, n => n.Number("signs_read") == 0);
        foreach (var level in new[] { "season", "property", "pasture", "cover", "fortnight" })
        {
            var groups = signs.GetProperty("composition").EnumerateArray().Where(c => c.Text("level") == level && c.Text("class") == "skunk");
            Assert.Equal(nests.Length, groups.Sum(g => g.Number("losses")));
        }
    }

    [Fact]
    public void Beliefs_and_shares_are_those_of_results()
    {
        var (signs, results) = (Signs("demo"), Typed.Results("demo").GetProperty("culprits"));
        static IEnumerable<double> Beliefs(JsonElement nests) => nests.EnumerateArray().SelectMany(n => n.GetProperty("belief").EnumerateObject().Select(c => c.Value.GetDouble()));
        Assert.Equal(Beliefs(results.GetProperty("nests")), Beliefs(signs.GetProperty("nests")));
        Assert.Equal(results.GetProperty("composition")[0].GetProperty("share").Number("estimate"), signs.GetProperty("composition")[0].GetProperty("share").Number("estimate"));
    }

    [Fact]
    public void The_same_seed_gives_the_same_bytes()
    {
        Assert.Equal(Text("demo"), Text("demo", "--seed", "1"));
        Assert.NotEqual(Text("demo"), Text("demo", "--seed", "2"));
    }

    [Fact]
    public void Other_seasons_of_a_data_file_teach_and_years_are_held_side_by_side()
    {
        var (first, second, data) = (scratch.At("one"), scratch.At("two"), scratch.At("data.tussock"));
        Typed.Done("demo", first);
        Typed.Done("demo", second, "--seed", "2");
        var package = Path.Combine(second, "datapackage.json");
        File.WriteAllText(package, File.ReadAllText(package).Replace("invented-2026", "invented-2027", StringComparison.Ordinal).Replace("\"2026\"", "\"2027\"", StringComparison.Ordinal));
        Typed.Done("import", data, first);
        Typed.Done("import", data, second);
        Assert.Equal(1, Typed.Run("signs", data).Exit);
        var (alone, beside) = (Signs(first), Signs(data, "--season", "invented-2026"));
        Assert.Equal("invented-2027", beside.GetProperty("other_seasons")[0].GetString());
        Assert.True(beside.Number("learning/nests_of_other_seasons") > 0);
        Assert.NotEqual(alone.GetProperty("nests")[0].GetProperty("belief").GetRawText(), beside.GetProperty("nests")[0].GetProperty("belief").GetRawText());
        string[] Years(JsonElement signs) => [.. signs.GetProperty("composition").EnumerateArray().Where(c => c.Text("level") == "year").Select(c => c.Text("name")!).Distinct()];
        Assert.Equal(["2026", "2027"], Years(beside));
        Assert.Equal(["2026", "2027"], Years(Signs(data, "--season", "all")));
        Assert.Contains(beside.GetProperty("differences").EnumerateArray(), d => d.Text("level") == "year" && d.Text("against") == "2026");
    }

    [Theory]
    [InlineData("en", "moved", "not on the list")]
    [InlineData("es", "acercó", "no está en la lista")]
    public void The_page_says_in_both_languages_why_and_never_one_name_alone(string language, string said, string unlisted)
    {
        var text = Typed.Done("signs", "demo", "--language", language).Out;
        Assert.Contains(said, text, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        var nests = text.Split('\n').Where(l => l.StartsWith("C1-", StringComparison.Ordinal)).ToArray();
        Assert.NotEmpty(nests);
        Assert.All(nests, l => Assert.Contains(unlisted, l, StringComparison.Ordinal));
        Assert.All(nests, l => Assert.True(l.Split('%').Length > 4, l));
        Assert.DoesNotContain("100 %", string.Concat(nests), StringComparison.Ordinal);
    }

    [Fact]
    public void The_catalogue_is_printed_with_its_sources_and_needs_no_data()
    {
        var text = Typed.Done("signs", "--catalogue").Out;
        Assert.Contains("common practice, no source", text, StringComparison.Ordinal);
        Assert.Contains("Sargeant", text, StringComparison.Ordinal);
        var document = Typed.Json(Typed.Done("signs", "--catalogue", "--json").Out);
        Assert.Equal("sign-catalogue/1", document.Text("contract"));
        Assert.All(document.GetProperty("rules").EnumerateArray(), r => Assert.NotEqual("", r.Text("source")));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(2, "demo", "--catalogue")]
    [InlineData(1, "no-such-place")]
    public void What_can_not_be_is_refused(int exit, params string[] args)
    {
        var run = Typed.Run(["signs", .. args]);
        Assert.Equal((exit, ""), (run.Exit, run.Out));
        Assert.NotEmpty(run.Err);
    }

    private static IEnumerable<string> Keys(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => Keys(p.Value).Prepend(p.Name)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Keys),
        _ => [],
    };
}
