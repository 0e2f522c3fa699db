using System.Globalization;
using System.Text.Json;
using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class LossResidualTests
{
    [Fact]
    public void Residuals_of_all_groups_and_of_all_classes_add_to_nothing_with_an_intercept_on_the_log_hazard()
    {
        var fit = EffectsFit.Of(NestTables.Season("strong600"), Link.LogHazard).Value;
        foreach (var parts in new[] { LossResidual.ByGroup(fit), LossResidual.ByRisk(fit) })
        {
            Near.Is(0, parts.Sum(r => r.Observed - r.Expected), 1e-8, floor: 1);
            Near.Is(236, parts.Sum(r => r.Observed), 1e-12);
        }
    }

    [Fact]
    public void The_residual_of_a_group_is_the_score_of_its_own_shift()
    {
        var table = RandomTables.Of(31, groups: 12);
        var fit = EffectsFit.Of(table, Link.LogHazard).Value;
        var residuals = LossResidual.ByGroup(fit);
        for (var g = 0; g < 12; g++)
        {
            var own = RandomTables.Only(table, g);
            Near.Is(SlowLikelihood.Score(own, Link.LogHazard, fit.Clustered.Beta)[0], residuals[g].Observed - residuals[g].Expected, 1e-9, floor: 1);
        }
    }

    [Fact]
    public void Classes_of_risk_rise_and_hold_about_as_many_expected_losses_each()
    {
        var fit = EffectsFit.Of(NestTables.Season("strong600"), Link.LogHazard).Value;
        var classes = LossResidual.ByRisk(fit, 5);
        Assert.Equal(5, classes.Length);
        Assert.Equal(["1", "2", "3", "4", "5"], classes.Select(c => c.Name));
        Assert.All(classes, c => Assert.InRange(c.Expected, 40, 55));
        Assert.Equal(classes.Select(c => c.Expected / c.Days).Order(), classes.Select(c => c.Expected / c.Days));
        Assert.All(classes, c => Assert.InRange(c.Standardised!.Value, -4, 4));
    }

    [Fact]
    public void A_constant_rate_has_one_class_of_risk()
    {
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)"], EffectsFitTests.Nests(20, 20)), Link.DailyLogit).Value;
        Assert.Single(LossResidual.ByRisk(fit));
    }

    [Fact]
    public void What_separation_fits_exactly_is_left_out()
    {
        var rows = EffectsFitTests.Nests(10, 10).Select(i => i with { X = [1, 0] }).Concat([new Interval("apart", [1, 1], 14, false)]);
        var fit = EffectsFit.Of(NestTables.Of(["(Intercept)", "cactus"], rows), Link.LogHazard).Value;
        Assert.DoesNotContain("apart", LossResidual.ByGroup(fit).Select(r => r.Name));
    }
}

