using FsCheck.Xunit;
using Tussock.Evidence;
using Tussock.Numerics;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Evidence;

public class BeliefReasonsTests
{
    /// <summary>Two classes of equal prior; sign a speaks 2/3 : 1/2, sign b of another group says nothing yet, sign c goes with a.</summary>
    private static readonly SignCatalogue Small = SignCatalogue.Parse(
        """{"signs":[{"sign":"a","kind":"choice","group":"g","values":["x","y"],"source":"s"},{"sign":"b","kind":"choice","group":"h","values":["x","y"],"source":"s"},{"sign":"c","kind":"choice","group":"g","values":["x","y"],"source":"s"}]}""",
        """{"culprits":["one","two"],"not_on_the_list":"other"}""",
        """{"sign_weight":2,"culprit_weight":2,"not_on_the_list":0.05,"rules":[{"culprit":"one","sign":"a","value":"x","count":1,"source":"s"},{"culprit":"one","sign":"c","value":"x","count":1,"source":"s"}]}""");

    private static BeliefModel Key => BeliefModel.KeyAlone(Small);

    [Fact]
    public void A_weight_and_an_expected_information_worked_by_hand()
    {
        var reasons = BeliefReasons.Of(Key, [new("a", "x")]);
        var expected = System.Text.Json.JsonDocument.Parse(Checks.Read("worked-by-hand", "expected.json")).RootElement.GetProperty("sign_weight");
        Assert.Equal(expected.GetProperty("weight_bits").GetDouble(), reasons.Signs.Single().Bits[0], 12);
        Assert.Equal(expected.GetProperty("weight_bits").GetDouble(), reasons.Together[0], 12);

        var next = BeliefReasons.Of(Key, []).Next;
        Assert.Equal(["a", "c", "b"], next.Select(n => n.Sign));
        Assert.Equal(expected.GetProperty("expected_bits").GetDouble(), next[0].Bits, 12);
        Assert.Equal(0, next[2].Bits, 12);
    }

    [Fact]
    public void A_sign_that_goes_with_one_already_read_promises_less()
    {
        var after = BeliefReasons.Of(Key, [new("a", "x")]).Next.Single(n => n.Sign == "c");
        Assert.InRange(after.Bits, 0, BeliefReasons.Of(Key, []).Next.Single(n => n.Sign == "c").Bits * 0.6);
    }

    [Fact]
    public void A_sign_copied_under_another_name_in_its_group_moves_no_belief()
    {
        var (alone, twice) = (Key.Of([new("a", "x")]), Key.Of([new("a", "x"), new("c", "x")]));
        for (var k = 0; k < 3; k++) Assert.Equal(alone.Chances[k], twice.Chances[k], 12);
        Assert.Equal(BeliefReasons.Of(Key, [new("a", "x")]).Together[0], BeliefReasons.Of(Key, [new("a", "x"), new("c", "x")]).Together[0], 12);
    }

    [Theory]
    [InlineData(2.5, "signs.moved_strongly_towards")]
    [InlineData(1, "signs.moved_towards")]
    [InlineData(0.5, "signs.moved_a_little_towards")]
    [InlineData(-0.1, "signs.moved_hardly")]
    [InlineData(-0.5, "signs.moved_a_little_away")]
    [InlineData(-1.5, "signs.moved_away")]
    [InlineData(-2, "signs.moved_strongly_away")]
    public void A_weight_is_said_in_words(double bits, string key)
    {
        Assert.Equal(key, BeliefReasons.InWords(bits, Phrase.Of("signs.culprit.skunk")).Key);
        Assert.Contains("skunk", Catalogue.English.Say(BeliefReasons.InWords(bits, Phrase.Of("signs.culprit.skunk"))), StringComparison.Ordinal);
    }
}

public class BeliefReasonsLaws
{
    private static readonly BeliefModel Model = BeliefModel.Learn(Remains.Catalogue, new InventedTruth(5).Losses(30));

    [Property]
    public bool One_sign_moves_the_odds_by_two_to_its_weight(byte pick)
    {
        var reasons = BeliefReasons.Of(Model, Remains.Any([pick]));
        return Enumerable.Range(0, 16).All(k => Math.Abs(reasons.Signs[0].Bits[k] - reasons.Together[k]) < 1e-9);
    }

    [Property]
    public bool The_belief_after_is_that_of_the_model_and_every_number_is_finite(byte[] picks)
    {
        var reasons = BeliefReasons.Of(Model, Remains.Any(picks));
        return reasons.After.Chances.SequenceEqual(Model.Of(Remains.Any(picks)).Chances) && reasons.Before.Chances.SequenceEqual(Model.Of([]).Chances)
            && reasons.Signs.SelectMany(s => s.Bits).Concat(reasons.Together).Concat(reasons.Next.Select(n => n.Bits)).All(double.IsFinite) && reasons.Next.All(n => n.Bits >= 0);
    }

    [Property]
    public bool What_signs_do_between_two_classes_adds_to_what_they_do_together(byte[] picks)
    {
        var signs = Remains.Any(picks);
        var (parts, before, after) = (Model.Parts(Model.Read(signs)), Model.Of([]), Model.Of(signs));
        return Enumerable.Range(1, 15).All(k => Math.Abs(parts.Sum(p => p.Log[k] - p.Log[0]) - Math.Log(after.Chances[k] / after.Chances[0] * before.Chances[0] / before.Chances[k])) < 1e-9);
    }

    [Fact]
    public void Beliefs_are_what_drawing_nests_from_the_model_shows()
    {
        // Brute force: draw a class from the prior and two signs of different groups from its shares, keep the draws that show what the nest shows.
        var chance = Seeded.Of(11);
        var key = BeliefModel.KeyAlone(Remains.Catalogue);
        SignSeen[] signs = [new("rooting", "yes"), new("fragment_spread", "several places")];
        var likely = signs.Select(s => key.LogLikelihood(key.Read([s])[0]).Select(Math.Exp).ToArray()).ToArray();
        var (prior, counts, all) = (key.Of([]), new int[16], 0);
        for (var i = 0; i < 400_000; i++)
        {
            var (u, k) = (chance.NextUniform(), 0);
            while ((u -= prior.Chances[k]) >= 0) k++;
            if (!likely.All(l => chance.NextUniform() < l[k])) continue;
            counts[k]++;
            all++;
        }

        var belief = key.Of(signs);
        for (var k = 0; k < 16; k++) Assert.InRange((double)counts[k] / all, belief.Chances[k] - (4.5 * Math.Sqrt(belief.Chances[k] / all)), belief.Chances[k] + (4.5 * Math.Sqrt(belief.Chances[k] / all)));
    }
}
