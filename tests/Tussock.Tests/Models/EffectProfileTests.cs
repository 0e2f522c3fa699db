using System.Globalization;
using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class EffectProfileTests
{
    private static readonly Link[] Links = [Link.LogHazard, Link.DailyLogit];

    [Theory]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void At_both_limits_the_likelihood_of_the_other_effects_has_fallen_by_half_a_quantile(string set)
    {
        var table = NestTables.Season(set);
        foreach (var link in Links)
        {
            var fit = EffectsFit.Of(table, link).Value;
            foreach (var column in table.Columns)
            {
                var profile = EffectProfile.Of(fit, column);
                Near.Is(fit.LogLikelihood - Tails.ChiSquareQuantile(0.95, 1) / 2, Held(table, link, column, profile.Low!.Value), 1e-11);
                Near.Is(fit.LogLikelihood - Tails.ChiSquareQuantile(0.95, 1) / 2, Held(table, link, column, profile.High!.Value), 1e-11);
                Assert.True(profile.Low < profile.Value && profile.Value < profile.High);
            }
        }
    }

    [Fact]
    public void A_class_without_a_loss_has_one_limit_and_says_that_the_other_side_is_open()
    {
        var table = NestTables.Season("separation120");
        foreach (var link in Links)
        {
            var fit = EffectsFit.Of(table, link).Value;
            var profile = EffectProfile.Of(fit, "cactus");
            Assert.Null(profile.Value);
            var known = link == Link.LogHazard ? profile.High : profile.Low;
            Assert.Null(link == Link.LogHazard ? profile.Low : profile.High);
            Assert.Equal(link == Link.LogHazard ? "models.profile_open_below" : "models.profile_open_above", profile.Why!.Key);
            Near.Is(fit.LogLikelihood - Tails.ChiSquareQuantile(0.95, 1) / 2, Held(table, link, "cactus", known!.Value), 1e-10);
            Assert.NotNull(EffectProfile.Of(fit, "concealment").Low);
            Assert.NotNull(EffectProfile.Of(fit, "concealment").High);
        }
    }

    [Fact]
    public void Nothing_lost_leaves_the_daily_loss_an_upper_limit()
    {
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)"], EffectsFitTests.Nests(40, 0)), Link.LogHazard).Value;
        var profile = EffectProfile.Of(fit, "(Intercept)");
        Assert.Null(profile.Low);
        Near.Is(Tails.ChiSquareQuantile(0.95, 1) / 2 / (40 * 14), Math.Exp(profile.High!.Value), 1e-9);
    }

    [Fact]
    public void Everything_lost_leaves_the_daily_loss_a_lower_limit()
    {
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)"], EffectsFitTests.Nests(0, 40)), Link.LogHazard).Value;
        var profile = EffectProfile.Of(fit, "(Intercept)");
        Assert.Null(profile.High);
        Near.Is(Math.Log(1 - Math.Exp(-Tails.ChiSquareQuantile(0.95, 1) / 80)) / -14, Math.Exp(profile.Low!.Value), 1e-9);
    }

    [Fact]
    public void A_combination_of_effects_has_the_limits_of_the_column_it_makes()
    {
        var table = NestTables.Season("typical144");
        var fit = EffectsFit.Of(table, Link.LogHazard).Value;
        var cactus = EffectProfile.Of(fit, [1, 1, 30, 40]);
        var moved = EffectsFit.Of(Moved(table, [0, 1, 30, 40]), Link.LogHazard).Value;
        Near.Is(EffectProfile.Of(moved, "(Intercept)").Low!.Value, cactus.Low, 1e-7);
        Near.Is(EffectProfile.Of(moved, "(Intercept)").High!.Value, cactus.High, 1e-7);
    }

    [Fact]
    public void A_column_left_out_has_no_limits()
    {
        var rows = EffectsFitTests.Nests(20, 20).Select(i => i with { X = [1, 3] });
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)", "three"], rows), Link.LogHazard).Value;
        Assert.Equal("models.constant_left_out", EffectProfile.Of(fit, "three").Why!.Key);
    }

    /// <summary>The highest log-likelihood with one effect held at b: its column goes into the offset.</summary>
    private static double Held(ModelTable table, Link link, string column, double b)
    {
        var j = table.Columns.IndexOf(column);
        return EffectsFit.Of(Copied(table, table.Columns, p => table.Row(p).ToArray(), p => b * table.Row(p)[j]), link, new EffectsOptions { Columns = [.. table.Columns.Where(c => c != column)] }).Value.LogLikelihood;
    }

    /// <summary>Every column but the first less a constant, so that the first effect is the linear predictor there.</summary>
    private static ModelTable Moved(ModelTable table, double[] by) => Copied(table, table.Columns, p => [.. table.Row(p).ToArray().Select((x, j) => x - by[j])], _ => 0);

    private static ModelTable Copied(ModelTable table, IEnumerable<string> columns, Func<int, double[]> row, Func<int, double> offset)
    {
        var maker = new ModelTableMaker([.. columns]) { Intervals = table.Intervals };
        for (var g = 0; g < table.Groups; g++)
        {
            maker.Group(g.ToString(CultureInfo.InvariantCulture));
            var place = new Dictionary<int, int>();
            for (var p = table.GroupPatterns[g]; p < table.GroupPatterns[g + 1]; p++) maker.Watched(place[p] = maker.Pattern(row(p), offset(p)), table.Watched[p]);
            for (var loss = table.GroupLosses[g]; loss < table.GroupLosses[g + 1]; loss++) maker.LostWithin(place[table.PiecePattern[table.LossPieces[loss]]], table.PieceDays[table.LossPieces[loss]], table.LossWeight[loss]);
        }

        return maker.Table();
    }
}

/// <summary>Against the profile limits of one daily rate, computed by one-dimensional root finding.</summary>
public class EffectProfileChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    public void The_limits_of_one_rate_are_those_of_daily_survival(string set)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", "daily_survival").GetProperty("all").GetProperty("profile_dsr");
        var table = NestTables.Season(set);
        var hazard = EffectProfile.Of(EffectsFit.Of(table, Link.LogHazard, new EffectsOptions { Columns = ["(Intercept)"] }).Value, "(Intercept)");
        Near.Is(expected[0].GetDouble(), Math.Exp(-Math.Exp(hazard.High!.Value)), 1e-10);
        Near.Is(expected[1].GetDouble(), Math.Exp(-Math.Exp(hazard.Low!.Value)), 1e-10);
        var logit = EffectProfile.Of(EffectsFit.Of(table, Link.DailyLogit, new EffectsOptions { Columns = ["(Intercept)"] }).Value, "(Intercept)");
        Near.Is(expected[0].GetDouble(), Exponentials.Expit(logit.Low!.Value), 1e-10);
        Near.Is(expected[1].GetDouble(), Exponentials.Expit(logit.High!.Value), 1e-10);
    }
}
