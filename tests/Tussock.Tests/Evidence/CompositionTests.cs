using System.Collections.Immutable;
using System.Globalization;
using FsCheck.Xunit;
using Tussock.Evidence;
using Xunit;

namespace Tussock.Tests.Evidence;

public class CompositionTests
{
    private static readonly (string, string) Skunky = ("opening", "large end");
    private static readonly (string, string) Hoggy = ("rooting", "yes");

    private static NestEvidence[] Season(int confirmedSkunks, int confirmedHogs, int others) =>
    [
        .. Enumerable.Range(0, confirmedSkunks).Select(i => Remains.Nest(i % 5, "skunk", Skunky)),
        .. Enumerable.Range(0, confirmedHogs).Select(i => Remains.Nest(i % 4, "feral_hog", Hoggy)),
        .. Enumerable.Range(0, others).Select(i => Remains.Nest(i % 6, null, i % 3 == 0 ? Skunky : Hoggy)),
    ];

    private static CulpritShare Of(Composition composition, string culprit) => composition.Shares.Single(s => s.Culprit == culprit);

    [Fact]
    public void Fewer_than_five_confirmed_losses_give_no_share_but_the_mean_belief()
    {
        var composition = Composition.Of(Season(4, 0, 6), Remains.Catalogue, true, 1);
        Assert.Equal("signs.share.few_confirmed", Of(composition, "skunk").Share.Why!.Key);
        Assert.Equal("signs.share.few_confirmed", Of(composition, "skunk").ShareWithRemains.Why!.Key);
        Assert.Equal(1, composition.Shares.Sum(s => s.Naive!.Value), 12);
        Assert.True(Of(composition, "skunk").Naive > 0.4);
    }

    [Fact]
    public void Five_confirmed_losses_give_the_share_among_them_with_limits()
    {
        var share = Of(Composition.Of(Season(4, 1, 6), Remains.Catalogue, true, 1), "skunk").Share;
        Assert.Equal(0.8, share.Value!.Value, 12);
        Assert.True(share.Low < 0.8 && share.High > 0.8 && share.Notes.IsEmpty);
        var never = Of(Composition.Of(Season(4, 1, 6), Remains.Catalogue, true, 1), "bobcat").Share;
        Assert.Equal((0.0, 0.0), (never.Value, never.Low));
        Assert.True(never.High > 0.2);
    }

    [Fact]
    public void Cameras_that_were_not_drawn_label_the_share() =>
        Assert.Equal("signs.share.where_cameras_stood", Of(Composition.Of(Season(4, 1, 6), Remains.Catalogue, false, 1), "skunk").Share.Notes.Single().Key);

    [Fact]
    public void Nests_that_were_not_lost_and_cameras_that_saw_nobody_are_in_no_count()
    {
        var nests = Season(4, 1, 6).Append(Remains.Nest(0, "bobcat") with { IsLost = false });
        Assert.Equal((11, 5), (Composition.Of(nests, Remains.Catalogue, true, 1).Losses, Composition.Of(nests, Remains.Catalogue, true, 1).Confirmed));
        Assert.Equal("signs.share.no_losses", Composition.Of([], Remains.Catalogue, true, 1).Shares[0].Share.Why!.Key);
        Assert.Null(Composition.Of([], Remains.Catalogue, true, 1).Shares[0].Naive);
    }

    [Fact]
    public void Remains_move_the_share_to_what_all_losses_look_like()
    {
        var share = Of(Composition.Of(Season(6, 6, 18), Remains.Catalogue, true, 1), "skunk");
        // Read as skunk: 6 + 6 of 30 losses, all confirmed ones skunk; read as hog: 6 + 12.
        Assert.Equal((0.5, 0.4), (share.Share.Value!.Value, Math.Round(share.ShareWithRemains.Value!.Value, 12)));
        Assert.True(share.ShareWithRemains.Low <= 0.4 && share.ShareWithRemains.High >= 0.4);
    }

    [Fact]
    public void The_same_seed_gives_the_same_interval_in_any_order_of_rows()
    {
        var season = Season(6, 6, 18);
        var (there, back) = (Of(Composition.Of(season, Remains.Catalogue, true, 7), "skunk").ShareWithRemains, Of(Composition.Of(season.Reverse(), Remains.Catalogue, true, 7), "skunk").ShareWithRemains);
        Assert.Equal((there.Low, there.High), (back.Low, back.High));
    }

    [Fact]
    public void One_line_cannot_be_resampled() =>
        Assert.Equal("signs.share.one_line", Of(Composition.Of(Season(6, 6, 8).Select(n => n with { Line = 0 }), Remains.Catalogue, true, 1), "skunk").ShareWithRemains.Why!.Key);
}

