using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Survival;

public class ForecastShareTests
{
    /// <summary>A line after the first check: nests whole on day 14 and nests lost by then.</summary>
    internal static IEnumerable<NestRow> Halfway(int line, int whole, int lost) => [.. Enumerable.Repeat(new NestRow(line, 14), whole), .. Enumerable.Repeat(new NestRow(line, 0, 14), lost)];

    [Fact]
    public void What_later_visits_found_changes_nothing()
    {
        NestRow[] later = [.. NestRows.Line(0, 7, 2), .. Halfway(0, 0, 3), .. NestRows.Line(1, 2, 8), .. Halfway(1, 0, 2), new NestRow(1, 0, 28), new NestRow(1, 0)];
        var forecast = ForecastShare.Of(NestRows.Spans(later), Trial.Usual, 5);
        var then = ForecastShare.Of(NestRows.Spans([.. Halfway(0, 9, 3), .. Halfway(1, 10, 2)]), Trial.Usual, 5);
        Assert.Equal((then.Value, then.Low, then.High), (forecast.Value, forecast.Low, forecast.High));
    }

    [Fact]
    public void No_more_can_be_whole_at_the_end_than_at_the_first_check_and_the_width_is_said()
    {
        var forecast = ForecastShare.Of(NestRows.Spans([.. Halfway(0, 9, 3), .. Halfway(1, 10, 2), .. Halfway(2, 8, 4)]), Trial.Usual, 1);
        Assert.InRange(forecast.High!.Value, forecast.Value!.Value, 27 / 36.0);
        Assert.InRange(forecast.Low!.Value, 0.1, forecast.Value.Value);
        Assert.True(forecast.High - forecast.Low > 0.2);
        Assert.Contains("assumed", Catalogue.English.Say(forecast.Notes.Single()), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_visits_or_with_one_line_there_is_a_reason()
    {
        Assert.Equal("chance.no_visit", ForecastShare.Of(NestSpans.Empty, Trial.Usual, 1).Why!.Key);
        Assert.Equal("chance.one_line", ForecastShare.Of(NestRows.Spans(Halfway(0, 5, 3)), Trial.Usual, 1).Why!.Key);
    }

    [Fact]
    public void All_lost_is_all_lost()
    {
        var forecast = ForecastShare.Of(NestRows.Spans([.. Halfway(0, 0, 5), .. Halfway(1, 0, 5)]), Trial.Usual, 1);
        Assert.Equal((0.0, 0.0, 0.0), (forecast.Value, forecast.Low, forecast.High));
    }

    [Fact]
    public void The_same_seed_gives_the_same_forecast()
    {
        var nests = NestRows.Spans([.. Halfway(0, 9, 3), .. Halfway(1, 10, 2)]);
        (double?, double?, double?) Points(ulong seed) => ForecastShare.Of(nests, Trial.Usual, seed) is var f ? (f.Value, f.Low, f.High) : default;
        Assert.Equal(Points(7), Points(7));
    }
}

public class ForecastShareLaws
{
    [Property(MaxTest = 4, Arbitrary = [typeof(InventedNests)])]
    public void It_lies_between_nothing_and_what_is_not_yet_lost(Invented season)
    {
        var nests = ForecastShare.AtFirstCheck(season.Spans, Trial.Usual);
        var watched = Enumerable.Range(0, nests.Count).Where(nests.IsWatched).ToArray();
        var forecast = ForecastShare.Of(season.Spans, Trial.Usual, 3);
        if (forecast.Value is null) return;
        Assert.InRange(forecast.Low!.Value, 0, forecast.Value.Value);
        Assert.InRange(forecast.High!.Value, forecast.Value.Value, watched.Count(r => !nests.IsLost(r)) / (double)watched.Length);
    }
}

/// <summary>The mean of the draws at one φ against sums over plain grids, slow and obvious.</summary>
public class ForecastShareChecks
{
    [Theory]
    [InlineData(0.5, 6, 2, 3, 5)]
    [InlineData(0.3, 6, 2, 3, 5)]
    [InlineData(0.5, 12, 0, 11, 1)]
    public void The_mean_of_the_draws_is_that_of_a_plain_sum(double phi, int whole, int lost, int otherWhole, int otherLost)
    {
        var drawn = new double[ForecastShare.Draws];
        Assert.Null(ForecastShare.Draw(NestRows.Spans([.. ForecastShareTests.Halfway(0, whole, lost), .. ForecastShareTests.Halfway(1, otherWhole, otherLost)]), new HazardShape(phi, Trial.Usual), Seeded.Of(11), drawn));
        var sd = Math.Sqrt(drawn.Sum(d => Math.Pow(d - drawn.Average(), 2)) / drawn.Length);
        var mean = Mean(phi, [(whole, lost), (otherWhole, otherLost)]);
        Assert.InRange(drawn.Average(), mean - (4 * sd / 100), mean + (4 * sd / 100));
    }

    private static double Mean(double phi, (int Whole, int Lost)[] lines)
    {
        double all = 0, share = 0;
        for (var logit = -6.8; logit < 7; logit += 0.4)
        {
            for (var sd = 0.1; sd < 5; sd += 0.2)
            {
                var beta = Beta(logit, sd);
                var each = lines.Select(l =>
                {
                    double Likelihood(double u) => Math.Exp(-Math.Exp(u) * phi * l.Whole) * Math.Pow(1 - Math.Exp(-Math.Exp(u) * phi), l.Lost);
                    return (Chance: Normal(z => Likelihood(beta + (sd * z))), Whole: Normal(z => Likelihood(beta + (sd * z)) * l.Whole * Math.Exp(-Math.Exp(beta + (sd * z)) * (1 - phi))));
                }).ToArray();
                var weight = Math.Exp((-logit * logit / 4.5) - (sd * sd / 2)) * each[0].Chance * each[1].Chance;
                all += weight;
                if (weight > 0) share += weight * each.Sum(e => e.Whole / e.Chance) / lines.Sum(l => l.Whole + l.Lost);
            }
        }

        return share / all;
    }

    private static double Normal(Func<double, double> f)
    {
        var sum = 0.0;
        for (var z = -7.0; z <= 7; z += 0.25) sum += f(z) * Math.Exp(-z * z / 2);
        return sum * 0.25 / Math.Sqrt(2 * Math.PI);
    }

    private static double Beta(double logit, double sd)
    {
        double low = -40, high = 40;
        for (var i = 0; i < 45; i++)
        {
            var beta = (low + high) / 2;
            if (Normal(z => Math.Exp(-Math.Exp(beta + (sd * z)))) > 1 / (1 + Math.Exp(-logit))) low = beta;
            else high = beta;
        }

        return low;
    }
}
