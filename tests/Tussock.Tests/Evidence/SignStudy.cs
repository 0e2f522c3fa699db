using System.Globalization;
using Tussock.Evidence;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Evidence;

/// <summary>Seasons with known truth: do intervals hold it, do beliefs mean what they say? Small here; whole with TUSSOCK_LONG=1, figures in docs/methods/reading-remains.md.</summary>
public class SignStudy(ITestOutputHelper output)
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";

    /// <summary>Figures of the page come from other seeds than those that the method was made with.</summary>
    private static readonly ulong Seed = IsLong ? 990_000UL : 1_000UL;

    /// <summary>What signs that tell nothing may cost, in nats a nest: on average over places, and in the worst of them.</summary>
    private const double MostCostOnAverage = 0.1, MostCost = 0.5;

    [Theory]
    [InlineData(10)]
    [InlineData(20)]
    [InlineData(46)]
    public void Intervals_of_headline_shares_hold_the_truth(int confirmed)
    {
        var seasons = IsLong ? 2000 : 60;
        var held = new (int Present, int InPresent, int Remains, int InRemains)[seasons];
        Ordered.For(seasons, i =>
        {
            var truth = new InventedTruth(Seed + (ulong)i);
            var nests = truth.Losses(confirmed).Concat(truth.Losses(confirmed).Select(n => n with { Confirmed = null }));
            foreach (var (share, p) in Composition.Of(nests, Remains.Catalogue, true, 1).Shares.Zip(truth.Shares))
            {
                if (p == 0) continue;
                held[i].Present++;
                if (share.Share.Low <= p && p <= share.Share.High) held[i].InPresent++;
                if (share.ShareWithRemains.Low is null) continue;
                held[i].Remains++;
                if (share.ShareWithRemains.Low <= p && p <= share.ShareWithRemains.High) held[i].InRemains++;
            }
        }, TestContext.Current.CancellationToken);
        var (cameras, remains) = (held.Sum(h => (double)h.InPresent) / held.Sum(h => h.Present), held.Sum(h => (double)h.InRemains) / held.Sum(h => h.Remains));
        Say($"{confirmed} confirmed: cameras {cameras:F4}, with the remains {remains:F4}");
        Assert.InRange(cameras, 0.92, 1);
    }

    [Theory]
    [InlineData(10, true)]
    [InlineData(20, true)]
    [InlineData(50, true)]
    [InlineData(10, false)]
    [InlineData(50, false)]
    public void Beliefs_mean_what_they_say_and_cost_little_where_signs_tell_nothing(int confirmed, bool tells)
    {
        var (places, fresh) = IsLong ? (40, 10_000) : (12, 300);
        var scores = new (double Belief, double Key, double Shares, double Right, double Commonest, double Calibration)[places];
        Ordered.For(places, i => scores[i] = Scored(new InventedTruth(Seed + 100_000 + (ulong)i, tells), confirmed, fresh), TestContext.Current.CancellationToken);
        var calibration = scores.Average(s => s.Calibration);
        Say($"{confirmed} confirmed, signs {(tells ? "tell" : "tell nothing")}: log score {scores.Average(s => s.Belief):F3}, key alone {scores.Average(s => s.Key):F3}, shares alone {scores.Average(s => s.Shares):F3}, worst against shares {scores.Max(s => s.Belief - s.Shares):F3}; right {scores.Average(s => s.Right):F3}, commonest {scores.Average(s => s.Commonest):F3}, worst {scores.Min(s => s.Right - s.Commonest):F3}; calibration error mean {calibration:F3}, worst {scores.Max(s => s.Calibration):F3}");
        Assert.All(scores, s => Assert.True(s.Belief < s.Key));
        Assert.True(scores.Average(s => s.Belief - s.Shares) < MostCostOnAverage);
        Assert.All(scores, s => Assert.True(s.Belief - s.Shares < MostCost));
        if (confirmed == 50 && tells) Assert.InRange(calibration, 0, IsLong ? 0.05 : 0.07);
    }

    private static (double Belief, double Key, double Shares, double Right, double Commonest, double Calibration) Scored(InventedTruth truth, int confirmed, int fresh)
    {
        var (model, key) = (BeliefModel.Learn(Remains.Catalogue, truth.Losses(confirmed)), BeliefModel.KeyAlone(Remains.Catalogue));
        var shares = model.Of([]);
        double belief = 0, byKey = 0, byShares = 0, right = 0, commonest = 0;
        var (chances, happened) = (new double[fresh], new bool[fresh]);
        for (var i = 0; i < fresh; i++)
        {
            var nest = truth.Loss();
            var k = Remains.Catalogue.CulpritIndex(nest.Confirmed!);
            var read = model.Of(nest.Signs);
            belief -= Math.Log(read.Chances[k]) / fresh;
            byKey -= Math.Log(key.Of(nest.Signs).Chances[k]) / fresh;
            byShares -= Math.Log(shares.Chances[k]) / fresh;
            var leads = read.Chances.IndexOf(chances[i] = read.Chances.Max());
            happened[i] = leads == k;
            if (happened[i]) right += 1.0 / fresh;
            if (shares.Chances.IndexOf(shares.Chances.Max()) == k) commonest += 1.0 / fresh;
        }

        return (belief, byKey, byShares, right, commonest, Scoring.CalibrationErrorOf(chances, happened, 5));
    }

    private void Say(FormattableString figures)
    {
        var text = figures.ToString(CultureInfo.InvariantCulture);
        output.WriteLine(text);
        if (IsLong) Console.WriteLine(text);
    }
}
