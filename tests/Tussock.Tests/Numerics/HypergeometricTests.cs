using System.Globalization;
using FsCheck.Xunit;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

public static class HypergeometricTests
{
    [Fact]
    public static void The_whole_distribution_is_certain() => Assert.Equal(1, Hypergeometric.AtLeast(0, 5, 3, 10));

    [Fact]
    public static void More_than_can_be_is_impossible() => Assert.Equal(0, Hypergeometric.AtLeast(4, 5, 3, 10));

    [Fact]
    public static void Nothing_marked_or_nobody_there_is_certain()
    {
        Assert.Equal(1, Hypergeometric.AtLeast(0, 4, 0, 8));
        Assert.Equal(1, Hypergeometric.AtLeast(0, 0, 0, 0));
    }

    [Fact]
    public static void A_far_tail_of_many_does_not_vanish_into_nothing_or_above_one() => Assert.InRange(Hypergeometric.AtLeast(4000, 100_000, 10_000, 200_000), 1 - 1e-12, 1);

    [Fact]
    public static void Impossible_arguments_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => Hypergeometric.AtLeast(1, 9, 3, 8));
}

public static class HypergeometricLaws
{
    [Property(MaxTest = 200)]
    public static void It_agrees_with_counting_every_way(byte a, byte b, byte c, byte k)
    {
        var all = a % 11;
        var drawn = all == 0 ? 0 : b % (all + 1);
        var marked = all == 0 ? 0 : c % (all + 1);
        var least = k % 12;
        var ways = Enumerable.Range(0, 1 << all).Where(set => int.PopCount(set) == drawn).ToArray();
        var share = (double)ways.Count(set => int.PopCount(set & ((1 << marked) - 1)) >= least) / ways.Length;
        Assert.Equal(share, Hypergeometric.AtLeast(least, drawn, marked, all), 12);
    }
}

public static class HypergeometricChecks
{
    [Fact]
    public static void The_tasting_of_eight_cups_agrees()
    {
        foreach (var line in Checks.Read("tasting-of-eight", "data.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1))
        {
            var cells = line.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray();
            Assert.Equal(cells[4] / cells[5], Hypergeometric.AtLeast((int)cells[0], (int)cells[1], (int)cells[2], (int)cells[3]), 12);
        }
    }
}
