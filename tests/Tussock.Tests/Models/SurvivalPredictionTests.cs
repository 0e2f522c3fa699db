using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class SurvivalPredictionTests
{
    private static readonly Link[] Links = [Link.LogHazard, Link.DailyLogit];

    [Fact]
    public void Standard_errors_are_those_of_small_steps()
    {
        foreach (var link in Links)
        {
            var fit = EffectsFit.Of(RandomTables.Of(9, groups: 30), link).Value;
            PatternDays[] course = [new([1, 1, 0.5, 0], 14, 0.2), new([1, 1, 0.5, 1], 10)];
            foreach (var effects in new[] { fit.Clustered, fit.Independent })
            {
                var at = SurvivalPrediction.At(effects, course, 28);
                var slope = Enumerable.Range(0, 4).Select(j => (Survival(effects, j, 1e-6) - Survival(effects, j, -1e-6)) / 2e-6).ToArray();
                Near.Is(Math.Sqrt(effects.Variance(slope)!.Value), at.Se, 1e-7);
                Near.Is(Survival(effects, 0, 0), at.Value, 1e-14);
                Assert.True(at.Low < at.Value && at.Value < at.High);
            }

            double Survival(FittedEffects effects, int j, double step)
            {
                var beta = (double[])effects.Beta.Clone();
                beta[j] += step;
                return SurvivalPrediction.At(effects with { Beta = beta }, course, 28).Value!.Value;
            }
        }
    }

    [Fact]
    public void The_last_piece_of_a_course_goes_on_and_a_course_is_cut_at_the_day()
    {
        var effects = new FittedEffects { Link = Link.LogHazard, Columns = ["a", "b"], Beta = [Math.Log(0.01), Math.Log(2)], Covariance = [0.01, 0, 0, 0.01], Method = "given" };
        PatternDays[] course = [new([1, 0], 14), new([1, 1], 5)];
        Near.Is(Math.Exp(-0.01 * 10), SurvivalPrediction.At(effects, course, 10).Value, 1e-14);
        Near.Is(Math.Exp(-0.01 * 14 - 0.02 * 14), SurvivalPrediction.At(effects, course, 28).Value, 1e-14);
        var start = SurvivalPrediction.At(effects, course, 0);
        Assert.Equal((1, "models.prediction_at_end"), (start.Value, start.Why!.Key));
        Assert.Equal([true, false, false], SurvivalPrediction.Curve(effects, course, [0, 14, 28]).Select(e => e.Low is null));
    }

    [Fact]
    public void Nests_that_the_table_says_nothing_about_get_no_number()
    {
        foreach (var link in Links)
        {
            var fit = EffectsFit.Of(NestTables.Season("separation120"), link).Value;
            Assert.Equal("models.prediction_unknown", SurvivalPrediction.At(fit.Clustered, [new([1, 1, 40, 50], 28)], 28).Why!.Key);
            Assert.NotNull(SurvivalPrediction.At(fit.Clustered, [new([1, 0, 40, 50], 28)], 28).Low);
            var bounded = SurvivalPrediction.At(fit.WithPrior.Effects, [new([1, 1, 40, 50], 28)], 28);
            Assert.InRange(bounded.Value!.Value, 0.9, 0.999);
            Assert.True(bounded.Low < 0.99);
            var effect = MarginalEffect.Of(fit.Clustered, fit.Table, "cactus", (0, 1), 28);
            Assert.Equal("models.prediction_unknown", effect.Difference.Why!.Key);
            Assert.InRange(MarginalEffect.Of(fit.WithPrior.Effects, fit.Table, "cactus", (0, 1), 28).Difference.Value!.Value, 0.1, 0.9);
        }
    }

    [Fact]
    public void One_group_gives_survival_without_clustered_limits()
    {
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)"], EffectsFitTests.Nests(20, 20).Select(i => i with { Group = "one" })), Link.LogHazard).Value;
        var at = SurvivalPrediction.At(fit.Clustered, [new([1], 14)], 14);
        Near.Is(0.5, at.Value, 1e-12);
        Assert.Equal("models.one_group", at.Why!.Key);
        Assert.NotNull(SurvivalPrediction.At(fit.Independent, [new([1], 14)], 14).Low);
    }

    [Fact]
    public void The_average_difference_of_two_classes_has_the_error_of_small_steps()
    {
        foreach (var link in Links)
        {
            var table = NestTables.Season("typical144");
            var fit = EffectsFit.Of(table, link).Value;
            var effect = MarginalEffect.Of(fit.Clustered, table, "cactus", (0, 1), 28);
            Near.Is(effect.After.Value!.Value - effect.Before.Value!.Value, effect.Difference.Value, 1e-13);
            var slope = Enumerable.Range(0, 4).Select(j => (Difference(j, 1e-6) - Difference(j, -1e-6)) / 2e-6).ToArray();
            Near.Is(Math.Sqrt(fit.Clustered.Variance(slope)!.Value), effect.Difference.Se, 1e-6);
            Assert.True(effect.Difference.Value > 0);

            double Difference(int j, double step)
            {
                var beta = (double[])fit.Clustered.Beta.Clone();
                beta[j] += step;
                return MarginalEffect.Of(fit.Clustered with { Beta = beta }, table, "cactus", (0, 1), 28).Difference.Value!.Value;
            }
        }
    }

    [Fact]
    public void Alike_nests_have_the_difference_of_their_own_predictions()
    {
        var fit = EffectsFit.Of(NestTables.TwoChecks("twocheck_constructed", cover: true), Link.DailyLogit).Value;
        var effect = MarginalEffect.Of(fit.Independent, fit.Table, "B", (0, 1), 28);
        Near.Is(SurvivalPrediction.At(fit.Independent, [new([1, 0], 28)], 28).Value!.Value, effect.Before.Value, 1e-14);
        Near.Is(SurvivalPrediction.At(fit.Independent, [new([1, 1], 28)], 28).Se!.Value, effect.After.Se, 1e-12);
    }
}

