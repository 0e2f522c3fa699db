using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public sealed class MarginalLikelihoodTests
{
    public static TheoryData<Link, int> LinksAndNodes() => new() { { Link.LogHazard, 1 }, { Link.DailyLogit, 1 }, { Link.LogHazard, 2 }, { Link.DailyLogit, 5 }, { Link.LogHazard, 9 }, { Link.DailyLogit, 9 }, { Link.LogHazard, 25 } };

    [Theory]
    [MemberData(nameof(LinksAndNodes))]
    public void Gradient_and_second_derivatives_are_those_of_the_value_at_random_points(Link link, int nodes)
    {
        // 7 cases of 150 points; Richardson differences of third order, compared with the largest entry as unit.
        var random = Seeded.Of(20, (ulong)nodes);
        for (var i = 0; i < 150; i++)
        {
            var table = InventedTables.Of((ulong)i, 2, 4, 0.8);
            var likelihood = new MarginalLikelihood(table, link, nodes);
            double[] point = [(link == Link.LogHazard ? -3 : 3) + random.NextNormal(), random.NextNormal(), random.NextNormal() / 2, 0.1 + 1.2 * random.NextUniform()];
            Agree(likelihood, point, 1e-7);
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Gradient_and_second_derivatives_of_several_groupings_are_those_of_the_value(Link link)
    {
        var random = Seeded.Of(21);
        for (var i = 0; i < 60; i++)
        {
            var table = InventedTables.Of((ulong)i, 6, 4, 0.8);
            var likelihood = new NestedLaplace(table, link, [new Grouping("pasture", [0, 0, 0, 1, 1, 1]), new Grouping("year", [0, 1, 2, 0, 1, 2])]);
            double[] point = [(link == Link.LogHazard ? -3 : 3) + random.NextNormal(), random.NextNormal(), random.NextNormal() / 2, 0.1 + random.NextUniform(), 0.1 + random.NextUniform(), 0.1 + random.NextUniform()];
            if (i < 3) Agree(likelihood, point, 1e-6);
            Slopes(likelihood, point);
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void At_a_spread_of_0_the_second_derivative_is_the_score_test_s(Link link)
    {
        var likelihood = new MarginalLikelihood(InventedTables.Of(5, 3, 6), link, 9);
        double[] at = link == Link.LogHazard ? [-3, -0.5, 0.2, 0] : [3, 0.5, -0.2, 0], near = [.. at];
        near[3] = 1e-3;
        var (zero, small) = (new Derivatives(4), new Derivatives(4));
        likelihood.At(at, zero);
        likelihood.At(near, small);
        Near.Is(zero.Second[15], 2 * (small.Value - zero.Value) / 1e-6, 1e-4);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void The_slow_and_obvious_integral_agrees(Link link)
    {
        for (ulong seed = 0; seed < 20; seed++)
        {
            var table = InventedTables.Of(seed, 3, 8);
            double[] point = link == Link.LogHazard ? [-3.3, -0.6, 0.3, 0.7] : [3.3, 0.6, -0.3, 0.7];
            var fast = new Derivatives(4);
            new MarginalLikelihood(table, link, 25).At(point, fast);
            Near.Is(SlowMarginal.Of(table, link, point.AsSpan(0, 3), point[3]), fast.Value, 1e-9);
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void A_thousand_nests_in_one_line_lose_no_digits(Link link)
    {
        var table = InventedTables.Of(2, 1, 1000, mixed: false);
        double[] point = link == Link.LogHazard ? [-5, -0.6, 0.3, 0.1] : [5, 0.6, -0.3, 0.1];
        var fast = new Derivatives(4);
        new MarginalLikelihood(table, link, 25).At(point, fast);
        Near.Is(SlowMarginal.Of(table, link, point.AsSpan(0, 3), point[3]), fast.Value, 1e-10);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void The_number_of_threads_changes_no_bit(Link link)
    {
        var table = InventedTables.Of(9, 800, 8);
        double[] point = link == Link.LogHazard ? [-3.2, -0.5, 0.2, 0.6] : [3.2, 0.5, -0.2, 0.6];
        var (many, one) = (new Derivatives(4), new Derivatives(4));
        new MarginalLikelihood(table, link, 9).At(point, many);
        OneThread.Run(() => new MarginalLikelihood(table, link, 9).At(point, one));
        Assert.Equal(many.Value, one.Value);
        Assert.Equal(many.Gradient, one.Gradient);
        Assert.Equal(many.Second, one.Second);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Far_from_every_answer_the_numbers_stay_finite(Link link)
    {
        var likelihood = new MarginalLikelihood(InventedTables.Of(3, 4, 6), link, 25);
        var found = new Derivatives(4);
        foreach (var eta in new[] { -40.0, -10, 0, 10, 40 })
        {
            foreach (var sigma in new[] { 0.0, 1e-6, 0.5, 5, 25 })
            {
                likelihood.At([eta, 0, 0, sigma], found);
                Assert.True(double.IsFinite(found.Value), $"{eta} {sigma}");
                Assert.All(found.Gradient, x => Assert.True(double.IsFinite(x), $"{eta} {sigma}"));
                Assert.All(found.Second, x => Assert.True(double.IsFinite(x), $"{eta} {sigma}"));
            }
        }
    }

    private static void Slopes(NestedLaplace likelihood, double[] point)
    {
        double[] found = new double[point.Length], room = new double[point.Length];
        likelihood.First(point, found);
        for (var i = 0; i < point.Length; i++)
        {
            double At(double step) => likelihood.First([.. point.Select((x, j) => j == i ? x + step : x)], room);
            double Slope(double step) => (At(step) - At(-step)) / (2 * step);
            Near.Is((Slope(0.004) - 20 * Slope(0.002) + 64 * Slope(0.001)) / 45, found[i], 1e-7, floor: 1 + found.Max(Math.Abs));
        }
    }

    private static void Agree(ILikelihood likelihood, double[] point, double tolerance)
    {
        var (here, low, high) = (new Derivatives(point.Length), new Derivatives(point.Length), new Derivatives(point.Length));
        likelihood.At(point, here);
        double unit = 1 + here.Gradient.Max(Math.Abs), units = 1 + here.Second.Max(Math.Abs);
        for (var i = 0; i < point.Length; i++)
        {
            var (slope, slopes) = (0.0, new double[point.Length]);
            foreach (var (step, weight) in new[] { (0.004, 1.0 / 45), (0.002, -20.0 / 45), (0.001, 64.0 / 45) })
            {
                likelihood.At([.. point.Select((x, j) => j == i ? x + step : x)], high);
                likelihood.At([.. point.Select((x, j) => j == i ? x - step : x)], low);
                slope += weight * (high.Value - low.Value) / (2 * step);
                for (var j = 0; j < point.Length; j++) slopes[j] += weight * (high.Gradient[j] - low.Gradient[j]) / (2 * step);
            }

            Near.Is(slope, here.Gradient[i], tolerance, unit);
            for (var j = 0; j <= i; j++) Near.Is(slopes[j], here.Second[i * point.Length + j], tolerance, units);
        }
    }
}
