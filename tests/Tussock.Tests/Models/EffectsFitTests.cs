using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class EffectsFitTests
{
    private static readonly Link[] Links = [Link.LogHazard, Link.DailyLogit];

    private static EffectsFit Fit(string[] columns, Link link, params IEnumerable<Interval> rows) => EffectsFit.Of(NestTables.Of(columns, rows), link).Value;

    [Fact]
    public void A_constant_rate_needs_no_more_than_an_intercept()
    {
        var fit = Fit(["(Intercept)"], Link.LogHazard, Nests(26, 14));
        Near.Is(Math.Log(-Math.Log(26 / 40.0) / 14), fit.Coefficients[0].Clustered.Value, 1e-13);
        Assert.Equal(1, fit.Parameters);
        Near.Is(-2 * fit.LogLikelihood + 2 + 4 / 38.0, fit.Aicc.Value, 1e-14);
    }

    [Fact]
    public void All_survive_no_effect_is_finite_and_the_prior_bounds_them()
    {
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "cactus"], link, Nests(40, 0, withCactus: true));
            Near.Is(0, fit.LogLikelihood, 1, floor: 1e-12);
            Assert.All(fit.Coefficients, c => Assert.Equal("models.nothing_lost", c.Clustered.Why!.Key));
            Assert.Contains(fit.Warnings, w => w.Key == "models.nothing_lost");
            Assert.Equal(2, fit.Parameters);
            Assert.All(fit.WithPrior.Coefficients, c => Assert.InRange(c.Value!.Value, -15, 15));
            Near.Is(0, fit.WithPrior.Coefficients[1].Value, 0.01, floor: 1);
            Assert.True(fit.WithPrior.Coefficients.All(c => c.Low < c.Value && c.Value < c.High));
        }
    }

    [Fact]
    public void None_survive_no_effect_is_finite_and_the_prior_bounds_them()
    {
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "cactus"], link, Nests(0, 40, withCactus: true));
            Near.Is(0, fit.LogLikelihood, 1, floor: 1e-9);
            Assert.All(fit.Coefficients, c => Assert.Equal("models.everything_lost", c.Clustered.Why!.Key));
            Assert.All(fit.WithPrior.Coefficients, c => Assert.InRange(c.Value!.Value, -15, 15));
        }
    }

    [Theory]
    [InlineData(1, "models.none_lost_where")]
    [InlineData(0, "models.all_lost_where")]
    public void A_class_without_a_loss_or_without_a_survival_is_named(int survives, string key)
    {
        var rows = Nests(12, 12).Select(i => i with { X = [1, 0] }).Concat(Enumerable.Range(0, 9).Select(i => new Interval("line " + i % 4, [1, 1], 14, survives == 0)));
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "cactus"], link, rows);
            Assert.Equal(key, fit.Coefficients[1].Clustered.Why!.Key);
            Near.Is(Math.Log(0.5) * 24, fit.LogLikelihood, 1e-12);
            var alone = Fit(["(Intercept)"], link, Nests(12, 12));
            Near.Is(alone.Coefficients[0].Independent.Value!.Value, fit.Coefficients[0].Independent.Value, 1e-10);
            Assert.NotNull(fit.Coefficients[0].Clustered.Se);
            Assert.Equal(1, fit.Warnings.Count(w => w.Key == key));
        }
    }

    [Fact]
    public void A_covariate_without_losses_at_several_of_its_values_is_not_said_to_have_one()
    {
        var rows = Nests(12, 12).Select(i => i with { X = [1, 0] }).Concat(Enumerable.Range(0, 8).Select(i => new Interval("line " + i % 4, [1, 1 + i % 2], 14, false)));
        var fit = Fit(["(Intercept)", "trees"], Link.LogHazard, rows);
        Assert.Equal("models.separated", fit.Coefficients[1].Independent.Why!.Key);
        Near.Is(24 * Math.Log(0.5), fit.LogLikelihood, 1e-12);
    }

    [Fact]
    public void A_covariate_that_tells_all_losses_apart_is_said_with_the_intercept()
    {
        var rows = Enumerable.Range(0, 30).Select(i => new Interval("line " + i % 5, [1, i], 14, i >= 17));
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "concealment"], link, rows);
            Assert.All(fit.Coefficients, c => Assert.Equal("models.separated", c.Independent.Why!.Key));
            Near.Is(0, fit.LogLikelihood, 1, floor: 1e-8);
            Assert.True((fit.WithPrior.Coefficients[1].Value > 0) == (link == Link.LogHazard));
        }
    }

    [Fact]
    public void A_combination_of_two_columns_that_separates_is_found_and_the_rest_stands_at_the_limit()
    {
        // Neither class alone is without losses or survivals; both together are never lost.
        var rows = Nests(10, 10).Select(i => i with { X = [1, 0, 0, 0] })
            .Concat(Nests(10, 6).Select(i => i with { X = [1, 1, 0, 0] }))
            .Concat(Nests(10, 4).Select(i => i with { X = [1, 0, 1, 0] }))
            .Concat(Nests(7, 0).Select(i => i with { X = [1, 1, 1, 1] }));
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "cactus", "fenced", "both"], link, rows);
            Assert.Equal([true, true, true, false], fit.Coefficients.Select(c => c.Independent.Value is not null));
            var supremum = new[] { (10, 20), (10, 16), (10, 14) }.Sum(c => Binomial(c.Item1, c.Item2));
            Near.Is(supremum, fit.LogLikelihood, 1e-11);
        }
    }

    [Fact]
    public void One_class_lost_and_another_whole_leave_what_is_between()
    {
        var rows = Nests(5, 5).Select(i => i with { X = [1, 0, 0] }).Concat(Nests(6, 0).Select(i => i with { X = [1, 1, 0] })).Concat(Nests(0, 6).Select(i => i with { X = [1, 0, 1] }));
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "cactus", "road"], link, rows);
            Near.Is(10 * Math.Log(0.5), fit.LogLikelihood, 1e-11);
            Assert.Equal([true, false, false], fit.Coefficients.Select(c => c.Independent.Value is not null));
        }
    }

    [Fact]
    public void A_fortnight_in_which_nothing_was_lost_leaves_losses_to_the_other()
    {
        // Every interval with a loss reaches into the first fortnight; at the limit only its days there count.
        foreach (var link in Links)
        {
            ModelTableMaker both = new(["(Intercept)", "second"]), first = new(["(Intercept)"]);
            foreach (var maker in new[] { both, first }) maker.Intervals = 30;
            for (var g = 0; g < 5; g++)
            {
                foreach (var maker in new[] { both, first })
                {
                    maker.Group("line " + g);
                    var early = maker.Pattern(maker == both ? [1, 0] : [1]);
                    maker.Watched(early, 14 * (3 + g));
                    maker.LostWithin(early, 9);
                    if (maker == first)
                    {
                        maker.LostWithin(early, 6);
                        continue;
                    }

                    var late = maker.Pattern([1, 1]);
                    maker.Watched(late, 14 * (2 + g));
                    maker.LostWithin([(early, 6), (late, 8)]);
                }
            }

            EffectsFit fit = EffectsFit.Of(both.Table(), link).Value, limit = EffectsFit.Of(first.Table(), link).Value;
            Assert.Equal("models.none_lost_where", fit.Coefficients[1].Independent.Why!.Key);
            Near.Is(limit.LogLikelihood, fit.LogLikelihood, 1e-12);
            Near.Is(limit.Coefficients[0].Clustered.Value!.Value, fit.Coefficients[0].Clustered.Value, 1e-9);
            Near.Is(limit.Coefficients[0].Clustered.Se!.Value, fit.Coefficients[0].Clustered.Se, 1e-8);
        }
    }

    [Fact]
    public void The_bounded_answer_is_the_peak_of_likelihood_and_the_prior_that_is_written_down()
    {
        var table = NestTables.Season("separation120");
        foreach (var link in Links)
        {
            var beta = EffectsFit.Of(table, link).Value.WithPrior.Effects.Beta;
            var days = EffectColumns.Days(table);
            double Mean(int j) => Enumerable.Range(0, table.Patterns).Sum(p => days[p] * table.Row(p)[j]) / days.Sum();
            double TwoSd(int j) => 2 * Math.Sqrt(Enumerable.Range(0, table.Patterns).Sum(p => days[p] * Math.Pow(table.Row(p)[j] - Mean(j), 2)) / days.Sum());
            double[] step = [0, 1, TwoSd(2), TwoSd(3)], mean = [1, Mean(1), Mean(2), Mean(3)];
            var atMean = Enumerable.Range(0, 4).Sum(j => beta[j] * mean[j]);
            var score = SlowLikelihood.Score(table, link, beta);
            for (var j = 0; j < 4; j++) Near.Is(score[j], atMean * mean[j] / 100 + beta[j] * step[j] * step[j] / 6.25, 1e-6, floor: 0.01);
        }
    }

    [Fact]
    public void Constant_and_dependent_columns_are_left_out_and_said()
    {
        var rows = Nests(20, 20, withCactus: true).Select(i => i with { X = [1, 3, i.X[1], 1 - i.X[1], 2021] });
        foreach (var link in Links)
        {
            var fit = Fit(["(Intercept)", "three", "cactus", "grass", "year"], link, rows);
            var plain = Fit(["(Intercept)", "cactus"], link, Nests(20, 20, withCactus: true));
            Assert.Equal(["models.constant_left_out", null, "models.dependent_left_out", "models.constant_left_out"], fit.Coefficients.Skip(1).Select(c => c.Clustered.Why?.Key));
            Assert.Equal(2, fit.Parameters);
            Near.Is(plain.LogLikelihood, fit.LogLikelihood, 1e-13);
            Near.Is(plain.Coefficients[1].Clustered.Value!.Value, fit.Coefficients[2].Clustered.Value, 1e-9);
            Assert.False(fit.IsSeparated);
        }
    }

    [Fact]
    public void A_left_out_column_and_a_separated_one_are_told_apart()
    {
        var rows = Nests(10, 10).Select(i => i with { X = [1, 5, 0] }).Concat(Nests(8, 0).Select(i => i with { X = [1, 5, 1] }));
        var fit = Fit(["(Intercept)", "five", "cactus"], Link.LogHazard, rows);
        Assert.Equal([null, "models.constant_left_out", "models.none_lost_where"], fit.Coefficients.Select(c => c.Independent.Why?.Key));
    }

    [Fact]
    public void One_group_has_no_clustered_error_and_says_so()
    {
        var fit = Fit(["(Intercept)"], Link.DailyLogit, Nests(20, 20).Select(i => i with { Group = "one" }));
        Assert.Equal("models.one_group", fit.Coefficients[0].Clustered.Why!.Key);
        Assert.NotNull(fit.Coefficients[0].Clustered.Value);
        Assert.Null(fit.Coefficients[0].ClusteredP);
        Assert.NotNull(fit.Coefficients[0].IndependentP);
    }

    [Fact]
    public void Groups_that_are_alike_leave_no_clustered_error()
    {
        var rows = Enumerable.Range(0, 4).SelectMany(g => Nests(2, 2).Select(i => i with { Group = "line " + g }));
        Assert.Equal("models.groups_alike", Fit(["(Intercept)"], Link.LogHazard, rows).Coefficients[0].Clustered.Why!.Key);
    }

    /// <summary>Two lines leave one direction in which groups differ: what lies across it is rounding, and may fall below 0.</summary>
    [Fact]
    public void Two_lines_that_differ_in_one_cover_only_give_numbers_or_reasons()
    {
        var across = 0;
        for (var lost = 1; lost < 8; lost++)
        {
            for (var days = 10; days < 30; days++)
            {
                foreach (var link in Links)
                {
                    var grass = Enumerable.Range(0, 2).SelectMany(g => Enumerable.Range(0, 8).Select(n => new Interval("line " + g, [1, 0, 0], days + n % 3, n < lost)));
                    var others = Enumerable.Range(0, 2).SelectMany(g => Enumerable.Range(0, 12).Select(n => new Interval("line " + g, [1, n % 2, 1 - n % 2], days, n < 3 + g * lost % 5 + n % 2)));
                    var fit = Fit(["(Intercept)", "cactus", "brush"], link, [.. grass, .. others]);
                    if (fit.Coefficients[0].Clustered.Why?.Key == "models.groups_alike") across++;
                    else Assert.True(fit.Coefficients[0].Clustered.Se > 0);
                    var grassy = SurvivalPrediction.At(fit.Clustered, [new PatternDays([1, 0, 0], 28)], 28);
                    Assert.True(grassy.Why is not null || grassy.Low < grassy.Value && grassy.Value < grassy.High);
                }
            }
        }

        Assert.True(across > 100, "only " + across);
    }

    [Fact]
    public void One_nest_gives_a_reason_or_a_number_but_nothing_that_is_none()
    {
        foreach (var link in Links)
        {
            foreach (var lost in new[] { true, false })
            {
                var fit = Fit(["(Intercept)"], link, new Interval("line", [1], 14, lost));
                Assert.Null(fit.Coefficients[0].Independent.Value);
                Assert.False(fit.Aicc.HasValue);
            }

            var both = Fit(["(Intercept)", "late"], link, new Interval("line", [1, 0], 14, false), new Interval("line", [1, 1], 14, true));
            Assert.True(both.IsSeparated);
        }
    }

    [Fact]
    public void Without_an_interval_there_is_a_reason()
    {
        var maker = new ModelTableMaker(["(Intercept)"]);
        Assert.Equal("models.no_interval", EffectsFit.Of(maker.Table(), Link.LogHazard).Why!.Key);
        maker.Group("line");
        maker.Pattern([0]);
        Assert.Equal("models.no_column", EffectsFit.Of(maker.Table(), Link.LogHazard).Why!.Key);
    }

    [Theory]
    [InlineData(700)]
    [InlineData(-700)]
    public void Huge_offsets_shift_the_intercept_and_nothing_else(double shift)
    {
        foreach (var link in Links)
        {
            EffectsFit plain = Fit(["(Intercept)", "cactus"], link, Nests(20, 20, withCactus: true)), shifted = Fit(["(Intercept)", "cactus"], link, Nests(20, 20, withCactus: true).Select(i => i with { Offset = shift }));
            Near.Is(plain.LogLikelihood, shifted.LogLikelihood, 1e-12);
            Near.Is(plain.Coefficients[0].Independent.Value!.Value - shift, shifted.Coefficients[0].Independent.Value, 1e-13);
            Near.Is(plain.Coefficients[1].Clustered.Value!.Value, shifted.Coefficients[1].Clustered.Value, 1e-8, floor: 1e-3);
        }
    }

    [Fact]
    public void A_model_without_an_intercept_and_badly_scaled_columns_is_fitted_too()
    {
        var rows = Nests(20, 20, withCactus: true).Select(i => i with { X = [i.X[1] * 1e9, (1 - i.X[1]) * 1e-9] });
        var fit = Fit(["cactus", "grass"], Link.LogHazard, rows);
        var plain = Fit(["(Intercept)", "cactus"], Link.LogHazard, Nests(20, 20, withCactus: true));
        Near.Is(plain.LogLikelihood, fit.LogLikelihood, 1e-13);
        Near.Is(plain.Coefficients[0].Independent.Value!.Value * 1e9, fit.Coefficients[1].Independent.Value, 1e-9);
        var years = Nests(20, 20, withCactus: true).Select((i, n) => i with { X = [1, 2020 + n % 3] });
        var centred = Nests(20, 20, withCactus: true).Select((i, n) => i with { X = [1, n % 3] });
        Near.Is(Fit(["(Intercept)", "year"], Link.LogHazard, centred).Coefficients[1].Clustered.Se!.Value, Fit(["(Intercept)", "year"], Link.LogHazard, years).Coefficients[1].Clustered.Se, 1e-8);
    }

    [Fact]
    public void A_fit_has_the_same_bits_on_one_thread_and_on_all()
    {
        var table = RandomTables.Of(21, groups: 3000);
        foreach (var link in Links)
        {
            EffectsFit all = EffectsFit.Of(table, link).Value, one = null!;
            OneThread.Run(() => one = EffectsFit.Of(table, link).Value);
            Assert.Equal(all.Clustered.Beta, one.Clustered.Beta);
            Assert.Equal(all.Clustered.Covariance, one.Clustered.Covariance);
            Assert.Equal(all.LogLikelihood, one.LogLikelihood);
        }
    }

    private static double Binomial(int survived, int all)
    {
        double p = (double)survived / all;
        return survived * Math.Log(p) + (all - survived) * Math.Log(1 - p);
    }

    internal static IEnumerable<Interval> Nests(int whole, int lost, bool withCactus = false) =>
        Enumerable.Range(0, whole + lost).Select(i => new Interval("line " + i * i % 7, withCactus ? [1, i % 3 == 0 || i < 5 ? 1 : 0] : [1], 14, i >= whole));
}
