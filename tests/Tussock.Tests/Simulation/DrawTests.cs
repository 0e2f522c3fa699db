using Tussock.Numerics;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Simulation;

public class DrawTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(0.3)]
    [InlineData(5)]
    [InlineData(480)]
    public void Counts_drawn_have_mean_and_variance_of_their_distribution(double mean)
    {
        var chance = Seeded.Of(1);
        var counts = Enumerable.Range(0, 20_000).Select(_ => (double)Draw.Poisson(mean, chance)).ToArray();
        var average = counts.Average();
        Assert.Equal(mean, average, (5 * Math.Sqrt(mean / counts.Length)) + 1e-12);
        Assert.Equal(mean, counts.Average(c => (c - average) * (c - average)), (mean * 0.06) + 1e-12);
    }

    [Fact]
    public void Weights_of_nothing_are_never_drawn()
    {
        var chance = Seeded.Of(2);
        var drawn = Enumerable.Range(0, 4000).Select(_ => Draw.Weighted([0, 1, 0, 3, 0], chance)).ToArray();
        Assert.Equal([1, 3], drawn.Distinct().Order());
        Assert.Equal(0.75, drawn.Count(d => d == 3) / 4000.0, 0.03);
    }

    [Fact]
    public void Weights_that_are_all_nothing_are_refused() => Assert.Throws<ArgumentException>(() => Draw.Weighted([0, 0], Seeded.Of(1)));

    [Fact]
    public void Drawing_all_without_putting_back_gives_each_once() =>
        Assert.Equal(Enumerable.Range(0, 50), Draw.Without(Enumerable.Range(0, 50), 50, Seeded.Of(3)).Order());

    [Fact]
    public void Every_item_is_drawn_equally_often()
    {
        var chance = Seeded.Of(4);
        var first = Enumerable.Range(0, 9000).Select(_ => Draw.Without([1, 2, 3], 1, chance)[0]).CountBy(x => x);
        Assert.All(first, c => Assert.InRange(c.Value, 2850, 3150));
    }
}
