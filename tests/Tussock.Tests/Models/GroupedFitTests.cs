using Tussock.Models;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Models;

public sealed class GroupedFitTests
{
    private static readonly GroupedOptions Quick = new() { Profile = false };

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Nothing_lost_and_nothing_found_intact_are_reasons(Link link)
    {
        var intact = Table((0, 28, null, 5), (1, 28, null, 5));
        var lost = Table((0, 14, 14.0, 5), (1, 14, 14.0, 5));
        Assert.Equal("grouped.nothing_lost", GroupedFit.Of(intact, link).Why?.Key);
        Assert.Equal("grouped.nothing_intact", GroupedFit.Of(lost, link).Why?.Key);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void One_line_says_nothing_of_the_spread_and_all_of_the_rest(Link link)
    {
        var fit = GroupedFit.Of(Table((0, 28, null, 5), (0, 14, 14.0, 4)), link).Value;
        Assert.Null(fit.Spreads[0].Sd.Value);
        Assert.Equal("grouped.one_group", fit.Spreads[0].Sd.Why?.Key);
        Assert.NotNull(fit.Effects[0].Coefficient.Se);
        Assert.Equal(fit.LogLikelihoodWithoutGroups, fit.LogLikelihood);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Lines_more_alike_than_chance_have_a_spread_of_exactly_0_with_an_upper_limit(Link link)
    {
        var fit = GroupedFit.Of(Table([.. Enumerable.Range(0, 8).SelectMany(g => new[] { (g, 28.0, (double?)null, 6), (g, 14.0, 14.0, 3) })]), link).Value;
        var spread = fit.Spreads[0];
        Assert.Equal(0, spread.Sd.Value);
        Assert.Equal(0, spread.Sd.Low);
        Assert.InRange(spread.Sd.High!.Value, 0.05, 1);
        Assert.Null(spread.Sd.Se);
        Assert.Null(spread.LogSe);
        Assert.Equal(0, spread.LikelihoodRatio);
        Assert.Equal(0.5, spread.P);
        Assert.Contains(fit.Warnings, w => w.Key == "grouped.at_zero");
        Assert.All(fit.Modes, m => Assert.Equal(0, m.Mode));
    }

    [Theory]
    [InlineData(Link.LogHazard, 1)]
    [InlineData(Link.LogHazard, 9)]
    [InlineData(Link.DailyLogit, 9)]
    public void Lines_of_one_fate_each_have_no_end_of_spread_or_a_finite_one_never_a_nonsense(Link link, int nodes)
    {
        var table = Table([.. Enumerable.Range(0, 6).SelectMany(g => new[] { g % 2 == 0 ? (g, 28.0, (double?)null, 10) : (g, 14.0, 14.0, 10) })]);
        var fit = GroupedFit.Of(table, link, new GroupedOptions { Nodes = nodes });
        if (fit.HasValue) Assert.True(fit.Value.Spreads[0].Sd.Value > 2);
        else Assert.Equal("grouped.spread_without_end", fit.Why.Key);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void One_nest_a_line_is_fitted(Link link)
    {
        var fit = GroupedFit.Of(InventedTables.Of(4, 300, 1, mixed: false), link, Quick).Value;
        Assert.All(fit.Effects, e => Assert.True(double.IsFinite(e.Coefficient.Se!.Value)));
        Assert.True(fit.Spreads[0].Sd.Value >= 0);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Very_large_lines_and_very_different_ones_are_fitted(Link link)
    {
        var large = GroupedFit.Of(InventedTables.Of(6, 8, 3000, 0.5, mixed: false), link, Quick).Value;
        Assert.InRange(large.Spreads[0].Sd.Value!.Value, 0.2, 1);
        var wide = GroupedFit.Of(InventedTables.Of(7, 60, 20, 3, mixed: false), link, Quick).Value;
        Assert.InRange(wide.Spreads[0].Sd.Value!.Value, 2, 6);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void A_class_without_a_loss_has_no_value_and_the_rest_stands_at_its_limit(Link link)
    {
        var table = NestTables.Season("separation120");
        var fit = GroupedFit.Of(table, link).Value;
        var cactus = fit.Effects[1];
        Assert.Null(cactus.Coefficient.Value);
        Assert.NotNull(cactus.Coefficient.Why);
        Assert.All(fit.Effects.Where(e => e != cactus), e => Assert.True(e.Coefficient.Se < 5));
        Assert.Contains(fit.Warnings, w => w.Key == "models.none_lost_where");
        var grass = GroupedFit.Of(WithoutCactus(table), link).Value;
        Near.Is(grass.LogLikelihood, fit.LogLikelihood, 1e-10);
        foreach (var (one, other) in new[] { (0, 0), (1, 2), (2, 3) }) Near.Is(grass.Effects[one].Coefficient.Value!.Value, fit.Effects[other].Coefficient.Value, 1e-8);
        Near.Is(grass.Spreads[0].Sd.Value!.Value, fit.Spreads[0].Sd.Value, 1e-8, floor: 1e-3);
        var bounded = fit.WithPrior!;
        Assert.InRange(Math.Abs(bounded.Effects[1].Coefficient.Value!.Value), 1, 20);
        Assert.True(bounded.LogLikelihood <= fit.LogLikelihood);
        Assert.Null(bounded.WithPrior);
        PatternDays[] inside = [new([1, 1, 20, 50], 28)], outside = [new([1, 0, 20, 50], 28)];
        foreach (var survival in new Func<GroupedFit, IReadOnlyList<PatternDays>, Estimate>[] { (f, c) => GroupedSurvival.Average(f, c, 28), (f, c) => GroupedSurvival.Typical(f, c, 28) })
        {
            Assert.Equal("models.prediction_unknown", survival(fit, inside).Why?.Key);
            Assert.NotNull(survival(fit, outside).Low);
            Assert.NotNull(survival(bounded, inside).Low);
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void A_column_that_follows_from_others_is_left_out_and_changes_nothing(Link link)
    {
        var one = InventedTables.Of(12, 9, 10);
        var more = new ModelTableMaker(["(Intercept)", "other", "x", "constant", "sum"]);
        for (var g = 0; g < one.Groups; g++)
        {
            more.Group(one.GroupNames[g]);
            var place = Enumerable.Range(one.GroupPatterns[g], one.GroupPatterns[g + 1] - one.GroupPatterns[g]).ToDictionary(p => p, p => more.Pattern([.. one.Row(p), 7, one.Row(p)[1] + 2 * one.Row(p)[2]], one.Offset[p]));
            foreach (var (old, p) in place)
            {
                more.Watched(p, one.Watched[old]);
                more.LostAt(p, one.Timed[old]);
            }

            for (var l = one.GroupLosses[g]; l < one.GroupLosses[g + 1]; l++)
                more.LostWithin([.. Enumerable.Range(one.LossPieces[l], one.LossPieces[l + 1] - one.LossPieces[l]).Select(q => (place[one.PiecePattern[q]], one.PieceDays[q]))], one.LossWeight[l]);
        }

        var (few, many) = (GroupedFit.Of(one, link, Quick).Value, GroupedFit.Of(more.Table(), link, Quick).Value);
        Near.Is(few.LogLikelihood, many.LogLikelihood, 1e-10);
        Assert.Equal(few.Parameters, many.Parameters);
        for (var i = 0; i < 3; i++) Near.Is(few.Effects[i].Coefficient.Se!.Value, many.Effects[i].Coefficient.Se, 1e-7);
        Assert.Equal("models.constant_left_out", many.Effects[3].Coefficient.Why?.Key);
        Assert.Equal("models.dependent_left_out", many.Effects[4].Coefficient.Why?.Key);
    }

    [Fact]
    public void Every_sentence_of_a_fit_can_be_said()
    {
        foreach (var set in new[] { "tiny20", "separation120", "typical144" })
        {
            var fit = GroupedFit.Of(NestTables.Season(set), Link.LogHazard).Value;
            Assert.All(fit.Warnings, w => Assert.NotEmpty(Catalogue.English.Say(w)));
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Profile_limits_of_the_spread_lie_where_the_likelihood_has_fallen_by_half_the_quantile(Link link)
    {
        var table = NestTables.Season("strong600");
        var fit = GroupedFit.Of(table, link).Value;
        var sd = fit.Spreads[0].Sd;
        Assert.True(sd.Low > 0 && sd.Low < sd.Value && sd.Value < sd.High);
        foreach (var limit in new[] { sd.Low!.Value, sd.High!.Value }) Near.Is(fit.LogLikelihood - 3.841458820694124 / 2, HighestAt(table, link, fit, limit), 1e-9);
        Near.Is(sd.Se!.Value / sd.Value!.Value, fit.Spreads[0].LogSe, 1e-12);
    }

    [Fact]
    public void A_spread_that_the_data_do_not_bound_above_says_so()
    {
        var fit = GroupedFit.Of(Table((0, 28, null, 10), (1, 14, 14.0, 10), (2, 28, null, 5), (2, 14, 14.0, 5)), Link.LogHazard).Value;
        Assert.NotNull(fit.Spreads[0].Sd.Value);
        Assert.Null(fit.Spreads[0].Sd.High);
        Assert.Equal("grouped.spread_unbounded", fit.Spreads[0].Sd.Why?.Key);
    }

    [Fact]
    public void Aicc_counts_coefficients_and_one_a_spread_and_needs_more_intervals_than_parameters()
    {
        var fit = GroupedFit.Of(NestTables.Season("typical144"), Link.LogHazard, Quick).Value;
        Assert.Equal(5, fit.Parameters);
        Near.Is(-2 * fit.LogLikelihood + 10 + 60.0 / (254 - 6), fit.Aicc.Value, 1e-12);
        var few = GroupedFit.Of(Table((0, 28, null, 1), (0, 14, 14.0, 1), (1, 28, null, 1)), Link.LogHazard, Quick).Value;
        Assert.Equal("models.no_aicc", few.Aicc.Why?.Key);
    }

    [Fact]
    public void An_effect_that_is_constant_within_lines_has_the_limits_of_Student_s_t()
    {
        var fit = GroupedFit.Of(NestTables.Season("strong600"), Link.LogHazard, Quick).Value;
        double Reach(int effect) => (fit.Effects[effect].Coefficient.High!.Value - fit.Effects[effect].Coefficient.Value!.Value) / fit.Effects[effect].Coefficient.Se!.Value;
        foreach (var (effect, reach) in new[] { (0, Tussock.Numerics.Tails.StudentQuantile(0.975, 28)), (1, 1.959963984540054), (2, Tussock.Numerics.Tails.StudentQuantile(0.975, 28)), (3, 1.959963984540054) }) Near.Is(reach, Reach(effect), 1e-9);
        Assert.Equal(28, fit.Typical.Degrees);
    }

    [Fact]
    public void Averaging_over_lines_lowers_high_survival_and_limits_enclose_the_estimate()
    {
        var fit = GroupedFit.Of(NestTables.Season("strong600"), Link.LogHazard).Value;
        PatternDays[] days = [new([1, 0, 20, 50], 14), new([1, 1, 20, 50], 14)];
        var (typical, average) = (GroupedSurvival.Typical(fit, days, 28), GroupedSurvival.Average(fit, days, 28));
        Assert.True(average.Value < typical.Value);
        foreach (var e in new[] { typical, average }) Assert.True(e.Low < e.Value && e.Value < e.High && e.Se > 0);
    }

    [Fact]
    public void The_standard_error_of_a_prediction_is_the_delta_method_s()
    {
        var fit = GroupedFit.Of(NestTables.Season("typical144"), Link.DailyLogit).Value;
        PatternDays[] days = [new([1, 1, 30, 40], 28)];
        foreach (var survival in new Func<GroupedFit, Estimate>[] { f => GroupedSurvival.Typical(f, days, 28), f => GroupedSurvival.Average(f, days, 28) })
        {
            var slope = new double[5];
            for (var i = 0; i < 5; i++)
            {
                GroupedFit Moved(double by) => i < 4
                    ? fit with { Typical = fit.Typical with { Beta = [.. fit.Typical.Beta.Select((b, j) => j == i ? b + by : b)] } }
                    : fit with { Spreads = [fit.Spreads[0] with { Sd = fit.Spreads[0].Sd with { Value = fit.Spreads[0].Sd.Value + by } }] };
                slope[i] = (survival(Moved(1e-5)).Value!.Value - survival(Moved(-1e-5)).Value!.Value) / 2e-5;
            }

            var variance = Enumerable.Range(0, 25).Sum(k => slope[k / 5] * slope[k % 5] * fit.Covariance[k]);
            Near.Is(Math.Sqrt(variance), survival(fit).Se, 1e-5);
        }
    }

    private static double HighestAt(ModelTable table, Link link, GroupedFit fit, double sigma)
    {
        var maximum = new MarginalMaximum(new MarginalLikelihood(table, link, 9));
        double[] point = [.. fit.Typical.Beta, sigma];
        maximum.Climb(point, [true, true, true, true, false], zeroIsMaximum: false);
        return maximum.At.Value;
    }

    private static ModelTable WithoutCactus(ModelTable table)
    {
        var maker = new ModelTableMaker([table.Columns[0], table.Columns[2], table.Columns[3]]);
        for (var g = 0; g < table.Groups; g++)
        {
            maker.Group(table.GroupNames[g]);
            for (var p = table.GroupPatterns[g]; p < table.GroupPatterns[g + 1]; p++)
                if (table.Row(p)[1] == 0) maker.Watched(maker.Pattern([1, table.Row(p)[2], table.Row(p)[3]]), table.Watched[p]);
            for (var l = table.GroupLosses[g]; l < table.GroupLosses[g + 1]; l++)
            {
                var x = table.Row(table.PiecePattern[l]);
                if (x[1] == 0) maker.LostWithin(maker.Pattern([1, x[2], x[3]]), table.PieceDays[l]);
            }
        }

        maker.Intervals = table.Intervals;
        return maker.Table();
    }

    /// <summary>A table of one column: group, days watched, days of the interval of the loss if lost, how many such nests.</summary>
    private static ModelTable Table(params (int Group, double Days, double? Loss, int Count)[] rows)
    {
        var maker = new ModelTableMaker(["(Intercept)"]);
        foreach (var group in rows.GroupBy(r => r.Group))
        {
            maker.Group("L" + group.Key);
            foreach (var row in group)
            {
                var p = maker.Pattern([1]);
                maker.Intervals += row.Count;
                for (var i = 0; i < row.Count; i++)
                {
                    if (row.Loss is { } days) maker.LostWithin(p, days);
                    else maker.Watched(p, row.Days);
                }
            }
        }

        return maker.Table();
    }
}
