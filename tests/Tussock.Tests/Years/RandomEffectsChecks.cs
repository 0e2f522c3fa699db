using System.Globalization;
using Tussock.Years;
using Xunit;

namespace Tussock.Tests.Years;

/// <summary>Thirteen trials put together (Colditz et al. 1994, JAMA 271:698–702, as in Viechtbauer 2010, J. Stat. Softw. 36(3)), and six constructed years: tests/checks/published-values.</summary>
public class RandomEffectsChecks
{
    private static (double[] Y, double[] V, double[] X) Trials(string file, int x)
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", file)).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c.Trim('"'), CultureInfo.InvariantCulture)).ToArray()).ToArray();
        var (y, v) = file.StartsWith("bcg", StringComparison.Ordinal) ? (1, 2) : (3, 4);
        return ([.. rows.Select(r => r[y])], [.. rows.Select(r => r[v])], [.. rows.Select(r => r[x])]);
    }

    private static void Is(string id, string quantity, double? found, double digits = 1e-7) => Near.Is(PublishedValues.Of(id, quantity), found, digits, 1e-3);

    [Fact]
    public void The_mean_of_thirteen_trials_is_the_published_one()
    {
        var (y, v, _) = Trials("bcg_effects.csv", 3);
        var fit = RandomEffects.Of(y, v).Value;
        Is("bcg.REML", "estimate", fit.Coefficients[0]);
        Is("bcg.REML", "se", fit.Se(0));
        Is("bcg.REML", "tau2", fit.Tau2);
        Is("bcg.REML", "se tau2", fit.Tau2Se);
        Is("bcg.REML", "Q(12)", fit.Q);
        Is("bcg.REML", "I2 %", 100 * fit.I2);
        Is("bcg.REML", "H2", fit.H2);
        Is("bcg.REML", "tau2 Q-profile CI.lower", fit.Tau2Limits.Low, 3e-4);
        Is("bcg.REML", "tau2 Q-profile CI.upper", fit.Tau2Limits.High, 3e-4);
        Is("bcg.REML.KH", "se Knapp-Hartung", fit.KnappHartungSe(0));
        Is("bcg.REML.KH", "CI.lower", fit.Limits(0).Low);
        Is("bcg.REML.KH", "CI.upper", fit.Limits(0).High);
    }

    [Fact]
    public void The_slope_of_latitude_is_the_published_one()
    {
        var (y, v, latitude) = Trials("bcg_effects.csv", 3);
        var fit = RandomEffects.Of(y, v, [latitude]).Value;
        for (var i = 0; i < 2; i++)
        {
            Is("bcg.ablat", $"beta[{i + 1}]", fit.Coefficients[i]);
            Is("bcg.ablat", $"se[{i + 1}]", fit.Se(i));
        }

        Is("bcg.ablat", "tau2", fit.Tau2, 1e-6);
    }

    [Fact]
    public void The_trend_over_six_years_is_the_reference_one()
    {
        var (y, v, year) = Trials("years_constructed.csv", 0);
        var fit = RandomEffects.Of(y, v, [[.. year.Select(x => x - 2018)]]).Value;
        for (var i = 0; i < 2; i++)
        {
            Is("years.trend", $"beta[{i + 1}]", fit.Coefficients[i]);
            Is("years.trend", $"se[{i + 1}]", fit.Se(i));
        }

        Assert.Equal(0, fit.Tau2);
        var crossed = NetworkTrend.Of([.. year.Select((x, i) => (0, (int)x, y[i], v[i]))]).Value;
        Is("years.trend", "beta[2]", crossed.SlopeAYear.Value, 1e-5);
        Is("years.trend", "se[2]", crossed.SlopeAYear.Se, 1e-5);
    }

    [Fact]
    public void Estimates_that_agree_have_no_variance_between_and_no_narrower_limits_for_it()
    {
        var fit = RandomEffects.Of([1, 1.0001, 0.9999, 1], [0.04, 0.04, 0.04, 0.04]).Value;
        Assert.Equal(0, fit.Tau2);
        Assert.True(fit.Limits(0).Se >= fit.Se(0));
        Assert.Equal("years.too_few", RandomEffects.Of([1], [0.1]).Why!.Key);
        Assert.Equal("years.says_nothing", RandomEffects.Of([1, 2, 3], [1, 1, 1], [[4, 4, 4]]).Why!.Key);
        Assert.Throws<ArgumentException>(() => RandomEffects.Of([1, 2], [1, 0]));
    }

    [Fact]
    public void The_restricted_maximum_is_where_a_search_by_steps_finds_it()
    {
        double[] y = [0.2, 1.4, -0.6, 0.9, 2.2], v = [0.1, 0.3, 0.2, 0.05, 0.4];
        var fit = new WeightedFit(y, v, []);
        var best = Enumerable.Range(0, 40000).Select(i => i / 10000.0).MaxBy(t => fit.At(t)!.LogLikelihood);
        Near.Is(best, RandomEffects.Of(y, v).Value.Tau2, 2e-4);
    }
}
