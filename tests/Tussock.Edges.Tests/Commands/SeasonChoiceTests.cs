using System.Text.Json.Nodes;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>--season</c>: one of several, all together, and what is said of a choice that can't be.</summary>
public sealed class SeasonChoiceTests : IDisposable
{
    private readonly ScratchFolder scratch = new();

    public SeasonChoiceTests()
    {
        foreach (var year in (string[])["2024", "2025"]) Typed.Done("import", Data, Folder(year));
    }

    private string Data => scratch.At("season.db");

    public void Dispose() => scratch.Dispose();

    [Fact]
    public void All_seasons_are_pooled_with_groups_by_year_and_one_of_them_is_what_its_folder_says()
    {
        var all = Typed.Results(Data, "--season", "all");
        Assert.Equal(["2024", "2025"], all.At("pooled/years").EnumerateArray().Select(y => y.GetString()));
        foreach (var year in (string[])["2024", "2025"])
        {
            var alone = Typed.Results(Data, "--season", year).Group("season");
            Assert.Equal(alone.Number("nests"), all.Group("year", year).Number("nests"));
            Assert.Equal(alone.Number("survival/day28/low"), all.Group("year", year).Number("survival/day28/low"));
            Assert.Equal(Typed.ResultsText(scratch.At(year)), Typed.ResultsText(Data, "--season", year));
        }

        Assert.Equal(all.Group("season").Number("nests"), all.Group("year", "2024").Number("nests") + all.Group("year", "2025").Number("nests"));
        Assert.Equal("all", all.At("season").Text("name"));
        Assert.Contains("2024, 2025, pooled", Typed.Done("results", Data, "--season", "all").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Model_report_and_inspect_take_all()
    {
        var model = Typed.Json(Typed.Done("model", Data, "--season", "all", "--effects", "year", "--json").Out);
        Assert.Contains("year = 2025", model.GetProperty("effects").EnumerateArray().Select(e => e.Text("name")));
        Typed.Done("report", Data, "--season", "all", "--out", scratch.At("report"), "--at", Typed.At);
        Assert.Contains("2024, 2025, pooled", File.ReadAllText(Path.Combine(scratch.At("report"), "technical.html")), StringComparison.Ordinal);
        var findings = Typed.Findings(Data, "--season", "all");
        Assert.Equal(Typed.Findings(Data, "--season", "2024").Count + Typed.Findings(Data, "--season", "2025").Count, findings.Count(f => f.Text("rule") != "pooling"));
        Assert.All(findings.Where(f => f.Text("rule") != "pooling"), f => Assert.Matches("^202[45]/", f.Text("file")));
    }

    [Theory]
    [InlineData("results {data} --season 1999", "2024, 2025")]
    [InlineData("results {data}", "2024, 2025")]
    [InlineData("inspect {data} --season 1999", "1999")]
    [InlineData("results {folder} --season all", "one season")]
    [InlineData("model {folder} --season all", "one season")]
    [InlineData("report {folder} --season all --out x", "one season")]
    [InlineData("results demo --season all", "one season")]
    [InlineData("export {data} elsewhere --season all", "results, model, report and inspect")]
    [InlineData("sheets {data} --season all --out x", "results, model, report and inspect")]
    [InlineData("results no-such-file.db --season all", "no-such-file.db")]
    public void A_choice_that_cannot_be_is_told_and_ends_with_1(string typed, string said)
    {
        var run = Typed.Run([.. typed.Split(' ').Select(a => a.Replace("{data}", Data, StringComparison.Ordinal).Replace("{folder}", scratch.At("2024"), StringComparison.Ordinal))]);
        Assert.Equal(1, run.Exit);
        Assert.Contains(said, run.Err + run.Out, StringComparison.Ordinal);
    }

    private string Folder(string year)
    {
        var folder = scratch.At(year);
        Typed.Done("demo", folder);
        var path = Path.Combine(folder, "datapackage.json");
        var package = JsonNode.Parse(File.ReadAllText(path))!;
        (package["season"]!["name"], package["season"]!["year"]) = (year, year);
        File.WriteAllText(path, package.ToJsonString());
        return folder;
    }
}