public class TenenbeinTests
{
    [Fact]
    public void Worked_by_hand()
    {
        // Reading 0: 20 losses, 8 confirmed, 6 of class 0. Reading 1: 10 losses, 5 confirmed, 1 of class 0. 20/30·6/8 + 10/30·1/5.
        int[] readings = [.. Enumerable.Repeat(0, 20), .. Enumerable.Repeat(1, 10)];
        int[] truths = [0, 0, 0, 0, 0, 0, 1, 1, .. Enumerable.Repeat(-1, 12), 0, 1, 1, 1, 1, .. Enumerable.Repeat(-1, 5)];
        Assert.Equal(2 / 3.0 * 0.75 + 1 / 3.0 * 0.2, Tenenbein.Shares(readings, truths, 2)![0], 12);
    }

    [Fact]
    public void Readings_with_few_confirmed_nests_are_pooled()
    {
        // Readings 1 and 2 have 2 and 3 confirmed: pooled 5, of which 1 is class 0; reading 0 stands alone.
        int[] readings = [0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2];
        int[] truths = [0, 0, 0, 0, 1, 0, 1, -1, -1, 1, 1, 1];
        Assert.Equal(5 / 12.0 * 0.8 + 7 / 12.0 * 0.2, Tenenbein.Shares(readings, truths, 2)![0], 12);
    }

    [Fact]
    public void A_pool_that_stays_small_takes_in_another_reading()
    {
        int[] readings = [0, 0, 0, 0, 0, 1, 1];
        int[] truths = [0, 0, 0, 1, 1, 0, -1];
        Assert.Equal(4 / 6.0, Tenenbein.Shares(readings, truths, 2)![0], 12);
        Assert.Null(Tenenbein.Shares([0, 1], [-1, -1], 2));
    }

    [Fact]
    public void A_small_pool_takes_in_the_reading_with_the_fewest_confirmed_nests()
    {
        // Confirmed: 6, 5 and 1. The one joins the five: 6 of 12 losses with 2 of 6 class 0; the six stand alone with 6 of 6.
        int[] readings = [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 2];
        int[] truths = [0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0];
        Assert.Equal(0.5 + 0.5 * 2 / 6, Tenenbein.Shares(readings, truths, 2)![0], 12);
        int[] more = [.. readings, 2, 2];
        Assert.Equal(6 / 14.0 + 8 / 14.0 * 2 / 6, Tenenbein.Shares(more, [.. truths, -1, -1], 2)![0], 12);
    }
}

public class CompositionLaws
{
    [Property]
    public bool Shares_with_remains_sum_to_one(byte[] picks)
    {
        var truths = picks.Select(p => p % 4 - 1).ToArray();
        var shares = Tenenbein.Shares([.. picks.Select(p => p / 4 % 5)], truths, 3);
        return shares is null ? truths.All(t => t < 0) : Math.Abs(shares.Sum() - 1) < 1e-9;
    }

    [Property]
    public bool A_corrected_share_stays_between_0_and_1(byte read, byte more, byte se, byte sp)
    {
        var t = RoganGladen.Of(read, read + more, new(se / 255.0, 40), new(sp / 255.0));
        return t.Value is null ? t.Why is not null : t is { Low: >= 0, High: <= 1, Value: >= 0 and <= 1 };
    }
}

public class EvidenceChecks
{
    [Fact]
    public void A_share_from_readings_with_known_errors()
    {
        var t = RoganGladen.Of(4, 80, new(0.9), new(0.99));
        Assert.Equal(PublishedValues.Of("rogan.4/80", "true prevalence"), t.Value!.Value, 12);
        Assert.Equal(PublishedValues.Of("rogan.4/80", "se (Se,Sp known)"), t.Se!.Value, 12);
        Assert.Equal(PublishedValues.Of("rogan.4/80", "CI Wilson (epiR).lower"), t.Low!.Value, 9);
        Assert.Equal(PublishedValues.Of("rogan.4/80", "CI Wilson (epiR).upper"), t.High!.Value, 9);
    }

    [Fact]
    public void A_share_from_readings_with_estimated_errors()
    {
        var t = RoganGladen.Of(60, 200, new(0.9, 100), new(0.95, 150));
        Assert.Equal(PublishedValues.Of("rogan.unknown", "true prevalence p=.3,n=200,Se=.9(100),Sp=.95(150)"), t.Value!.Value, 12);
        Assert.Equal(PublishedValues.Of("rogan.unknown", "se"), t.Se!.Value, 12);
    }

