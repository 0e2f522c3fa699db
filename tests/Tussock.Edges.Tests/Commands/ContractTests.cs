using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>The document of results on the edges of what a season can be: always whole, never a number that is none.</summary>
public class ContractTests
{
    private static readonly string[] Whole = ["intact", "intact", "intact", "intact"];
    private static readonly string[] Lost = ["depredated", "depredated", "depredated", "depredated"];
    private static readonly string[] Mixed = ["intact", "depredated", "intact", "other_loss"];

    private static readonly Dictionary<string, (MadeFolder Season, double Nests, double Known, double Intact)> Edges = new(StringComparer.Ordinal)
    {
        ["all survive"] = (new MadeFolder().Line("1", Whole).Line("2", Whole, 9).Line("3", Whole).Line("4", Whole), 16, 16, 16),
        ["none survive"] = (new MadeFolder().Line("1", Lost).Line("2", Lost, 9).Line("3", Lost).Line("4", Lost), 16, 16, 0),
        ["one line"] = (new MadeFolder().Line("1", Mixed), 4, 4, 2),
        ["one nest"] = (new MadeFolder().Line("1", ["intact"]), 1, 1, 1),
        ["no visits at all"] = (new MadeFolder().Line("1", ["", "", ""]).Line("2", ["", ""], 0), 5, 0, 0),
        ["none could be found"] = (new MadeFolder().Line("1", ["not_relocated", "not_relocated"]).Line("2", ["not_relocated"]), 3, 0, 0),
        ["only planned"] = (new MadeFolder().Line("1", ["", ""], null, setOn: "").Line("2", [""], null, setOn: ""), 0, 0, 0),
        ["no belts"] = (new MadeFolder().Line("1", Mixed, null).Line("2", Mixed, null), 8, 8, 4),
        ["no clump anywhere"] = (new MadeFolder().Line("1", Mixed, 0).Line("2", Mixed, 0), 8, 8, 4),
        ["one cover class"] = (new MadeFolder { Classes = """[{"name":"bunchgrass","role":"grass"}]""" }.Line("1", Mixed).Line("2", Whole), 8, 8, 6),
        ["extra nests only"] = (new MadeFolder().Line("1", Mixed, status: "extra"), 0, 0, 0),
        ["stations without a clump only"] = (new MadeFolder().Line("1", ["", ""], 0, status: "no_clump"), 0, 0, 0),
        ["a pasture without transects"] = (new MadeFolder().Pasture("North").Line("1", Mixed).Line("2", Lost), 8, 8, 2),
        ["nothing but a pasture"] = (new MadeFolder(), 0, 0, 0),
    };

    public static TheoryData<string> Names => [.. Edges.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_key_is_there_and_every_missing_number_says_why(string edge)
    {
        using var scratch = new ScratchFolder();
        var (season, nests, known, intact) = Edges[edge];
        var folder = season.Write(scratch.At("season"));

        var results = Typed.Results(folder);

        Assert.Empty(Contract.Breaches(results));
        var group = results.Group("season");
        Assert.Equal((nests, known, intact), (group.Number("nests"), group.Number("fate_known"), group.Number("intact")));
        Assert.Equal(known > 0, group.Number("survival/day28/estimate") is not null);
        Assert.Equal(0, Typed.Run("results", folder).Exit);
        Assert.Equal(0, Typed.Run("inspect", folder).Exit);
        Assert.DoesNotContain("NaN", Typed.Done("results", folder).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_that_is_gone_and_a_null_without_a_reason_are_breaches()
    {
        var text = Typed.ResultsText(Corpus.Folder("scenes/road-out"));

        Assert.Empty(Contract.Breaches(Typed.Json(text)));
        Assert.Contains("/parity_density is missing", Contract.Breaches(Typed.Json(text.Replace("\"parity_density\"", "\"parity\"", StringComparison.Ordinal))));
        Assert.NotEmpty(Contract.Breaches(Typed.Json(text.Replace("\"why\":", "\"because\":", StringComparison.Ordinal))));
        Assert.NotEmpty(Contract.Breaches(Typed.Json(text.Replace("_why\":", "_because\":", StringComparison.Ordinal))));
    }

    [Fact]
    public void Planned_nests_are_told_and_counted_nowhere()
    {
        using var scratch = new ScratchFolder();
        var results = Typed.Results(new MadeFolder().Line("1", Mixed).Line("2", ["", "", ""], null, setOn: "").Write(scratch.At("season")));

        Assert.Equal((3, 4), (results.Number("planned_nests"), results.Group("season").Number("nests")));
    }
}
