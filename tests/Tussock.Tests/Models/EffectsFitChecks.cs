using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Models;
using Xunit;

namespace Tussock.Tests.Models;

/// <summary>Fixed effects against exact Newton fits, general libraries and published values.</summary>
public class EffectsFitChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    public void Reference_seasons_agree_under_both_links(string set)
    {
        foreach (var (link, block) in Links)
        {
            var expected = ReferenceSeason.Block(set, "expected.json", block).GetProperty("direct");
            var columns = expected.GetProperty("coef").EnumerateObject().Select(c => c.Name).ToImmutableArray();
            var fit = EffectsFit.Of(NestTables.Season(set), link, new EffectsOptions { Columns = columns }).Value;
            Agree(fit, expected);
            Assert.Empty(fit.Warnings.Where(w => w.Key != "models.few_groups"));
        }
    }

    [Theory]
    [InlineData("tiny20", 0.1)]
    [InlineData("typical144", 0.1)]
    [InlineData("strong600", 0.03)]
    [InlineData("sparse10k", 0.01)]
    public void Cluster_robust_errors_are_near_those_with_expected_information(string set, double tolerance)
    {
        foreach (var (link, block) in Links)
        {
            var expected = ReferenceSeason.Block(set, "expected.json", block).GetProperty("cluster_robust");
            var names = expected.GetProperty("se").EnumerateObject().Select(c => c.Name).ToImmutableArray();
            var fit = EffectsFit.Of(NestTables.Season(set), link, new EffectsOptions { Columns = names }).Value;
            Assert.Equal(expected.GetProperty("df").GetInt32(), fit.Clustered.Degrees);
            foreach (var effect in fit.Coefficients) Near.Is(expected.GetProperty("se").GetProperty(effect.Name).GetDouble(), effect.Clustered.Se, tolerance);
        }
    }

    [Fact]
    public void A_separated_season_stands_at_the_limit_of_the_likelihood()
    {
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", "separation120/expected.json"));
        foreach (var (link, name) in new[] { (Link.LogHazard, "cloglog"), (Link.DailyLogit, "daily_logit") })
        {
            var limit = json.RootElement.GetProperty("limit").GetProperty(name);
            var fit = EffectsFit.Of(NestTables.Season("separation120"), link).Value;
            Assert.True(fit.IsSeparated);
            Near.Is(limit.GetProperty("loglik_supremum").GetDouble(), fit.LogLikelihood, 1e-11);
            foreach (var known in limit.GetProperty("coef_other_cover_only").EnumerateObject())
            {
                var effect = fit.Coefficients.Single(c => c.Name == known.Name);
                Near.Is(known.Value.GetDouble(), effect.Independent.Value, 1e-8);
                Near.Is(limit.GetProperty("se").GetProperty(known.Name).GetDouble(), effect.Independent.Se, 1e-8);
            }

            var cactus = fit.Coefficients.Single(c => c.Name == "cactus");
            Assert.Equal("models.none_lost_where", cactus.Independent.Why!.Key);
            Assert.Null(cactus.Clustered.Value);
            Assert.Contains(fit.Warnings, w => w.Key == "models.none_lost_where");
            var bounded = fit.WithPrior.Coefficients[1];
            Assert.InRange(bounded.Value!.Value * (link == Link.LogHazard ? -1 : 1), 1.5, 5);
        }
    }

    [Theory]
    [InlineData(false, "interval_exponential")]
    [InlineData(true, "exact_exponential")]
    public void Patients_in_intervals_and_with_exact_times_agree_with_a_survival_library(bool exact, string block)
    {
        using var json = JsonDocument.Parse(Checks.Read("veteran-intervals", "expected.json"));
        Agree(EffectsFit.Of(NestTables.Veterans(exact), Link.LogHazard).Value, json.RootElement.GetProperty(block), sign: -1);
    }

    [Theory]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void Camera_times_mixed_with_intervals_agree_with_a_survival_library(string set)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", "aft_exact_mixture");
        foreach (var (block, columns) in new[] { ("exponential_intercept", new[] { "(Intercept)" }), ("exponential_covariates", ["(Intercept)", "cactus", "clump_density", "concealment"]) })
        {
            var fit = EffectsFit.Of(NestTables.Season(set, cameras: true), Link.LogHazard, new EffectsOptions { Columns = [.. columns] }).Value;
            Agree(fit, expected.GetProperty(block).GetProperty("direct"), sign: -1);
        }
    }

    [Fact]
    public void The_sets_of_two_checks_agree()
    {
        foreach (var (id, link, cover) in new[] { ("twocheck.logit.const", Link.DailyLogit, false), ("twocheck.logit.cover", Link.DailyLogit, true), ("twocheck.cloglog.cover", Link.LogHazard, true) })
            Published(id, EffectsFit.Of(NestTables.TwoChecks("twocheck_constructed", cover), link).Value);
        Published("seeded120.glm.logitday", EffectsFit.Of(NestTables.TwoChecks("twocheck_seeded120", cover: true), Link.DailyLogit).Value, "beta");
        Published("seeded120.glm.cloglog", EffectsFit.Of(NestTables.TwoChecks("twocheck_seeded120", cover: true), Link.LogHazard).Value, "beta");
        var fit = EffectsFit.Of(NestTables.TwoChecks("twocheck_constructed", cover: true), Link.DailyLogit).Value;
        for (var j = 0; j < 2; j++) Near.Is(PublishedValues.Of("twocheck.logit.cover", $"se (observed information)[{j + 1}]"), fit.Coefficients[j].Independent.Se, 1e-6);
        var clustered = EffectsFit.Of(NestTables.TwoChecks("twocheck_constructed", cover: true), Link.LogHazard).Value;
        for (var j = 0; j < 2; j++) Near.Is(PublishedValues.Of("twocheck.cloglog.cover", $"cluster-robust se by transect, G/(G-1)[{j + 1}]"), clustered.Coefficients[j].Clustered.Se, 0.03);
    }

    [Fact]
    public void Equal_intervals_have_the_closed_form()
    {
        var rows = Enumerable.Range(0, 40).Select(i => new Interval("line " + i, [1], 14, i < 14));
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)"], rows), Link.LogHazard).Value;
        var h = Math.Exp(fit.Coefficients[0].Independent.Value!.Value);
        Near.Is(PublishedValues.Of("interval.equal", "s closed form ((n-x)/n)^(1/d), n=40 x=14 d=14"), Math.Exp(-h), 1e-13);
        Near.Is(PublishedValues.Of("interval.equal", "maximised log-likelihood"), fit.LogLikelihood, 1e-13);
        Near.Is(PublishedValues.Of("interval.equal", "se(s) delta = s/(d p) sqrt(p(1-p)/n)"), fit.Coefficients[0].Independent.Se * h * Math.Exp(-h), 1e-12);
    }

    [Fact]
    public void One_interval_has_the_derivatives_of_the_link_that_were_published()
    {
        // P = s^14 at η = 3.4 as the log-likelihood of 14 intact days: P = e^ℓ, P′ = P·ℓ′, P″ = P·(ℓ″ + ℓ′²).
        var likelihood = IntervalLikelihood.Of(NestTables.Of(["(Intercept)"], [new Interval("line", [1], 14, false)]), Link.DailyLogit);
        likelihood.At([3.4]);
        var survived = Math.Exp(likelihood.LogLikelihood);
        Near.Is(PublishedValues.Of("link.point", "mu=plogis(3.4)^14"), survived, 1e-14);
        Near.Is(PublishedValues.Of("link.point", "dmu/deta = t mu (1-s)"), survived * likelihood.Score[0], 1e-14);
        Near.Is(PublishedValues.Of("link.point", "d2mu/deta2 = t mu (1-s)(t(1-s)-s)"), survived * (likelihood.Score[0] * likelihood.Score[0] - likelihood.Information[0]), 1e-13);
    }

    [Fact]
    public void The_cluster_robust_covariance_equals_a_slow_sandwich()
    {
        foreach (var link in new[] { Link.LogHazard, Link.DailyLogit })
        {
            var table = RandomTables.Of(77, groups: 30);
            var fit = EffectsFit.Of(table, link).Value;
            var bread = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseOfRowMajor(4, 4, SlowLikelihood.Information(table, link, fit.Clustered.Beta)).Inverse();
            var meat = bread * 0;
            for (var g = 0; g < 30; g++)
            {
                var u = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(SlowLikelihood.Score(RandomTables.Only(table, g), link, fit.Clustered.Beta));
                meat += u.OuterProduct(u) * 30 / 29;
            }

            var sandwich = bread * meat * bread;
            for (var i = 0; i < 16; i++) Near.Is(sandwich[i / 4, i % 4], fit.Clustered.Covariance![i], 1e-8);
        }
    }

    private static void Published(string id, EffectsFit fit, string what = "coef")
    {
        for (var j = 0; j < fit.Coefficients.Length; j++)
            Near.Is(PublishedValues.Of(id, fit.Coefficients.Length == 1 ? what : $"{what}[{j + 1}]"), fit.Coefficients[j].Independent.Value, 1e-7);
        Near.Is(PublishedValues.Of(id, "logLik"), fit.LogLikelihood, 1e-12);
    }

    private static readonly (Link Link, string Block)[] Links = [(Link.LogHazard, "cloglog_regression"), (Link.DailyLogit, "daily_logit_regression")];

    private static void Agree(EffectsFit fit, JsonElement expected, double sign = 1)
    {
        Near.Is(expected.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-13);
        foreach (var effect in fit.Coefficients)
        {
            Near.Is(sign * expected.GetProperty("coef").GetProperty(effect.Name).GetDouble(), effect.Independent.Value, 1e-9);
            Near.Is(expected.GetProperty("se").GetProperty(effect.Name).GetDouble(), effect.Independent.Se, 1e-8);
        }
    }
}
