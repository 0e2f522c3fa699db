using System.Globalization;
using Tussock.Layout;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Layout;

public class BalancedAcceptanceTests
{
    [Fact]
    public void From_the_beginning_it_is_Haltons_sequence()
    {
        var rows = Checks.Read("published-values", Path.Combine("data", "halton_first36.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray());
        Assert.All(rows, r =>
        {
            var (x, y) = BalancedAcceptance.From(0, 0).Point((int)r[0]);
            Assert.Equal(r[1], x, 1e-14);
            Assert.Equal(r[2], y, 1e-14);
        });
    }

    /// <summary>Robertson and others 2013: any 2^a · 3^b neighbours of the sequence lie in as many boxes of that partition, one in each, wherever the sequence begins.</summary>
    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, 2)]
    [InlineData(3, 2)]
    [InlineData(5, 3)]
    public void Neighbours_fill_the_boxes_one_each(int twos, int threes)
    {
        var (wide, high) = (1 << twos, (int)Math.Pow(3, threes));
        var chance = Seeded.Of(7);
        for (var repeat = 0; repeat < 20; repeat++)
        {
            var sequence = BalancedAcceptance.From(chance.NextBelow(1 << 24), chance.NextBelow(14_348_907));
            var from = chance.NextBelow(1000);
            var boxes = Enumerable.Range(from, wide * high).Select(sequence.Point).Select(p => ((int)(p.X * wide), (int)((p.Y * high) + 1e-9))).Distinct().Count();
            Assert.Equal(wide * high, boxes);
        }
    }
}
