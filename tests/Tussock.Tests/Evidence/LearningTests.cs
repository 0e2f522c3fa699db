using Tussock.Evidence;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Evidence;

public class LearningTests
{
    private static readonly NestEvidence[] Telling = [.. Enumerable.Range(0, 8).Select(_ => Remains.Nest(0, "skunk", ("opening", "large end"))), .. Enumerable.Range(0, 7).Select(_ => Remains.Nest(0, "feral_hog", ("rooting", "yes")))];

    private static Learning Of(IEnumerable<NestEvidence> nests, params NestOfOtherSeason[] others) => Learning.Of(Remains.Catalogue, [.. nests], others, 3, TestContext.Current.CancellationToken).Value;

    [Fact]
    public void Counts_of_confirmed_nests_add_to_those_of_the_key_in_closed_form()
    {
        // Raccoon: 2/4 counts and a rule for "one place" and "several places": 3 of 4 before. Three nests seen: in bowl 2, one place 1; one elsewhere counts a half.
        var model = BeliefModel.Learn(Remains.Catalogue, [.. Enumerable.Repeat(Remains.Nest(0, "raccoon", ("fragment_spread", "in bowl")), 2), Remains.Nest(1, "raccoon", ("fragment_spread", "one place"))], [new(Remains.Nest(0, "raccoon", ("fragment_spread", "far")), 0.5)]);
        var expected = System.Text.Json.JsonDocument.Parse(Checks.Read("worked-by-hand", "expected.json")).RootElement.GetProperty("other_season");
        var shares = expected.GetProperty("fragment_spread").EnumerateArray().Select(x => x.GetDouble()).ToArray();
        string[] values = ["in bowl", "one place", "several places", "far"];
        for (var v = 0; v < 4; v++) Assert.Equal(Math.Log(shares[v]), model.LogLikelihood(model.Read([new("fragment_spread", values[v])])[0])[1], 12);
        Assert.Equal(expected.GetProperty("raccoon").GetDouble(), model.Of([]).Of("raccoon"), 12);
    }

    [Fact]
    public void Other_seasons_at_full_weight_are_the_same_season_and_at_none_they_are_not_there()
    {
        NestEvidence[] here = new InventedTruth(21).Losses(6), there = new InventedTruth(22).Losses(3);
        var signs = here[0].Signs;
        Assert.Equal(BeliefModel.Learn(Remains.Catalogue, here.Concat(there)).Of(signs).Chances, BeliefModel.Learn(Remains.Catalogue, here, there.Select(n => new NestOfOtherSeason(n, 1))).Of(signs).Chances);
        Assert.Equal(BeliefModel.Learn(Remains.Catalogue, here).Of(signs).Chances, BeliefModel.Learn(Remains.Catalogue, here, there.Select(n => new NestOfOtherSeason(n, 0))).Of(signs).Chances);
    }

    [Fact]
    public void Signs_that_tell_classes_apart_are_seen_to_do_so()
    {
        var learned = Of(Telling);
        Assert.False(learned.TellsNothing);
        Assert.True(learned.GainBits.Low > 0 && learned.Scoring.LogScore < learned.LogScoreShares && learned.Scoring.Brier < learned.BrierShares);
        Assert.Equal(1.0, learned.ReadingAgainstCameras.Value);
        Assert.Equal(15, learned.Scoring.Bands.Sum(b => b.Nests));
    }

    [Fact]
    public void Signs_that_every_class_leaves_alike_bring_the_warning_and_a_number_of_nests()
    {
        var nests = Enumerable.Range(0, 20).Select(i => Remains.Nest(0, i % 2 == 0 ? "skunk" : "raccoon", ("edges", i % 4 < 2 ? "neat" : "ragged")));
        var learned = Of(nests);
        Assert.True(learned.TellsNothing);
        Assert.InRange(learned.GainBits.Value!.Value, -0.5, 0.1);
        Assert.True(learned.NestsNeeded.Value > 0);
    }

    [Fact]
    public void Without_any_remains_nothing_moves_and_no_number_of_nests_can_be_said()
    {
        var learned = Of(Enumerable.Range(0, 12).Select(i => Remains.Nest(0, i % 2 == 0 ? "skunk" : "raccoon")));
        Assert.Equal((0.0, 1.0), (learned.GainBits.Value, learned.ChanceOfGain));
        Assert.Equal("signs.learning.no_spread", learned.NestsNeeded.Why!.Key);
        Assert.False(Learning.Of(Remains.Catalogue, [Remains.Nest(0, "skunk")], [], 1, TestContext.Current.CancellationToken).HasValue);
    }

