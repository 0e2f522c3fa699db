using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class DailySurvivalTests
{
    private const double HalfChi = 1.9207294103470658;

    private static Estimate Of(params IEnumerable<NestRow> rows) => DailySurvival.Of(NestRows.Spans(rows));

    [Fact]
    public void Equal_intervals_have_a_closed_form()
    {
        // 40 nests, 14 days each, 14 lost: s = (26/40)^(1/14).
        var daily = Of([.. Enumerable.Repeat(new NestRow(0, 14), 26), .. Enumerable.Repeat(new NestRow(1, 0, 14), 14)]);
        Near.Is(Math.Pow(26 / 40.0, 1 / 14.0), daily.Value, 1e-13);
        Near.Is(daily.Value!.Value / (14 * 0.65) * Math.Sqrt(0.65 * 0.35 / 40), daily.Se, 1e-10);
    }

    [Fact]
    public void Camera_times_are_losses_over_days()
    {
        var daily = Of(new NestRow(0, 0, 14, 10), new NestRow(0, 14, T: 20), new NestRow(0, 30));
        Near.Is(Math.Exp(-2 / 60.0), daily.Value, 1e-13);
    }

    [Fact]
    public void All_survive_gives_1_with_a_lower_limit_from_the_days()
    {
        var daily = Of(new NestRow(0, 28), new NestRow(0, 14));
        Assert.Equal((1, 1), (daily.Value, daily.High));
        Near.Is(Math.Exp(-HalfChi / 42), daily.Low, 1e-10);
    }

    [Fact]
    public void All_lost_before_an_intact_visit_gives_0_with_an_upper_limit_from_the_profile()
    {
        var daily = Of(new NestRow(0, 0, 14));
        Assert.Equal((0, 0), (daily.Value, daily.Low));
        Near.Is(Math.Pow(1 - Math.Exp(-HalfChi), 1 / 14.0), daily.High, 1e-10);
    }

    [Theory]
    [InlineData(0.01)]
    [InlineData(1)]
    [InlineData(1e6)]
    public void The_unit_of_time_does_not_matter_however_enormous(double unit)
    {
        var daily = Of([.. Enumerable.Repeat(new NestRow(0, 14 * unit), 26), .. Enumerable.Repeat(new NestRow(1, 0, 14 * unit), 14)]);
        Near.Is(Math.Log(40 / 26.0) / 14, -Math.Log(daily.Value!.Value) * unit, 1e-7);
        Assert.True(daily.Low < daily.Value && daily.Value < daily.High);
    }

    [Fact]
    public void A_single_nest_lost_after_an_intact_visit_has_limits_on_both_sides()
    {
        var daily = Of(new NestRow(0, 14, 28));
        Near.Is(Math.Pow(0.5, 1 / 14.0), daily.Value, 1e-12);
        Assert.True(daily.Low < daily.Value && daily.Value < daily.High);
    }

    [Fact]
    public void Without_a_visit_there_is_a_reason() => Assert.Equal("daily.no_visit", Of(new NestRow(0, 0)).Why!.Key);

    [Fact]
    public void Even_loss_over_28_days_is_said_to_be_supposed()
    {
        var even = DailySurvival.IfEvenOver(Of(new NestRow(0, 14, 28)), 28);
        Near.Is(0.25, even.Value, 1e-12);
        Assert.Contains(even.Notes, n => n.Key == "daily.if_even");
    }
}

[Properties(Arbitrary = [typeof(InventedNests)])]
public class DailySurvivalLaws
{
    [Property]
    public void Order_of_rows_and_nests_never_seen_again_change_nothing(Invented season)
    {
        Estimate one = DailySurvival.Of(season.Spans), other = DailySurvival.Of(NestRows.Spans(season.Rows.Reverse().Append(new NestRow(9, 0))));
        Near.Is(one.Value!.Value, other.Value, 1e-12);
        Near.Is(one.Low!.Value, other.Low, 1e-11);
        Near.Is(one.High!.Value, other.High, 1e-11);
    }

    [Property]
    public void The_same_lines_again_shrink_the_interval(Invented season)
    {
        Estimate one = DailySurvival.Of(season.Spans), two = DailySurvival.Of(NestRows.Spans(NestRows.Twice([.. season.Rows])));
        Near.Is(one.Value!.Value, two.Value, 1e-12);
        Assert.True(two.High - two.Low < one.High - one.Low);
    }
}

/// <summary>Against direct maximisation and two general libraries: block <c>daily_survival</c> of the reference seasons, and the small data set of the published values.</summary>
public class DailySurvivalChecks
{
    [Theory]
    [InlineData("all_survive48")]
    [InlineData("separation120")]
    [InlineData("sparse10k")]
    [InlineData("strong600")]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    public void Estimate_and_profile_limits_agree(string set)
    {
        var block = ReferenceSeason.Block(set, "expected.json", "daily_survival");
        foreach (var (path, spans) in ReferenceSeason.Groups(set).Where(g => !g.Path.StartsWith("pasture", StringComparison.Ordinal)))
        {
            var expected = block.GetProperty(path == "season" ? "all" : path["cover/".Length..]);
            var daily = DailySurvival.Of(spans);
            Near.Is(expected.GetProperty("dsr").GetDouble(), daily.Value, 1e-12);
            Near.Is(expected.GetProperty("profile_dsr")[0].GetDouble(), daily.Low, 1e-10);
            Near.Is(expected.GetProperty("profile_dsr")[1].GetDouble(), daily.High, 1e-10);
            if (expected.TryGetProperty("se_dsr_delta", out var se)) Near.Is(se.GetDouble(), daily.Se, 1e-8);
            var even = DailySurvival.IfEvenOver(daily, 28);
            Near.Is(expected.GetProperty("S28").GetDouble(), even.Value, 1e-10);
            Near.Is(expected.GetProperty("profile_S28")[0].GetDouble(), even.Low, 1e-8);
        }
    }

    [Theory]
    [InlineData("strong600")]
    [InlineData("typical144")]
    public void Camera_times_agree_with_exact_times_in_a_general_survival_library(string set)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", "aft_exact_mixture").GetProperty("exponential_intercept").GetProperty("direct");
        var h = Math.Exp(-expected.GetProperty("coef").GetProperty("(Intercept)").GetDouble());
        var spans = ReferenceSeason.Whole(set, cameras: true);
        Near.Is(Math.Exp(-h), DailySurvival.Of(spans).Value, 1e-9);
        Near.Is(expected.GetProperty("loglik").GetDouble(), PieceLikelihood.From(spans, double.PositiveInfinity).LogLikelihood(h, 0), 1e-10);
    }

    [Fact]
    public void The_small_data_set_with_two_checks_agrees()
    {
        var spans = TwoChecks.Spans(_ => true);
        Near.Is(PublishedValues.Of("twocheck.cloglog.const", "daily survival exp(-exp(b0))"), DailySurvival.Of(spans).Value, 1e-9);
        Near.Is(PublishedValues.Of("twocheck.const", "28-day survival"), DailySurvival.IfEvenOver(DailySurvival.Of(spans), 28).Value, 1e-9);
        var h = -Math.Log(DailySurvival.Of(spans).Value!.Value);
        Near.Is(PublishedValues.Of("twocheck.logit.const", "logLik"), PieceLikelihood.From(spans, double.PositiveInfinity).LogLikelihood(h, 0), 1e-10);
    }
}
