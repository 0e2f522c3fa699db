using System.Text.Json;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>tussock model</c> on a command line: its document, its sentences, what it refuses.</summary>
public class ModelCommandTests
{
    private static readonly string[] Whole = ["intact", "intact", "intact", "intact"];
    private static readonly string[] Lost = ["depredated", "depredated", "depredated", "depredated"];
    private static readonly string[] Mixed = ["intact", "depredated", "intact", "other_loss"];

    private static readonly Dictionary<string, MadeFolder> Edges = new(StringComparer.Ordinal)
    {
        ["mixed"] = new MadeFolder().Line("1", Mixed).Line("2", Whole, 9).Line("3", Mixed, 30),
        ["all survive"] = new MadeFolder().Line("1", Whole).Line("2", Whole, 9),
        ["none survive"] = new MadeFolder().Line("1", Lost).Line("2", Lost, 9),
        ["one line"] = new MadeFolder().Line("1", Mixed),
        ["one nest"] = new MadeFolder().Line("1", ["intact"]),
        ["one cover class"] = new MadeFolder { Classes = """[{"name":"bunchgrass","role":"grass"}]""" }.Line("1", Mixed).Line("2", Whole),
        ["no belts"] = new MadeFolder().Line("1", Mixed, null).Line("2", Mixed, null),
    };

    public static TheoryData<string> Names => [.. Edges.Keys];

    private static string Reference(string set, string folder = "season") => Path.Combine(Checks.Folder("reference-seasons"), set, folder);