    [Fact]
    public void Remains_dealt_at_random_are_found_telling_in_one_of_twenty_seasons_at_most()
    {
        var found = new bool[40];
        Ordered.For(found.Length, i => found[i] = !Of(new InventedTruth(300 + (ulong)i, tells: false).Losses(14)).TellsNothing, TestContext.Current.CancellationToken);
        Assert.InRange(found.Count(f => f), 0, 6);
    }

    [Fact]
    public void The_same_seed_gives_the_same_answer_and_trust_needs_ten_nests()
    {
        Assert.Equal(Of(Telling).ChanceOfGain, Of(Telling).ChanceOfGain);
        Assert.Equal(1, Of(Telling.Take(9)).Trust);
        Assert.InRange(Of(Telling).Trust, 0, EvidenceTrust.Most);
    }

    [Fact]
    public void Signs_that_repeat_each_other_over_groups_are_turned_down()
    {
        // Seven signs of seven groups that all say the same, and are right in two of three nests only.
        string[] classes = ["skunk", "raccoon"];
        (string, string[])[] signs = [("opening", ["large end", "side"]), ("shell_present", ["none", "few pieces"]), ("fragment_spread", ["far", "several places"]), ("yolk_left", ["much", "none"]), ("rooting", ["yes", "no"]), ("bowl", ["dug out", "undisturbed"]), ("tracks", ["present", "absent"])];
        NestEvidence Nest(int truth, int shown) => Remains.Nest(0, classes[truth], [.. signs.Select(s => (s.Item1, s.Item2[shown]))]);
        NestEvidence[] nests = [.. Enumerable.Range(0, 60).Select(i => Nest(i % 2, i % 3 == 0 ? 1 - (i % 2) : i % 2))];
        Assert.True(EvidenceTrust.Of(Remains.Catalogue, nests, []) < 0.6);
        Assert.InRange(BeliefModel.Learn(Remains.Catalogue, nests).Of(nests[1].Signs).Chances.Max(), 0.5, 0.8);
    }
}

public class PosteriorChecks
{
    [Theory]
    [InlineData(3, 10)]
    [InlineData(1, 20)]
    [InlineData(30, 46)]
    public void Limits_of_a_share_are_those_of_drawing_from_the_posterior(int count, int all)
    {
        // Beta(c + ½, n − c + ½) drawn as a ratio of sums of squared normal numbers.
        var share = Composition.Share(count, all, "x");
        var (chance, below, above, draws) = (Seeded.Of(17, (ulong)count), 0, 0, 20_000);
        for (var i = 0; i < draws; i++)
        {
            double Squares(int n) => Enumerable.Range(0, n).Sum(_ => Math.Pow(chance.NextNormal(), 2));
            var (a, b) = (Squares((2 * count) + 1), Squares((2 * (all - count)) + 1));
            if (a / (a + b) < share.Low) below++;
            if (a / (a + b) > share.High) above++;
        }

        Assert.All([below, above], tail => Assert.InRange((double)tail / draws, 0.0205, 0.0295));
    }

    [Fact]
    public void The_mean_belief_is_the_mean_of_composition_drawn_nest_by_nest()
    {
        var nests = new InventedTruth(8).Losses(20).Select((n, i) => i % 4 == 0 ? n : n with { Confirmed = null }).ToArray();
        var naive = Composition.Of(nests, Remains.Catalogue, true, 1).Shares.Select(s => s.Naive!.Value).ToArray();
        var model = BeliefModel.Learn(Remains.Catalogue, nests);
        var (chance, counts, draws) = (Seeded.Of(23), new double[16], 20_000);
        foreach (var nest in nests)
        {
            var belief = model.Of(nest.Signs);
            for (var i = 0; i < draws; i++)
            {
                var (u, k) = (chance.NextUniform(), 0);
                while (k < 15 && (u -= belief.Chances[k]) >= 0) k++;
                counts[nest.Confirmed is { } seen ? Remains.Catalogue.CulpritIndex(seen) : k] += 1.0 / draws / nests.Length;
            }
        }

        for (var k = 0; k < 16; k++) Assert.InRange(counts[k], naive[k] - 0.004, naive[k] + 0.004);
    }
}
