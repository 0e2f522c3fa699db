using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class EffectsTestTests
{
    private static readonly Link[] Links = [Link.LogHazard, Link.DailyLogit];

    [Fact]
    public void One_effect_is_tested_by_the_square_of_its_t()
    {
        foreach (var link in Links)
        {
            var fit = EffectsFit.Of(NestTables.Season("typical144"), link).Value;
            var test = Wald.Of(fit.Clustered, "cactus").Value;
            Near.Is(Math.Pow(fit.Coefficients[1].Clustered.Value!.Value / fit.Coefficients[1].Clustered.Se!.Value, 2), test.Statistic, 1e-12);
            Assert.Equal((1, 11), (test.Degrees, test.Denominator));
            Near.Is(fit.Coefficients[1].ClusteredP!.Value, test.P, 1e-9);
            var plain = Wald.Of(fit.Independent, "cactus").Value;
            Near.Is(fit.Coefficients[1].IndependentP!.Value, plain.P, 1e-9);
            Assert.Null(plain.Denominator);
        }
    }

    [Fact]
    public void Several_effects_together_do_not_depend_on_how_they_are_written()
    {
        var table = NestTables.Season("strong600");
        var fit = EffectsFit.Of(table, Link.LogHazard).Value;
        Near.Is(Wald.Of(fit.Clustered, "cactus", "concealment").Value.Statistic, Wald.Of(fit.Clustered, "concealment", "cactus").Value.Statistic, 1e-12);
        Assert.True(Wald.Of(fit.Clustered, "cactus", "concealment", "clump_density").Value.P < 0.01);
        EffectsTest f = Wald.Of(fit.Clustered, "cactus", "concealment").Value, chi = Wald.Of(fit.Clustered with { Degrees = null }, "cactus", "concealment").Value;
        Near.Is(chi.Statistic, 2 * f.Statistic, 1e-12);
        Near.Is(Tails.FisherAbove(f.Statistic, 2, 29), f.P, 1e-12);
        Near.Is(Math.Exp(-chi.Statistic / 2), chi.P, 1e-9);
    }

    [Fact]
    public void Too_few_groups_or_no_effect_give_a_reason()
    {
        var rows = EffectsFitTests.Nests(20, 20, withCactus: true).Select((i, n) => i with { Group = "line " + n % 2, X = [1, i.X[1], n % 5] });
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)", "cactus", "age"], rows), Link.LogHazard).Value;
        Assert.Equal("models.too_few_groups_to_test", Wald.Of(fit.Clustered, "cactus", "age").Why!.Key);
        var separated = EffectsFit.Of(NestTables.Season("separation120"), Link.LogHazard).Value;
        Assert.Equal("models.no_effect_to_test", Wald.Of(separated.Clustered, "cactus").Why!.Key);
        Assert.Throws<ArgumentException>(() => Wald.Of(separated.Clustered, "colour"));
    }

    [Fact]
    public void Models_must_be_nested_and_differ()
    {
        var table = NestTables.Season("typical144");
        EffectsFit full = EffectsFit.Of(table, Link.LogHazard).Value, part = EffectsFit.Of(table, Link.LogHazard, new() { Columns = ["(Intercept)", "cactus"] }).Value;
        Assert.Equal(2, LikelihoodRatio.Of(full, part).Value.Degrees);
        Assert.Equal("models.not_nested", LikelihoodRatio.Of(part, full).Why!.Key);
        Assert.Equal("models.nothing_to_test", LikelihoodRatio.Of(full, full).Why!.Key);
        Assert.Equal("models.not_nested", LikelihoodRatio.Of(full, EffectsFit.Of(table, Link.DailyLogit).Value).Why!.Key);
        Assert.Throws<ArgumentException>(() => EffectsFit.Of(table, Link.LogHazard, new() { Columns = ["colour"] }));
        Assert.Throws<ArgumentException>(() => EffectsFit.Of(table, Link.LogHazard, new() { Level = 1 }));
    }

    [Fact]
    public void The_test_stands_where_an_effect_has_no_finite_estimate()
    {
        var table = NestTables.Season("separation120");
        var test = LikelihoodRatio.Of(EffectsFit.Of(table, Link.LogHazard).Value, EffectsFit.Of(table, Link.LogHazard, new() { Columns = ["(Intercept)", "clump_density", "concealment"] }).Value).Value;
        Assert.Equal(1, test.Degrees);
        Assert.True(test.P < 1e-6);
    }

    [Theory]
    [InlineData(4.0, 1, 12, 0.0687)]
    [InlineData(3.8852938346523933, 2, 12, 0.05)]
    public void Fishers_tail_is_that_of_tables(double f, double q, double m, double p) => Near.Is(p, Tails.FisherAbove(f, q, m), 1e-3);
}

/// <summary>Models and their criteria against direct fits: block <c>aicc</c> of the reference seasons.</summary>
public class EffectsTestChecks
{
    private static readonly (string Name, string[] Columns)[] Models =
        [("constant", ["(Intercept)"]), ("cover", ["(Intercept)", "cactus"]), ("cover_density", ["(Intercept)", "cactus", "clump_density"]), ("cover_concealment", ["(Intercept)", "cactus", "concealment"]), ("full", ["(Intercept)", "cactus", "clump_density", "concealment"])];

    [Theory]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void Five_models_have_their_log_likelihood_criterion_and_prediction(string set)
    {
        using var json = System.Text.Json.JsonDocument.Parse(Checks.Read("reference-seasons", Path.Combine(set, "expected.json")));
        var table = NestTables.Season(set);
        var mean = NestTables.MeanOverIntervals(set);
        foreach (var (link, block) in new[] { (Link.LogHazard, "cloglog"), (Link.DailyLogit, "daily_logit") })
        {
            var value = json.RootElement.GetProperty("aicc").GetProperty(block).GetProperty("value");
            foreach (var row in value.GetProperty("n_intervals").GetProperty("table").EnumerateArray())
            {
                var name = row.GetProperty("model").GetString();
                var fit = EffectsFit.Of(table, link, new() { Columns = [.. Models.Single(m => m.Name == name).Columns] }).Value;
                Near.Is(row.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-11);
                Near.Is(row.GetProperty("AICc").GetDouble(), fit.Aicc.Value, 1e-11);
                var at = value.GetProperty("per_model").GetProperty(name!);
                foreach (var (cactus, cover, i) in new[] { (0, "grass", 0), (1, "cactus", 1) })
                {
                    var prediction = SurvivalPrediction.At(fit.Independent, [new([1, cactus, mean.Density, mean.Concealment], 28)], 28);
                    Near.Is(at.GetProperty("S28_" + cover).GetDouble(), prediction.Value, 1e-8);
                    Near.Is(at.GetProperty("se_observed")[i].GetDouble(), prediction.Se, 1e-6);
                }
            }
        }
    }
}
