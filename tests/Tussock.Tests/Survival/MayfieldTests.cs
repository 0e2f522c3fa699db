using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class MayfieldTests
{
    [Fact]
    public void A_lost_interval_counts_half_and_a_camera_time_in_full()
    {
        var spans = NestRows.Spans(new NestRow(0, 28), new NestRow(0, 14, 28), new NestRow(1, 0, 14, 10), new NestRow(1, 0));
        Assert.Equal((2, 28 + 21 + 10), Mayfield.Exposure(spans));
    }

    [Fact]
    public void What_it_can_not_say_has_a_reason()
    {
        Assert.Equal("daily.no_exposure", Mayfield.FromExposure(0, 0).Why!.Key);
        Assert.Equal("daily.more_losses_than_days", Mayfield.FromExposure(3, 2).Why!.Key);
        Assert.Equal("daily.nothing_lost", Mayfield.FromExposure(0, 20).Why!.Key);
        Assert.Equal((1, null), (Mayfield.FromExposure(0, 20).Value, Mayfield.FromExposure(0, 20).Low));
        Assert.Equal("daily.every_day_a_loss", Mayfield.FromExposure(2, 2).Why!.Key);
    }
}

/// <summary>Mayfield 1961: 35 losses in 878 nest-days; <c>tests/checks/published-values</c>.</summary>
public class MayfieldChecks
{
    [Fact]
    public void Thirty_five_losses_in_878_nest_days()
    {
        var daily = Mayfield.FromExposure(35, 878);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "daily survival s"), daily.Value, 1e-12);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "se(s)"), daily.Se, 1e-12);
        var fortnight = DailySurvival.IfEvenOver(daily, 14);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "s^14"), fortnight.Value, 1e-12);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "se(s^14) delta"), fortnight.Se, 1e-12);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "CI s^14 via logit(s).lower"), fortnight.Low, 1e-10);
        Near.Is(PublishedValues.Of("mayfield.kirtland", "CI s^14 via logit(s).upper"), fortnight.High, 1e-10);
    }

    [Theory]
    [InlineData("A", 1)]
    [InlineData("B", 2)]
    public void The_small_data_set_with_two_checks_agrees(string cover, int place)
    {
        var spans = TwoChecks.Spans(c => c == cover);
        var (losses, days) = Mayfield.Exposure(spans);
        Assert.Equal(PublishedValues.Of("twocheck.mayfield", $"failures A,B[{place}]"), losses);
        Assert.Equal(PublishedValues.Of("twocheck.mayfield", $"exposure days A,B (midpoint)[{place}]"), days);
        Near.Is(PublishedValues.Of("twocheck.mayfield", $"daily survival A,B[{place}]"), Mayfield.Of(spans).Value, 1e-12);
    }
}
