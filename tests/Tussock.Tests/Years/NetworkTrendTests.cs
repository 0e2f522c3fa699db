using MathNet.Numerics.LinearAlgebra;
using Tussock.Numerics;
using Tussock.Years;
using Xunit;

namespace Tussock.Tests.Years;

/// <summary>The trend that properties share, held against the whole matrix written out.</summary>
public class NetworkTrendTests
{
    private static List<(int Property, int Year, double Value, double Variance)> Rows(ulong seed, int properties, int years, double slope, double yearSd)
    {
        var chance = Seeded.Of(seed);
        var shared = Enumerable.Range(0, years).Select(_ => yearSd * chance.NextNormal()).ToArray();
        var rows = new List<(int, int, double, double)>();
        for (var p = 0; p < properties; p++)
        {
            var own = 0.4 * chance.NextNormal();
            for (var t = 0; t < years; t++)
            {
                var v = 0.05 + (0.1 * chance.NextUniform());
                if (chance.NextUniform() < 0.8) rows.Add((p, 2015 + t, (slope * t) + own + shared[t] + (0.3 * chance.NextNormal()) + (Math.Sqrt(v) * chance.NextNormal()), v));
            }
        }

        return rows;
    }

    [Theory]
    [InlineData(0.1, 0.2, 0.05)]
    [InlineData(0, 0.3, 0)]
    [InlineData(0.5, 0, 0.2)]
    public void The_likelihood_is_that_of_the_whole_matrix(double property, double year, double own)
    {
        var rows = Rows(3, 6, 5, 0.1, 0.3);
        var known = rows.Select(r => r.Year).Distinct().Order().ToArray();
        var middle = rows.Average(r => (double)r.Year);
        var n = rows.Count;
        var whole = Matrix<double>.Build.Dense(n, n, (i, j) => (i == j ? rows[i].Variance + own : 0) + (rows[i].Property == rows[j].Property ? property : 0) + (rows[i].Year == rows[j].Year ? year : 0));
        var x = Matrix<double>.Build.Dense(n, 2, (i, j) => j == 0 ? 1 : rows[i].Year - middle);
        var y = Vector<double>.Build.Dense(n, i => rows[i].Value);
        var inverse = whole.Inverse();
        var information = x.Transpose() * inverse * x;
        var beta = information.Solve(x.Transpose() * inverse * y);
        var rest = y - (x * beta);
        var expected = -(Math.Log(whole.Determinant()) + Math.Log(information.Determinant()) + (rest * inverse * rest)) / 2;
        var at = new CrossedModel(rows, known).At((property, year, own));
        Near.Is(expected, at.LogLikelihood, 1e-10);
        Near.Is(beta[1], at.Slope, 1e-9);
        Near.Is(Math.Sqrt(information.Inverse()[1, 1]), at.SlopeSe, 1e-9);
    }

    [Fact]
    public void No_small_step_from_the_variances_found_is_better()
    {
        var rows = Rows(11, 12, 7, 0.05, 0.25);
        var found = NetworkTrend.Of(rows).Value;
        var model = new CrossedModel(rows, [.. rows.Select(r => r.Year).Distinct().Order()]);
        double p = found.PropertySd * found.PropertySd, t = found.YearSd * found.YearSd, o = found.OwnYearSd * found.OwnYearSd;
        var best = model.At((p, t, o)).LogLikelihood;
        foreach (var (a, b, c) in ((double, double, double)[])[(1.05, 1, 1), (0.95, 1, 1), (1, 1.05, 1), (1, 0.95, 1), (1, 1, 1.05), (1, 1, 0.95)]) Assert.True(model.At((p * a, t * b, o * c)).LogLikelihood <= best + 1e-7);
    }

    [Fact]
    public void Two_years_have_no_trend() => Assert.Equal("years.few_years", NetworkTrend.Of(Rows(1, 5, 2, 0, 0)).Why!.Key);

    [Fact]
    public void The_limits_of_the_slope_hold_the_truth_as_often_as_they_say()
    {
        var held = Enumerable.Range(0, 200).Count(i => NetworkTrend.Of(Rows((ulong)(100 + i), 8, 8, 0.1, 0.25)).Value.SlopeAYear is { Low: <= 0.1, High: >= 0.1 });
        Assert.InRange(held, 180, 198);
    }
}
