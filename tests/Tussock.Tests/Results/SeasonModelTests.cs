using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Models;
using Tussock.Results;
using Tussock.Tests.Review;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

public class SeasonModelTests
{
    private static SmallSeason Season => new SmallSeason().WithAll("nests.csv", "concealment", "3").With("nests.csv", 2, "concealment", "1").With("nests.csv", 4, "concealment", "4");

    private static SeasonModel Fitted(SmallSeason season, ModelRequest request) => SeasonModel.Of(season.Read(), request).Value;

    private static string Said(SeasonModel model) => string.Join('\n', ModelSentences.Of(model).Concat(model.Warnings).Concat(model.Comparison?.Notes ?? []).Select(Catalogue.English.Say));

    [Fact]
    public void Without_a_choice_it_is_the_model_of_cover_and_where_cover_does_not_differ_of_nothing()
    {
        Assert.Equal("cover", Fitted(Season, new ModelRequest()).Model.Design.Choice.ToString());
        var alike = Fitted(Season.WithAll("nests.csv", "cover", "grass"), new ModelRequest());
        Assert.Equal("constant", alike.Model.Design.Choice.ToString());
        Assert.Single(alike.Predictions);
        Assert.Contains("Survival to day 28 with everything as on the typical nest", Said(alike), StringComparison.Ordinal);
    }

