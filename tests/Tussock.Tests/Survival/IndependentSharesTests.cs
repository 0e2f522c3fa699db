using FsCheck.Xunit;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class IndependentSharesTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(20)]
    [InlineData(100_000)]
    public void None_intact_gives_a_lower_limit_of_exactly_0_and_all_intact_an_upper_one_of_exactly_1(int n)
    {
        Assert.Equal(0, Wilson.Limits(0, n).Low);
        Assert.Equal(0, ClopperPearson.Limits(0, n).Low);
        Assert.Equal(0, Jeffreys.Limits(0, n).Low);
        Assert.Equal(1, Wilson.Limits(n, n).High);
        Assert.Equal(1, ClopperPearson.Limits(n, n).High);
        Assert.Equal(1, Jeffreys.Limits(n, n).High);
    }

    [Fact]
    public void Counts_and_levels_outside_their_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Wilson.Limits(1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => ClopperPearson.Limits(3, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Jeffreys.Limits(-1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Wilson.Limits(1, 2, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Wilson.Limits(1, 2, 1));
    }
}

public class IndependentSharesLaws
{
    [Property]
    public void Intervals_hold_the_share_and_turn_round_with_it(uint x, uint size)
    {
        var n = (int)(size % 500) + 1;
        var k = (int)(x % ((uint)n + 1));
        foreach (var limits in new Func<int, int, double, (double Low, double High)>[] { Wilson.Limits, ClopperPearson.Limits, Jeffreys.Limits })
        {
            var (low, high) = limits(k, n, 0.95);
            var turned = limits(n - k, n, 0.95);
            Assert.InRange((double)k / n, low, high);
            Assert.Equal(1 - high, turned.Low, 1e-10);
            Assert.Equal(1 - low, turned.High, 1e-10);
        }
    }
}

/// <summary>Newcombe 1998, table I, and Brown, Cai and DasGupta 2001: <c>tests/checks/published-values</c>.</summary>
public class IndependentSharesChecks
{
    [Theory]
    [InlineData(81, 263)]
    [InlineData(15, 148)]
    [InlineData(0, 20)]
    [InlineData(1, 29)]
    public void Limits_are_the_published_ones(int k, int n)
    {
        Compare(k, n, "Wilson", Wilson.Limits(k, n));
        Compare(k, n, "Clopper-Pearson", ClopperPearson.Limits(k, n));
        Compare(k, n, "Jeffreys (equal tail, 0 at x=0)", Jeffreys.Limits(k, n));
    }

    private static void Compare(int k, int n, string method, (double Low, double High) limits)
    {
        Near.Is(PublishedValues.Of($"prop.{k}/{n}", method + ".lower"), limits.Low, 1e-8);
        Near.Is(PublishedValues.Of($"prop.{k}/{n}", method + ".upper"), limits.High, 1e-8);
    }
}