    [Fact]
    public void Readings_that_say_nothing_give_a_reason()
    {
        Assert.Equal("signs.errors_too_high", RoganGladen.Of(4, 80, new(0.6), new(0.5)).Why!.Key);
        Assert.Equal("signs.no_trials", RoganGladen.Of(0, 0, new(0.9), new(0.9)).Why!.Key);
        Assert.Equal(0, RoganGladen.Of(0, 80, new(0.9), new(0.9)).Value);
    }

    [Theory]
    [InlineData(15, 148)]
    [InlineData(1, 29)]
    [InlineData(0, 20)]
    public void Share_from_cameras_has_Jeffreys_limits(int skunks, int confirmed)
    {
        var nests = Enumerable.Range(0, confirmed).Select(i => Remains.Nest(0, i < skunks ? "skunk" : "fox"));
        var share = Composition.Of(nests, Remains.Catalogue, true, 1).Shares.Single(s => s.Culprit == "skunk").Share;
        Assert.Equal(PublishedValues.Of($"prop.{skunks}/{confirmed}", "Jeffreys (equal tail, 0 at x=0).lower"), share.Low!.Value, 9);
        Assert.Equal(PublishedValues.Of($"prop.{skunks}/{confirmed}", "Jeffreys (equal tail, 0 at x=0).upper"), share.High!.Value, 9);
    }

    [Fact]
    public void Shares_learned_from_counts()
    {
        var mean = Dirichlet.Mean([60, 25, 15], [1, 1, 1]);
        for (var k = 0; k < 3; k++) Assert.Equal(PublishedValues.Of("dirichlet", $"posterior mean[{k + 1}]"), mean[k], 12);
    }

    [Fact]
    public void Brier_score_of_four_forecasts()
    {
        double[] p = [0.1, 0.9, 0.8, 0.3];
        ImmutableArray<double>[] chances = [.. p.Select(x => ImmutableArray.Create(x, 1 - x))];
        Assert.Equal(2 * PublishedValues.Of("brier", "mean((p-y)^2) y=0,1,1,0 p=.1,.9,.8,.3"), Scoring.BrierOf(chances, [1, 0, 0, 1]), 12);
    }

    [Fact]
    public void Calibration_error_of_ten_forecasts()
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "calibration_constructed.csv")).Skip(1)
            .Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        Assert.Equal(PublishedValues.Of("ece", "ECE 5 equal-width bins (constructed, 10 forecasts)"), Scoring.CalibrationErrorOf([.. rows.Select(r => r[0])], [.. rows.Select(r => r[1] == 1)], 5), 12);
        Assert.Equal(2 * PublishedValues.Of("ece", "Brier"), Scoring.BrierOf([.. rows.Select(r => ImmutableArray.Create(r[0], 1 - r[0]))], [.. rows.Select(r => r[1] == 1 ? 0 : 1)]), 12);
    }
}

public class ScoringTests
{
    [Fact]
    public void Readings_that_fit_the_cameras_beat_the_commonest_class()
    {
        NestEvidence[] nests = [.. Enumerable.Range(0, 6).Select(_ => Remains.Nest(0, "skunk", ("opening", "large end"))), .. Enumerable.Range(0, 5).Select(_ => Remains.Nest(0, "feral_hog", ("rooting", "yes")))];
        var scoring = Scoring.LeaveOneOut(Remains.Catalogue, nests).Value;
        Assert.Equal((11, 1.0, 6 / 11.0), (scoring.Nests, scoring.ShareRight, scoring.ShareRightCommonest));
        Assert.Equal([("skunk", "skunk", 6), ("feral_hog", "feral_hog", 5)], scoring.Confusions.Select(c => (c.Read, c.Confirmed, c.Nests)));
        Assert.InRange(scoring.LogScore, 0, Math.Log(11));
    }

    [Fact]
    public void A_nest_does_not_help_to_read_itself()
    {
        // Each nest is the only one of its class: without itself nothing speaks for it but its prior and the key.
        NestEvidence[] nests = [Remains.Nest(0, "badger", ("tracks", "present")), Remains.Nest(0, "dog", ("tracks", "present"))];
        var other = BeliefModel.Learn(Remains.Catalogue, [nests[1]]).Of(nests[0].Signs).Of("badger");
        Assert.Equal(-Math.Log(other), Scoring.LeaveOneOut(Remains.Catalogue, nests).Value.LogScore, 12);
    }

    [Fact]
    public void Fewer_than_two_nests_and_second_visitors_are_not_scored()
    {
        Assert.False(Scoring.LeaveOneOut(Remains.Catalogue, [Remains.Nest(0, "dog"), Remains.Nest(0, "fox") with { Teaches = false }, Remains.Nest(0, null)]).HasValue);
    }
}
