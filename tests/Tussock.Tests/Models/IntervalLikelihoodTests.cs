using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class IntervalLikelihoodTests
{
    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Score_and_information_equal_complex_steps_at_a_thousand_points(Link link)
    {
        var chance = Seeded.Of(3);
        for (var point = 0; point < 1000; point++)
        {
            var table = RandomTables.Of((ulong)point);
            double[] beta = [(link == Link.LogHazard ? -3 : 3) + chance.NextNormal(), chance.NextNormal(), chance.NextNormal(), chance.NextNormal()];
            var likelihood = IntervalLikelihood.Of(table, link);
            likelihood.At(beta);
            Near.Is(SlowLikelihood.Value(table, link, beta), likelihood.LogLikelihood, 1e-12);
            Same(SlowLikelihood.Score(table, link, beta), likelihood.Score, 1e-11);
            Same(SlowLikelihood.Information(table, link, beta), likelihood.Information, 1e-11);
        }
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Scores_of_groups_add_up_and_each_is_that_of_its_own_table(Link link)
    {
        double[] beta = [link == Link.LogHazard ? -3 : 3, 0.3, -0.2, 0.5];
        var likelihood = IntervalLikelihood.Of(RandomTables.Of(5), link);
        likelihood.At(beta);
        var scores = likelihood.GroupScores();
        for (var j = 0; j < 4; j++) Near.Is(likelihood.Score[j], Enumerable.Range(0, 4).Sum(g => scores[g * 4 + j]), 1e-12);
        var alone = IntervalLikelihood.Of(RandomTables.Of(5, groups: 1), link);
        alone.At(beta);
        Same(alone.Score, scores[..4], 1e-12);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Every_linear_predictor_from_minus_700_to_30_gives_the_derivatives_of_its_own_formula(Link link)
    {
        for (var eta = -700.0; eta <= 30; eta += 0.25)
        {
            var at = link == Link.LogHazard ? eta : -eta;
            foreach (var days in new[] { 0.01, 1, 14, 1000 })
            {
                var found = One(link, at, m => m.LostWithin(0, days));
                var (h, u, b) = Ratios(link, at);
                var (log, slope, bend) = Loss(h * days, Math.Log(days) + LogOf(link, at));
                Near.Is(log, found.LogLikelihood, 1e-12, floor: 1e-300);
                Near.Is(slope * u, found.Score[0], 1e-12, floor: 1e-290);
                Near.Is(-slope * (b + u * u * bend), found.Information[0], 3e-6, floor: 1e-300);
                var watched = One(link, at, m => m.Watched(0, days));
                var hazard = DailyHazard.At(link, at);
                Near.Is(-days * hazard.H, watched.LogLikelihood, 1e-14, floor: 1e-300);
                Near.Is(-days * hazard.First, watched.Score[0], 1e-14, floor: 1e-300);
                Near.Is(days * hazard.Second, watched.Information[0], 1e-13, floor: 1e-300);
            }
        }
    }

    [Fact]
    public void A_loss_with_hardly_any_hazard_has_slope_1_by_log_hazard()
    {
        var tiny = One(Link.LogHazard, -700, m => m.LostWithin(0, 14));
        Near.Is(-700 + Math.Log(14), tiny.LogLikelihood, 1e-15);
        Assert.Equal(1, tiny.Score[0]);
        Near.Is(7 * Math.Exp(-700), tiny.Information[0], 1e-13);
    }

    [Theory]
    [InlineData(Link.LogHazard, 750)]
    [InlineData(Link.LogHazard, -1e6)]
    [InlineData(Link.DailyLogit, 1e6)]
    [InlineData(Link.DailyLogit, -1e6)]
    public void No_offset_however_huge_makes_a_number_that_is_none(Link link, double offset)
    {
        foreach (var several in new[] { false, true })
        {
            var found = One(link, offset, m =>
            {
                m.Watched(0, 3);
                if (several) m.LostWithin([(0, 5), (0, 6)]);
                else m.LostWithin(0, 11);
            });
            Assert.True(double.IsFinite(found.LogLikelihood) && double.IsFinite(found.Score[0]) && double.IsFinite(found.Information[0]));
        }
    }

    [Fact]
    public void Pieces_with_equal_effects_are_one_interval()
    {
        foreach (var link in new[] { Link.LogHazard, Link.DailyLogit })
        {
            for (var eta = -40.0; eta <= 5; eta += 0.5)
            {
                var at = link == Link.LogHazard ? eta : -eta;
                IntervalLikelihood one = One(link, at, m => m.LostWithin(0, 14)), three = One(link, at, m => m.LostWithin([(0, 3), (0, 10), (0, 1)]));
                Near.Is(one.LogLikelihood, three.LogLikelihood, 1e-12);
                Near.Is(one.Score[0], three.Score[0], 1e-12);
                Near.Is(one.Information[0], three.Information[0], 1e-9, floor: 1e-5);
            }
        }
    }

    [Fact]
    public void A_thousand_groups_give_the_same_bits_on_one_thread_and_on_all()
    {
        var table = RandomTables.Of(11, groups: 2000);
        foreach (var link in new[] { Link.LogHazard, Link.DailyLogit })
        {
            IntervalLikelihood all = IntervalLikelihood.Of(table, link), one = IntervalLikelihood.Of(table, link);
            double[] beta = [link == Link.LogHazard ? -3 : 3, 0.3, -0.2, 0.5];
            all.At(beta);
            OneThread.Run(() => one.At(beta));
            Assert.Equal(all.LogLikelihood, one.LogLikelihood);
            Assert.Equal(all.Score, one.Score);
            Assert.Equal(all.Information, one.Information);
        }
    }

    private static IntervalLikelihood One(Link link, double offset, Action<ModelTableMaker> add)
    {
        var maker = new ModelTableMaker(["(Intercept)"]);
        maker.Group("line");
        maker.Pattern([1], offset);
        add(maker);
        var likelihood = IntervalLikelihood.Of(maker.Table(), link);
        likelihood.At([0]);
        return likelihood;
    }

    /// <summary>h, u = h′/h and h″/h − u², with series in e^(−η) where the hazard is small.</summary>
    private static (double H, double U, double B) Ratios(Link link, double eta)
    {
        if (link == Link.LogHazard) return (Math.Exp(eta), 1, 0);
        double e = Math.Exp(-eta), s = Exponentials.Expit(eta);
        if (eta > 15) return (e - e * e / 2, -(1 - e / 2), -e / 2);
        double h = DailyHazard.Of(link, eta), u = Exponentials.Expit(-eta) / h;
        return (h, -u, u * (s - u));
    }

    private static double LogOf(Link link, double eta) => link == Link.LogHazard ? eta : eta > 40 ? -eta : Math.Log(DailyHazard.Of(link, eta));

    private static (double Log, double Slope, double Bend) Loss(double h, double log)
    {
        if (h < 1e-5) return (log - h / 2 + h * h / 24, 1 - h / 2 + h * h / 12, -h / 2 - h * h / 12);
        var slope = h > 700 ? 0 : h / Exponentials.Expm1(h);
        return (h > 0.7 ? Exponentials.Log1p(-Math.Exp(-h)) : Math.Log(-Exponentials.Expm1(-h)), slope, 1 - slope - h);
    }

    private static void Same(double[] expected, double[] found, double tolerance)
    {
        var size = expected.Max(Math.Abs);
        for (var i = 0; i < expected.Length; i++) Near.Is(expected[i], found[i], tolerance, floor: size);
    }
}