    [Fact]
    public void The_usual_list_holds_what_the_season_recorded()
    {
        var names = Fitted(Season, new ModelRequest { Compare = [] }).Comparison!.Ranked.Select(r => r.Model.Name).Order(StringComparer.Ordinal);
        Assert.Equal(["constant", "cover", "cover by clumps_per_acre", "cover, clumps_per_acre", "cover, concealment", "cover, fortnight", "fortnight"], names);
        var bare = Fitted(Season.WithAll("nests.csv", "concealment", "").Without("belts.csv", _ => true), new ModelRequest { Compare = [] });
        Assert.Equal(["constant", "cover", "cover, fortnight", "fortnight"], bare.Comparison!.Ranked.Select(r => r.Model.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Models_are_compared_on_the_nests_that_have_every_effect_of_all()
    {
        var model = Fitted(Season.With("nests.csv", 3, "concealment", ""), new ModelRequest { Compare = [EffectChoice.Constant, EffectChoice.Read("concealment")] });
        Assert.Equal(7, model.Model.Design.Nests.Rows.Length);
        Assert.All(model.Comparison!.Averaged[0].ByModel, p => Assert.Equal(7, p.Nest.Design.Nests.Rows.Length));
        Assert.Contains("One nest has no concealment on record and is left out", Said(model), StringComparison.Ordinal);
    }

    [Fact]
    public void The_best_model_is_shown_unless_one_was_chosen()
    {
        ImmutableArray<EffectChoice> list = [EffectChoice.Read("cover, concealment"), EffectChoice.Constant];
        Assert.Equal("constant", Fitted(Season, new ModelRequest { Compare = list }).Model.Design.Choice.ToString());
        var chosen = Fitted(Season, new ModelRequest { Compare = list, Effects = EffectChoice.Read("fortnight") });
        Assert.Equal(("fortnight", 3), (chosen.Model.Design.Choice.ToString(), chosen.Comparison!.Ranked.Length));
    }

    [Fact]
    public void Too_many_numbers_for_the_losses_and_too_many_models_are_said()
    {
        var many = Enumerable.Range(0, 11).Select(i => new EffectChoice([.. new[] { "cover", "fortnight", "concealment", "clumps_per_acre" }.Where((_, bit) => (i & (1 << bit)) != 0)], [])).ToImmutableArray();
        var said = Said(Fitted(Season, new ModelRequest { Compare = many, Effects = EffectChoice.Read("cover, concealment") }));
        Assert.Contains("3 numbers are fitted to 2 losses", said, StringComparison.Ordinal);
        Assert.Contains("11 models are compared", said, StringComparison.Ordinal);
    }

    [Fact]
    public void An_order_that_changes_with_the_count_of_rows_is_said()
    {
        var season = FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), "tiny20", "season"));
        string With(params string[] list) => Said(SeasonModel.Of(season, new ModelRequest { Compare = [.. list.Select(EffectChoice.Read)] }).Value);
        Assert.Contains("The order of the models changes when nests (20) are counted instead of visit intervals (35)", With("cover", "cover, concealment, clump_density", "constant"), StringComparison.Ordinal);
        Assert.DoesNotContain("The order of the models changes", With("cover", "constant"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("cover=moss", "model_choice.pattern_class")]
    [InlineData("concealment=high", "model_choice.pattern_number")]
    [InlineData("fortnight=first", "model_choice.pattern_unknown")]
    public void A_pattern_that_the_model_does_not_know_is_refused(string pattern, string why)
    {
        var request = new ModelRequest { Effects = EffectChoice.Read("cover, concealment"), Predict = [Pattern.Read(pattern).Value] };
        var refused = SeasonModel.Of(Season.Read(), request);
        Assert.Equal(why, refused.Why!.Key);
        Assert.NotEmpty(Catalogue.English.Say(refused.Why));
    }

    [Theory]
    [InlineData("cover", "model_choice.pattern_wrong")]
    [InlineData("cover=", "model_choice.pattern_wrong")]
    [InlineData("cover=grass,cover=cactus", "model_choice.pattern_twice")]
    public void A_pattern_is_written_as_name_and_value(string pattern, string why) => Assert.Equal(why, Pattern.Read(pattern).Why!.Key);

    [Fact]
    public void An_effect_without_end_has_no_number_a_reason_and_a_bounded_answer_apart()
    {
        var season = FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), "separation120", "season"));
        foreach (var groups in new ImmutableArray<string>[] { [], ["transect"] })
        {
            var model = SeasonModel.Of(season, new ModelRequest { Random = groups, Compare = [] }).Value;
            var shown = SeasonModel.Of(season, new ModelRequest { Random = groups }).Value;
            Assert.Null(shown.Effects[1].Estimate.Value);
            Assert.NotEmpty(Catalogue.English.Say(shown.Effects[1].Estimate.Why!));
            Assert.InRange(shown.Model.WithPrior!.Value.Effects[1].Estimate.Value!.Value, 1, 20);
            Assert.Contains("at no finite value", Said(shown), StringComparison.Ordinal);
            Assert.All(model.Comparison!.Averaged, a => Assert.True(a.Survival.Value is not null || a.Survival.Why is not null));
            Assert.NotEmpty(Said(model));
        }
    }

    [Fact]
    public void Profile_limits_take_the_place_of_those_by_standard_errors()
    {
        var season = FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), "typical144", "season"));
        var wald = SeasonModel.Of(season, new ModelRequest()).Value.Effects[1].Estimate;
        var profile = SeasonModel.Of(season, new ModelRequest { Profile = true }).Value.Effects[1].Estimate;
        Assert.Equal(wald.Se, profile.Se);
        Assert.NotEqual(wald.Low, profile.Low);
        Near.Is(wald.Low!.Value, profile.Low, 0.5);
        Assert.Contains("Profile limits", Said(SeasonModel.Of(season, new ModelRequest { Profile = true, Random = ["transect"] }).Value), StringComparison.Ordinal);
    }

    [Fact]
    public void Lines_in_several_pastures_or_years_are_a_group_in_each()
    {
        var season = Season.WithAll("nests.csv", "year", "2023").With("nests.csv", 2, "year", "2024").With("nests.csv", 7, "year", "2024");
        var model = Fitted(season, new ModelRequest { Random = ["year", "transect"] });
        Assert.Equal([("transect", 4), ("year", 2)], model.Model.Random.Select(r => (r.Group, r.Levels)));
        Assert.Equal("model_choice.unknown_effect", SeasonModel.Of(Season.Read(), new ModelRequest { Random = ["year"] }).Why!.Key);
    }

    [Fact]
    public void A_class_is_told_in_the_words_of_the_field()
    {
        var said = Said(Fitted(Season, new ModelRequest { Effects = EffectChoice.Read("fortnight") }));
        Assert.Contains("Where fortnight is second, ", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_season_without_visits_is_refused_with_the_reason() =>
        Assert.Equal("model_choice.no_nests", SeasonModel.Of(Season.WithAll("visits.csv", "finding", "not_relocated").WithAll("visits.csv", "eggs_intact", "").Without("cameras.csv", _ => true).Read(), new ModelRequest()).Why!.Key);
}

/// <summary>Tables of models and averages over them against values made with general-purpose libraries.</summary>
public class SeasonModelChecks
{
    private const double Exact = 1e-7;

    private static readonly (string Reference, string Choice)[] Models =
        [("constant", "constant"), ("cover", "cover"), ("cover_density", "cover, clump_density"), ("cover_concealment", "cover, concealment"), ("full", "cover, clump_density, concealment")];

    public static TheoryData<string, string> Sets
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var set in new[] { "tiny20", "typical144", "strong600", "sparse10k" }) foreach (var link in new[] { "cloglog", "daily_logit" }) data.Add(set, link);
            return data;
        }
    }

    private static JsonElement Reference(string set, string path)
    {
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", Path.Combine(set, "expected.json")));
        return json.RootElement.At(path).Clone();
    }

    private static SeasonModel Compared(string set, string link) => SeasonModel.Of(FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), set, "season")), new ModelRequest
    {
        Compare = [.. Models.Select(m => EffectChoice.Read(m.Choice))],
        Link = link == "cloglog" ? Link.LogHazard : Link.DailyLogit,
        Predict = [Pattern.Typical.With("cover", "grass"), Pattern.Typical.With("cover", "cactus")],
        Effects = EffectChoice.Read("cover"),
    }).Value;

    [Theory]
    [MemberData(nameof(Sets))]
    public void The_table_of_models_is_that_of_the_reference(string set, string link)
    {
        var comparison = Compared(set, link).Comparison!;
        var expected = Reference(set, "aicc/" + link + "/value/n_intervals");
        Assert.Equal(expected.GetProperty("n").GetInt32(), comparison.Rows);
        foreach (var row in expected.GetProperty("table").EnumerateArray())
        {
            var found = comparison.Ranked.Single(r => r.Model.Name == Models.Single(m => m.Reference == row.GetProperty("model").GetString()).Choice);
            Assert.Equal(row.GetProperty("k").GetInt32(), found.Model.Parameters);
            Near.Is(row.GetProperty("loglik").GetDouble(), found.Model.LogLikelihood, 1e-9);
            Near.Is(row.GetProperty("AICc").GetDouble(), found.Aicc.Value, 1e-9);
            Near.Is(row.GetProperty("delta").GetDouble(), found.Delta, Exact, 1);
            Near.Is(row.GetProperty("weight").GetDouble(), found.Weight, Exact);
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Survival_of_each_model_and_their_average_are_those_of_the_reference(string set, string link)
    {
        var comparison = Compared(set, link).Comparison!;
        var perModel = Reference(set, "aicc/" + link + "/value/per_model");
        var averaged = Reference(set, "aicc/" + link + "/value/n_intervals/averaged_S28");
        foreach (var (cover, i) in new[] { ("grass", 0), ("cactus", 1) })
        {
            foreach (var (model, m) in Models.Select((m, i) => (m.Reference, i)))
            {
                var survival = comparison.Averaged[i].ByModel[m].Survival;
                Near.Is(perModel.GetProperty(model).GetProperty("S28_" + cover).GetDouble(), survival.Value, Exact);
                Near.Is(perModel.GetProperty(model).GetProperty("se_observed")[i].GetDouble(), survival.Se, Exact);
            }

            Near.Is(averaged.GetProperty(cover).GetProperty("estimate").GetDouble(), comparison.Averaged[i].Survival.Value, Exact);
            Near.Is(averaged.GetProperty(cover).GetProperty("se_observed").GetDouble(), comparison.Averaged[i].Survival.Se, Exact);
        }
    }

    [Fact]
    public void A_season_with_groups_reaches_the_log_likelihood_of_the_reference()
    {
        var season = FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), "typical144", "season"));
        var model = SeasonModel.Of(season, new ModelRequest { Effects = EffectChoice.Read("cover, clump_density, concealment"), Random = ["transect"], Link = Link.LogHazard }).Value.Model;
        var expected = Reference("typical144", "random_intercept_cloglog/value/direct_agq9_observed");
        Near.Is(expected.GetProperty("loglik").GetDouble(), model.LogLikelihood, 1e-8);
        Near.Is(expected.GetProperty("sd").GetDouble(), model.Random[0].Spread.Sd.Value, 1e-4);
        Assert.Equal(("transect", 12), (model.Random[0].Group, model.Random[0].Levels));
    }
}

/// <summary>What others build on stands in the page of the document.</summary>
public partial class ModelDocumentTests
{
    [Fact]
    public void Every_key_of_the_document_stands_in_its_page()
    {
        var root = Path.Combine(Checks.Folder(".."), "..");
        var page = File.ReadAllText(Path.Combine(root, "docs", "model.md"));
        var sources = new[] { "ModelDocument.cs", "FitCheckDocument.cs" }.Select(f => File.ReadAllText(Path.Combine(root, "src", "Tussock", "Results", f)));
        var keys = sources.SelectMany(s => Key().Matches(s)).Select(m => m.Groups["it"].Value).Distinct().ToArray();
        Assert.True(keys.Length > 45, keys.Length.ToString(System.Globalization.CultureInfo.InvariantCulture));
        Assert.All(keys, k => Assert.Contains("`" + k + "`", page, StringComparison.Ordinal));
    }

    [System.Text.RegularExpressions.GeneratedRegex("(?:Write\\w+|Estimate|Answer|Text|Array|Number|Perhaps|Deviance|Residuals)\\(\"(?<it>\\w+)\"")]
    private static partial System.Text.RegularExpressions.Regex Key();
}