public class GroupedDevianceTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static VisitRows Rows(int groups, double spread, ulong seed)
    {
        var chance = Seeded.Of(seed);
        var maker = new VisitRowsMaker(["(Intercept)", "cover"]);
        for (var g = 0; g < groups; g++)
        {
            maker.Group("line " + g.ToString(CultureInfo.InvariantCulture));
            var luck = spread * chance.NextNormal();
            for (var n = 0; n < 12; n++)
            {
                double[] x = [1, n % 2];
                var h = Math.Exp(-3.6 - 0.4 * x[1] + luck);
                var lost = -Math.Log(1 - chance.NextUniform()) / h;
                maker.Interval([new(x, 14)], lost <= 14);
                if (lost > 14) maker.Interval([new(x, 7), new(x, 7)], lost <= 28);
            }
        }

        return maker.Rows();
    }

    [Fact]
    public void Lines_that_differ_are_found_and_lines_that_do_not_are_not()
    {
        Assert.True(GroupedDeviance.Of(Rows(12, 1.2, 3), Link.LogHazard, new() { Replicates = 199 }, Stop).Value.P < 0.02);
        Assert.InRange(GroupedDeviance.Of(Rows(12, 0, 3), Link.LogHazard, new() { Replicates = 199 }, Stop).Value.P, 0.05, 1);
        Assert.InRange(GroupedDeviance.Of(Rows(12, 0, 4), Link.DailyLogit, new() { Replicates = 199, Cells = DevianceCells.Risk }, Stop).Value.P, 0.05, 1);
    }

    [Fact]
    public void The_same_seed_gives_the_same_bits_on_one_thread_and_another_seed_does_not()
    {
        var rows = Rows(6, 0.5, 9);
        var options = new DevianceOptions { Replicates = 99, Seed = 5 };
        GroupedDeviance all = GroupedDeviance.Of(rows, Link.LogHazard, options, Stop).Value, one = null!;
        OneThread.Run(() => one = GroupedDeviance.Of(rows, Link.LogHazard, options, Stop).Value);
        Assert.Equal(all, one);
        Assert.NotEqual(all.Mean, GroupedDeviance.Of(rows, Link.LogHazard, options with { Seed = 6 }, Stop).Value.Mean);
    }

    [Fact]
    public void It_can_be_stopped_and_needs_losses_and_survivals()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => GroupedDeviance.Of(Rows(4, 0, 1), Link.LogHazard, cancel: stop.Token));
        var maker = new VisitRowsMaker(["(Intercept)"]);
        maker.Group("line");
        maker.Interval([new([1], 14)], false);
        Assert.Equal("models.nothing_lost", GroupedDeviance.Of(maker.Rows(), Link.LogHazard, cancel: Stop).Why!.Key);
    }

    [Fact]
    public void Rows_add_up_to_the_table_that_they_would_make()
    {
        var table = Rows(5, 0, 2).Table();
        Assert.Equal(5, table.Groups);
        Assert.Equal(table.Losses, table.GroupLosses[^1]);
        var fit = EffectsFit.Of(table, Link.DailyLogit).Value;
        Assert.False(fit.IsSeparated);
        Assert.Contains(2, table.LossPieces.Zip(table.LossPieces.Skip(1), (a, b) => b - a));
    }
}

/// <summary>Eight nests worked out on paper, and their bootstrap by full enumeration.</summary>
public class FitChecksChecks
{
    [Fact]
    public void Eight_nests_agree()
    {
        using var json = JsonDocument.Parse(Checks.Read("interval-residuals", "expected.json"));
        var maker = new VisitRowsMaker(["(Intercept)"]);
        foreach (var group in json.RootElement.GetProperty("groups").EnumerateArray())
        {
            maker.Group(group.GetProperty("name").GetString()!);
            for (var n = 0; n < 4; n++) maker.Interval([new([1], 14)], n < group.GetProperty("observed").GetInt32());
        }

        var rows = maker.Rows();
        foreach (var link in new[] { Link.LogHazard, Link.DailyLogit })
        {
            var residuals = LossResidual.ByGroup(EffectsFit.Of(rows.Table(), link).Value);
            foreach (var (expected, found) in json.RootElement.GetProperty("groups").EnumerateArray().Zip(residuals))
            {
                Near.Is(expected.GetProperty("observed").GetDouble(), found.Observed, 1e-14);
                Near.Is(expected.GetProperty("expected").GetDouble(), found.Expected, 1e-11);
                Near.Is(expected.GetProperty("standardised").GetDouble(), found.Standardised, 1e-11);
            }

            var intervals = IntervalResidual.Of(rows, EffectsFit.Of(rows.Table(), link).Value, DevianceCells.Group);
            foreach (var (expected, found) in json.RootElement.GetProperty("groups").EnumerateArray().Zip(intervals))
            {
                Assert.Equal((expected.GetProperty("name").GetString(), 4, expected.GetProperty("observed").GetInt32()), (found.Name, found.Intervals, found.Observed));
                Near.Is(expected.GetProperty("interval_expected").GetDouble(), found.Expected, 1e-11);
                Near.Is(expected.GetProperty("interval_standardised").GetDouble(), found.Standardised, 1e-11);
            }

            var deviance = GroupedDeviance.Of(rows, link, new() { Replicates = 1999 }, TestContext.Current.CancellationToken).Value;
            Near.Is(json.RootElement.GetProperty("deviance").GetDouble(), deviance.Deviance, 1e-10);
            var p = json.RootElement.GetProperty("outcomes_at_least_as_large").GetDouble() / json.RootElement.GetProperty("outcomes").GetDouble();
            Assert.InRange(deviance.P, p - 4 * deviance.PError, p + 4 * deviance.PError);
            Near.Is(Math.Sqrt(deviance.P * (1 - deviance.P) / 1999), deviance.PError, 1e-12);
        }
    }
}