/// <summary>Against a survival library's prediction and published values.</summary>
public class SurvivalPredictionChecks
{
    [Theory]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void Survival_at_mean_covariates_agrees_with_its_limits(string set)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", "aft_interval").GetProperty("exponential_covariates");
        var table = NestTables.Season(set);
        var fit = EffectsFit.Of(table, Link.LogHazard).Value;
        var mean = NestTables.MeanOverNests(set);
        foreach (var (cactus, name) in new[] { (0.0, "S28_grass_mean_covariates"), (1.0, "S28_cactus_mean_covariates") })
        {
            var at = SurvivalPrediction.At(fit.Independent, [new([1, cactus, mean.Density, mean.Concealment], 28)], 28);
            Near.Is(expected.GetProperty(name).GetProperty("S28").GetDouble(), at.Value, 1e-9);
            Near.Is(expected.GetProperty(name).GetProperty("ci_loglog")[0].GetDouble(), at.Low, 1e-8);
            Near.Is(expected.GetProperty(name).GetProperty("ci_loglog")[1].GetDouble(), at.High, 1e-8);
        }
    }

    [Fact]
    public void Survival_of_the_two_classes_of_the_constructed_set_agrees()
    {
        var fit = EffectsFit.Of(NestTables.TwoChecks("twocheck_constructed", cover: true), Link.DailyLogit).Value;
        foreach (var (b, name) in new[] { (0.0, "A"), (1.0, "B") })
        {
            var at = SurvivalPrediction.At(fit.Independent, [new([1, b], 28)], 28);
            Near.Is(PublishedValues.Of("twocheck.logit.cover", "28-day survival " + name), at.Value, 1e-8);

            // The published error has the expected information: two to three digits.
            Near.Is(PublishedValues.Of("twocheck.logit.cover", $"delta se 28-day {name} (IRLS vcov)"), at.Se, 0.01);
        }

        var effect = MarginalEffect.Of(fit.Independent, fit.Table, "B", (0, 1), 28);
        Near.Is(PublishedValues.Of("twocheck.logit.cover", "delta se difference A-B"), effect.Difference.Se, 0.01);
        Assert.Equal(Exponentials.Expit(0), 0.5);
    }
}
