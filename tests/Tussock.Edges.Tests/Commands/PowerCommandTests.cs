using System.Text.Json;
using System.Text.RegularExpressions;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>tussock power</c> on a command line: its document, its sentences, what it refuses.</summary>
public partial class PowerCommandTests
{
    private static readonly string[] Design = ["--transects", "6", "--nests", "8", "--survival", "0.3", "--transect-sd", "0.5", "--seasons", "30"];

    private static JsonElement Power(params string[] more) => Typed.Json(Typed.Done(["power", .. Design, "--json", .. more]).Out);

    [Theory]
    [InlineData("")]
    [InlineData("--clumps-per-acre 400 --density-cv 0.4 --curves --designs --needed --against 0.5")]
    [InlineData("--pastures 3 --not-relocated 0.1 --lost-not-relocated 0.2 --late-days 3 --early-share 0.8")]
    [InlineData("--cover-ratio 9 --benchmark 0.3 --certainty 0.8")]
    public void Every_key_is_there_in_the_page_and_chances_add_up(string more)
    {
        var power = Power(more.Split(' ', StringSplitOptions.RemoveEmptyEntries));

        Assert.Empty(Contract.Breaches(power, "power-1.json"));
        var chances = power.GetProperty("chance_of");
        var hasDensity = power.At("truth/clumps_per_acre").ValueKind == JsonValueKind.Number;
        string[] together = hasDensity ? ["good", "cover_limited", "losses_despite_cover", "survival_good_cover_thin", "not_enough_data"] : ["survival_likely", "survival_unlikely", "not_enough_data"];
        Assert.Equal(1, together.Sum(name => chances.GetProperty(name).GetDouble()), 1e-9);
        var page = File.ReadAllText(Path.Combine(Path.GetDirectoryName(Checks.Tests)!, "docs", "power.md"));
        Assert.All(Keys(power), key => Assert.Matches("`" + key + "`", page));
    }

    [Fact]
    public void The_same_seed_gives_the_same_document_but_for_the_seconds()
    {
        string Text(string seed) => Seconds().Replace(Typed.Done(["power", .. Design, "--json", "--seed", seed]).Out, "");
        Assert.Equal(Text("5"), Text("5"));
        Assert.NotEqual(Text("5"), Text("6"));
    }

    [Theory]
    [InlineData("en", "transects", "No")]
    [InlineData("es", "transectos", "Not")]
    public void It_says_in_both_languages_what_to_think_of_it(string language, string said, string unsaid)
    {
        var text = Typed.Done(["power", .. Design, "--language", language, "--clumps-per-acre", "450", "--needed", "--designs", "--curves", "--against", "0.5"]).Out;
        Assert.Contains(said, text, StringComparison.Ordinal);
        Assert.DoesNotContain(unsaid + " asked", text, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "--survival", "1.2")]
    [InlineData(1, "--transect-sd", "-1")]
    [InlineData(1, "--transects", "0")]
    [InlineData(1, "--seasons", "0")]
    [InlineData(1, "--cover-ratio", "0")]
    [InlineData(1, "--against", "7")]
    [InlineData(1, "--certainty", "0.2")]
    [InlineData(2, "--nests", "many")]
    public void What_can_not_be_is_refused_with_what_was_found(int exit, string option, string value)
    {
        string[] usual = ["--transects", "6", "--nests", "8", "--survival", "0.3", "--seasons", "10"];
        var at = Array.IndexOf(usual, option);
        string[] args = at < 0 ? [.. usual, option, value] : [.. usual[..at], option, value, .. usual[(at + 2)..]];
        var run = Typed.Run(["power", .. args]);
        Assert.Equal(exit, run.Exit);
        Assert.Empty(run.Out);
        Assert.Contains(value, run.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_survival_it_asks_for_one_and_earlier_seasons_give_it()
    {
        string[] bare = ["power", "--transects", "6", "--nests", "8", "--seasons", "10"];
        Assert.Contains("--survival", Typed.Run(bare) is { Exit: 1, Err: var said } ? said : "", StringComparison.Ordinal);
        var power = Typed.Json(Typed.Done([.. bare, "--from", "demo", "--json"]).Out);
        Assert.Equal(power.Number("truth/survival"), power.GetProperty("earlier_seasons")[0].Number("survival"));
        Assert.Equal(power.Number("truth/transect_sd"), power.GetProperty("earlier_seasons")[0].Number("transect_sd"));
        Assert.Contains("clumps an acre", Typed.Done([.. bare, "--from", "demo"]).Out, StringComparison.Ordinal);
        Assert.Equal(1, Typed.Run([.. bare, "--from", "nowhere.db"]).Exit);
    }

    [Fact]
    public void The_picture_is_written()
    {
        using var scratch = new ScratchFolder();
        var file = scratch.At("calls.svg");
        Typed.Done(["power", .. Design, "--clumps-per-acre", "450", "--picture", file]);
        var svg = File.ReadAllText(file);
        Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
        Assert.Equal(6, svg.Split("<polyline").Length - 1);
        Assert.Equal([file], Directory.GetFiles(scratch.At("")));
    }

    private static IEnumerable<string> Keys(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => Keys(p.Value).Prepend(p.Name)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Keys),
        _ => [],
    };

    [GeneratedRegex("\"seconds\".*")]
    private static partial Regex Seconds();
}