    private static JsonElement Model(string data, params string[] more) => Typed.Json(Typed.Done(["model", data, "--json", .. more]).Out);

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_key_is_there_and_every_missing_number_says_why(string edge)
    {
        using var scratch = new ScratchFolder();
        var folder = Edges[edge].Write(scratch.At("season"));
        foreach (var more in new[] { "", "--compare", "--effects fortnight", "--link log-hazard", "--profile", "--outcome predation", "--fit-check --resamples 19" })
        {
            string[] options = more.Length == 0 ? [] : more.Split(' ');
            var model = Model(folder, options);

            Assert.Empty(Contract.Breaches(model, "model-1.json"));
            Assert.All(model.GetProperty("effects").EnumerateArray().SelectMany(e => e.GetProperty("cluster_robust") is { ValueKind: JsonValueKind.Object } robust ? [e, robust] : new[] { e }), e => Assert.True(e.Number("low") is not null && e.Number("high") is not null || e.Text("why")!.Length > 3, e.GetRawText()));
            var text = Typed.Done(["model", folder, .. options]).Out;
            Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
            Assert.DoesNotContain("∞", text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Groups_are_fitted_or_refused_with_a_reason(string edge)
    {
        using var scratch = new ScratchFolder();
        var folder = Edges[edge].Write(scratch.At("season"));
        foreach (var random in new[] { "transect", "pasture", "pasture,transect" })
        {
            var run = Typed.Run("model", folder, "--json", "--random", random);
            if (run.Exit == 0) Assert.Empty(Contract.Breaches(Typed.Json(run.Out), "model-1.json"));
            else Assert.True(run is { Exit: 1, Out.Length: 0, Err.Length: > 20 }, run.Err);
        }
    }

    [Theory]
    [InlineData("transect", 9.0)]
    [InlineData("pasture", 9.0)]
    [InlineData("pasture,transect", 1.0)]
    public void Groups_are_named_with_their_number_and_survival_is_given_averaged_over_them(string random, double nodes)
    {
        var model = Model("demo", "--random", random);
        Assert.Empty(Contract.Breaches(model, "model-1.json"));
        Assert.Equal(random.Split(',').Order(StringComparer.Ordinal), model.GetProperty("random").EnumerateArray().Select(r => r.Text("group")).Order(StringComparer.Ordinal));
        Assert.Equal(nodes, model.Number("quadrature"));
        Assert.All(model.GetProperty("predictions").EnumerateArray(), p => Assert.NotNull(p.Number("average_over_groups/estimate")));
    }

    [Theory]
    [InlineData("--effects moon", "cover, ")]
    [InlineData("--effects cover --predict cover=moss", "bunchgrass")]
    [InlineData("--predict cover", "name=value")]
    [InlineData("--random year", "year")]
    [InlineData("--fit-check --random transect", "without groups")]
    public void A_request_that_the_season_cannot_answer_ends_with_1_and_says_why(string typed, string said)
    {
        var run = Typed.Run(["model", "demo", .. typed.Split(' ')]);

        Assert.Equal((1, ""), (run.Exit, run.Out));
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--link probit", "log-hazard")]
    [InlineData("--outcome fame", "predation")]
    [InlineData("--cameras maybe", "ignore")]
    [InlineData("--random ranch", "transect")]
    [InlineData("--random year,pasture", "transect")]
    [InlineData("--quadrature 0", "25")]
    [InlineData("--quadrature 26", "25")]
    [InlineData("--interaction cover", "two effects")]
    [InlineData("--days 0", "--days")]
    [InlineData("--fit-check --resamples 18", "--resamples")]
    public void Wrong_usage_ends_with_2(string typed, string said)
    {
        var run = Typed.Run(["model", "demo", .. typed.Split(' ')]);

        Assert.Equal((2, ""), (run.Exit, run.Out));
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void Same_input_same_bytes_from_a_folder_and_from_a_data_file()
    {
        using var scratch = new ScratchFolder();
        var folder = scratch.Copy(Corpus.Folder("scenes/tailgate"), "tailgate");
        Typed.Done("import", scratch.At("season.db"), folder);
        string[] options = ["--json", "--compare", "--random", "none"];
        Assert.Equal(Typed.Done(["model", folder, .. options]).Out, Typed.Done(["model", scratch.At("season.db"), .. options]).Out);
        Assert.Equal(Typed.Done("model", "demo", "--json", "--random", "pasture,transect").Out, Typed.Done("model", "demo", "--json", "--random", "pasture,transect").Out);
    }

    [Fact]
    public void It_says_first_what_survival_depends_on()
    {
        var lines = Typed.Done("model", Reference("typical144"), "--effects", "cover,concealment", "--predict", "cover=grass,concealment=20").Out.Split('\n');
        Assert.Equal("Reference set typical144", lines[0].TrimEnd());
        Assert.Matches(@"^  In cactus \d+ % \(\d+–\d+ %\) of nests survive 28 days, against \d+ % \(\d+–\d+ %\) in grass\.", lines[1]);
        Assert.Matches(@"^  Where concealment is 90, \d+ % \(\d+–\d+ %\) of nests survive 28 days, against \d+ % \(\d+–\d+ %\) where it is 39\.", lines[2]);
        Assert.Matches(@"^  Survival to day 28 with cover = grass, concealment = 20: \d+ % \(\d+–\d+ %\)\.", lines[3]);
        Assert.Contains("144 nests, 254 visit intervals, 48 losses; log-likelihood -117.086, 3 parameters", string.Join('\n', lines), StringComparison.Ordinal);
    }

    [Fact]
    public void A_check_of_fit_is_made_when_asked_for_and_its_seed_decides()
    {
        Assert.Equal(JsonValueKind.Null, Model("demo").GetProperty("fit_check").ValueKind);
        string[] options = ["--fit-check", "--resamples", "49", "--effects", "cover,fortnight"];
        var check = Model("demo", options).GetProperty("fit_check");
        Assert.Equal((49, 1, 45), (check.Number("resamples"), check.Number("seed"), check.GetProperty("residuals_by_line").GetArrayLength()));
        Assert.InRange(check.Number("by_line/p")!.Value, 0.02, 0.1);
        Assert.Equal(Math.Sqrt(check.Number("by_risk/p")!.Value * (1 - check.Number("by_risk/p")!.Value) / 49), check.Number("by_risk/p_error")!.Value, 12);
        Assert.Equal(check.Number("n_losses"), check.GetProperty("residuals_by_risk").EnumerateArray().Sum(r => r.Number("observed")));
        Assert.NotEqual(check.GetRawText(), Model("demo", [.. options, "--seed", "2"]).GetProperty("fit_check").GetRawText());
        Assert.Equal(check.GetRawText(), Model("demo", options).GetProperty("fit_check").GetRawText());
    }

    [Fact]
    public void A_check_of_fit_says_in_words_whether_the_model_fits_and_never_names_more_than_ten_lines()
    {
        var text = Typed.Done("model", Reference("strong600", "season_with_cameras"), "--fit-check", "--resamples", "199").Out;
        Assert.Contains("By line: p = 0.005 ± 0.005: seasons made by this model differ from it as much as yours in fewer than 1 of 100. Lines differ more than", text, StringComparison.Ordinal);
        Assert.Contains("Nothing here says that safe and endangered nests fare otherwise", text, StringComparison.Ordinal);
        Assert.Contains("Camera times are not used in this check", text, StringComparison.Ordinal);
        Assert.Matches(@"\d+ of 30 lines stand out beyond ±2, about 1\.4 would by chance alone; the 10 furthest out:", text);
        Assert.Equal(10, text.Split('\n').Count(l => l.StartsWith("  T000", StringComparison.Ordinal)));
        Assert.DoesNotContain("Camera times", Typed.Done("model", Reference("tiny20"), "--fit-check", "--resamples", "19").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_typed_interaction_has_the_names_of_its_classes()
    {
        var model = Model("demo", "--effects", "cover,clumps_per_acre", "--interaction", "cover,clumps_per_acre");
        Assert.Equal(["intercept", "cover = prickly pear", "clumps_per_acre", "cover = prickly pear, by clumps_per_acre"], model.GetProperty("effects").EnumerateArray().Select(e => e.Text("name")));
    }

    /// <summary>Effects, standard errors and log-likelihoods of whole seasons against values made with general-purpose libraries.</summary>
    [Theory]
    [InlineData("tiny20", "daily-logit", "daily_logit_regression")]
    [InlineData("typical144", "daily-logit", "daily_logit_regression")]
    [InlineData("typical144", "log-hazard", "cloglog_regression")]
    [InlineData("strong600", "daily-logit", "daily_logit_regression")]
    [InlineData("strong600", "log-hazard", "cloglog_regression")]
    [InlineData("sparse10k", "log-hazard", "cloglog_regression")]
    public void A_reference_season_gives_the_reference_model(string set, string link, string block)
    {
        var expected = Typed.Json(File.ReadAllText(Path.Combine(Checks.Folder("reference-seasons"), set, "expected.json"))).At(block + "/value/direct");
        var names = expected.GetProperty("coef").EnumerateObject().Select(c => c.Name).Skip(1).Select(c => c == "cactus" ? "cover" : c);
        var model = Model(Reference(set), "--effects", string.Join(',', names), "--link", link);
        var by = new Comparison();
        foreach (var coefficient in expected.GetProperty("coef").EnumerateObject())
        {
            var name = coefficient.Name switch { "(Intercept)" => "intercept", "cactus" => "cover = cactus", var other => other };
            var effect = model.GetProperty("effects").EnumerateArray().Single(e => e.Text("name") == name);
            by.Near(name, effect.Number("estimate"), coefficient.Value.GetDouble(), 1e-6);
            by.Near(name + " se", effect.Number("se"), expected.GetProperty("se").GetProperty(coefficient.Name).GetDouble(), 1e-5);
        }

        by.Near("log-likelihood", model.Number("log_likelihood"), expected.GetProperty("loglik").GetDouble(), 1e-9);
        Assert.Empty(by.Differences);
    }
}
