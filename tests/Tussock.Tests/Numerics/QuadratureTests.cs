using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

/// <summary>Quadrature rules against closed values: moments are exact for every polynomial that the rule promises.</summary>
public sealed class QuadratureTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(8)]
    [InlineData(64)]
    [InlineData(200)]
    public void Legendre_is_exact_up_to_degree_2n_minus_1(int n)
    {
        var rule = GaussLegendre.Of(n);
        for (var power = 0; power < 2 * n; power++)
        {
            var found = rule.Nodes.Zip(rule.Weights, (x, w) => w * Math.Pow(x, power)).Sum();
            Assert.Equal(power % 2 == 1 ? 0 : 2.0 / (power + 1), found, 1e-13);
        }

        Assert.Equal(rule.Nodes.Order(), rule.Nodes);
    }

    [Fact]
    public void Legendre_of_two_nodes_sits_at_one_over_root_three() => Assert.Equal(1 / Math.Sqrt(3), GaussLegendre.Of(2).Nodes[1], 1e-15);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(9)]
    [InlineData(31)]
    [InlineData(100)]
    public void Hermite_is_exact_up_to_degree_2n_minus_1(int n)
    {
        var rule = GaussHermite.Of(n);
        var moment = 1.0;
        for (var power = 0; power < Math.Min(2 * n, 60); power += 2)
        {
            if (power > 0) moment *= power - 1;
            Assert.Equal(1, rule.Nodes.Zip(rule.Weights, (x, w) => w * Math.Pow(x, power)).Sum() / moment, 1e-11);
        }

        Assert.Equal(n, rule.Nodes.Distinct().Count());
        Assert.Equal(rule.Nodes.Order(), rule.Nodes);
    }

    [Fact]
    public void Hermite_of_three_nodes_is_root_three_and_one_sixth()
    {
        var rule = GaussHermite.Of(3);
        Assert.Equal(Math.Sqrt(3), rule.Nodes[2], 1e-14);
        Assert.Equal(1.0 / 6, rule.Weights[2], 1e-14);
        Assert.Equal(2.0 / 3, rule.Weights[1], 1e-14);
    }

    [Fact]
    public void Interpolation_reproduces_a_polynomial_of_its_degree()
    {
        var weights = new double[6];
        new Interpolation(6).Add(2.3, 2, weights);
        Assert.Equal(2 * Math.Pow(2.3, 5), weights.Select((w, i) => w * Math.Pow(i, 5)).Sum(), 1e-11);
    }

    [Theory]
    [InlineData(1e-12)]
    [InlineData(0.1)]
    [InlineData(0.7)]
    [InlineData(0.7000001)]
    [InlineData(3)]
    [InlineData(40)]
    public void The_log_of_one_minus_exp_keeps_its_digits(double x)
    {
        // The sum of the series of 1 − e^(−x) needs no subtraction when written for e^x − 1.
        double term = 1, sum = 0;
        for (var k = 1; k < 400; k++) sum += term *= x / k;
        var expected = x > 30 ? -Math.Exp(-x) : Math.Log(sum) - x;
        Assert.Equal(1, LogOneMinusExp.At(x) / expected, x > 30 ? 1e-12 : 1e-13);
        Assert.Equal(LogOneMinusExp.At(x), LogOneMinusExp.At(x, Math.Log(x)));
    }

    [Theory]
    [InlineData(0.3, 0.4)]
    [InlineData(-3, 2)]
    [InlineData(-30, 9)]
    [InlineData(2, 6)]
    [InlineData(-1, 0.02)]
    [InlineData(-1, 0)]
    public void Normal_weights_give_the_mean_of_a_table_and_its_tails(double mean, double sd)
    {
        const double h = 0.125;
        const int first = -200, last = 40;
        var weights = new NormalWeights();
        if (sd < h) weights.Interpolated(mean, sd, h, first, last);
        else weights.Trapezoid(mean, sd, h, first, last, true);
        var found = weights.Below;
        for (var i = 0; i < weights.Count; i++) if (weights.First + i >= first && weights.First + i <= last) found += weights.Values[i] * Math.Exp(-Math.Exp((weights.First + i) * h));
        var expected = 0.0;
        const double step = 0.001;
        for (var z = -9.0; z < 9; z += step) expected += Math.Exp(-Math.Exp(mean + (sd * z)) - (z * z / 2)) * step / Math.Sqrt(2 * Math.PI);
        Assert.Equal(expected, found, 1e-9);
    }
}
