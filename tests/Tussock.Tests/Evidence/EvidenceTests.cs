using System.Collections.Immutable;
using FsCheck.Xunit;
using Tussock.Evidence;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Evidence;

/// <summary>Nests with remains, made by hand.</summary>
internal static class Remains
{
    public static SignCatalogue Catalogue => SignCatalogue.Standard;

    public static NestEvidence Nest(int line, string? confirmed, params (string Sign, string Value)[] signs) =>
        new(line, [.. signs.Select(s => new SignSeen(s.Sign, s.Value))], confirmed);

    /// <summary>Rows of remains picked from the catalogue by arbitrary bytes.</summary>
    public static ImmutableArray<SignSeen> Any(byte[] picks)
    {
        var choices = Catalogue.Signs.Where(s => s.Kind == SignKind.Choice).ToArray();
        return [.. picks.Select((p, i) => (Sign: choices[(p + i) % choices.Length], Pick: p / 7)).Select(c => new SignSeen(c.Sign.Sign, c.Sign.Values[c.Pick % c.Sign.Values.Length]))];
    }
}

public class SignCatalogueTests
{
    [Fact]
    public void Every_sign_value_and_class_has_words_and_a_source()
    {
        foreach (var sign in Remains.Catalogue.Signs)
        {
            Assert.NotEmpty(sign.Source);
            Assert.All(sign.Values.Select(sign.InWords).Append(sign.Name).Append(sign.Look), p => Assert.NotEmpty(Catalogue.English.Say(p)));
        }

        Assert.All(Remains.Catalogue.Culprits, c => Assert.NotEmpty(Catalogue.English.Say("signs.culprit." + c)));
        Assert.All(Remains.Catalogue.Rules, r => Assert.NotEmpty(r.Source));
    }

    [Fact]
    public void Spelling_with_underscores_capitals_or_dashes_is_read()
    {
        Assert.Equal(Remains.Catalogue.Find("fragment_spread", "one place"), Remains.Catalogue.Find("Fragment spread", "One_place"));
        Assert.NotNull(Remains.Catalogue.Find("opening", "large-end"));
        Assert.Null(Remains.Catalogue.Find("opening", SignCatalogue.NotLooked));
        Assert.Null(Remains.Catalogue.Find("eggs_missing", "3"));
        Assert.Null(Remains.Catalogue.Find("smell", "musky"));
    }

    [Fact]
    public void A_rule_about_an_unknown_sign_is_refused() =>
        Assert.Throws<ArgumentException>(() => SignCatalogue.Parse(
            """{"signs":[]}""", """{"culprits":["skunk"],"not_on_the_list":"other"}""",
            """{"sign_weight":1,"culprit_weight":1,"not_on_the_list":0.05,"rules":[{"culprit":"skunk","sign":"smell","value":"musky","count":1,"source":"none"}]}"""));

    [Fact]
    public void Quail_eggs_bring_their_own_caution()
    {
        Assert.Contains(Phrase.Of("signs.caution.quail"), Cautions.Of(["chicken", "Quail, farmed"]));
        Assert.DoesNotContain(Phrase.Of("signs.caution.quail"), Cautions.Of(["chicken"]));
    }
}

public class BeliefTests
{
    private static BeliefModel Key => BeliefModel.KeyAlone(Remains.Catalogue);

    [Theory]
    [InlineData("fragment_size", "pulverised", "coyote")]
    [InlineData("opening", "large end", "skunk")]
    [InlineData("bite", "across the long axis", "bobcat")]
    [InlineData("peck_holes", "yes", "bird")]
    [InlineData("rooting", "yes", "feral_hog")]
    public void A_rule_of_thumb_leads_but_does_not_settle(string sign, string value, string culprit)
    {
        var belief = Key.Of([new(sign, value)]);
        Assert.Equal(culprit, belief.Culprits[belief.Reading!.Value]);
        Assert.InRange(belief.Of(culprit), 0.08, 0.5);
    }

    [Fact]
    public void Without_any_sign_nobody_is_read_and_not_on_the_list_keeps_its_five_percent()
    {
        var belief = Key.Of([]);
        Assert.Null(belief.Reading);
        Assert.Equal(0.05, belief.Of("other"), 12);
    }

    [Fact]
    public void Two_signs_worked_by_hand()
    {
        // Two classes of equal prior; sign A has 2 values, weight 2, one rule count: (1+1)/3 against 1/2; not on the list: 1/2.
        var catalogue = SignCatalogue.Parse(
            """{"signs":[{"sign":"a","kind":"choice","group":"g","values":["x","y"],"source":"s"},{"sign":"b","kind":"choice","group":"h","values":["x","y"],"source":"s"}]}""",
            """{"culprits":["one","two"],"not_on_the_list":"other"}""",
            """{"sign_weight":2,"culprit_weight":2,"not_on_the_list":0.05,"rules":[{"culprit":"one","sign":"a","value":"x","count":1,"source":"s"}]}""");
        var weights = new[] { 0.475 * 2 / 3, 0.475 / 2, 0.05 / 2 };
        var belief = BeliefModel.KeyAlone(catalogue).Of([new("a", "x")]);
        for (var k = 0; k < 3; k++) Assert.Equal(weights[k] / weights.Sum(), belief.Chances[k], 12);

        // A camera saw class one with b = y: prior 2/3 : 1/3, b = y is 2/3 under one, 1/2 under two and under neither.
        var learned = BeliefModel.Learn(catalogue, [new NestEvidence(0, [new("b", "y")], "one")]).Of([new("b", "y")]);
        var after = new[] { 0.95 * 2 / 3 * 2 / 3, 0.95 / 3 / 2, 0.05 / 2 };
        for (var k = 0; k < 3; k++) Assert.Equal(after[k] / after.Sum(), learned.Chances[k], 12);
    }

    [Fact]
    public void Remains_found_after_a_second_visitor_teach_no_signs_but_who_it_was()
    {
        var nest = Remains.Nest(0, "raccoon", ("fragment_size", "pulverised"));
        var taught = BeliefModel.Learn(Remains.Catalogue, [nest]);
        var untaught = BeliefModel.Learn(Remains.Catalogue, [nest with { Teaches = false }]);
        Assert.Equal(taught.Of([]).Chances, untaught.Of([]).Chances);
        Assert.True(untaught.Of(nest.Signs).Of("raccoon") < taught.Of(nest.Signs).Of("raccoon"));
    }

    [Fact]
    public void With_many_cameras_the_own_record_overrules_the_key()
    {
        var seen = Enumerable.Range(0, 60).Select(i => Remains.Nest(i % 6, "raccoon", ("fragment_size", "pulverised")));
        var belief = BeliefModel.Learn(Remains.Catalogue, seen).Of([new("fragment_size", "pulverised")]);
        Assert.InRange(belief.Of("raccoon"), 0.9, 1);
    }

    [Fact]
    public void A_confirmed_class_outside_the_list_teaches_no_class() =>
        Assert.Equal(Key.Of([]).Chances, BeliefModel.Learn(Remains.Catalogue, [Remains.Nest(0, "emu", ("bite", "none"))]).Of([]).Chances);
}

public class BeliefLaws
{
    private static readonly BeliefModel Model = BeliefModel.Learn(Remains.Catalogue,
        [Remains.Nest(0, "skunk", ("opening", "large end"), ("edges", "neat")), Remains.Nest(1, "raccoon", ("fragment_spread", "several places"), ("edges", "ragged"), ("tracks", "present"))]);

    [Property]
    public bool Beliefs_sum_to_one(byte[] picks) => Math.Abs(Model.Of(Remains.Any(picks)).Chances.Sum() - 1) < 1e-12;

    [Property]
    public bool The_order_of_signs_changes_nothing(byte[] picks)
    {
        var signs = Remains.Any(picks);
        return Model.Of(signs).Chances.SequenceEqual(Model.Of([.. signs.Reverse()]).Chances);
    }

    [Property]
    public bool What_is_missing_or_was_not_looked_for_changes_nothing(byte[] picks, byte sign)
    {
        var signs = Remains.Any(picks);
        var missing = new SignSeen(Remains.Catalogue.Signs[sign % Remains.Catalogue.Signs.Length].Sign, SignCatalogue.NotLooked);
        return Model.Of(signs).Chances.SequenceEqual(Model.Of([.. signs, missing, new("smell", "musky"), new("eggs_missing", "2")]).Chances);
    }

    [Property]
    public bool A_row_written_twice_counts_once(byte[] picks)
    {
        var signs = Remains.Any(picks);
        return Model.Of(signs).Chances.SequenceEqual(Model.Of([.. signs, .. signs.Take(1)]).Chances);
    }

    [Property]
    public bool A_group_never_speaks_louder_than_its_loudest_sign(double[] numbers)
    {
        var rows = numbers.Where(double.IsFinite).Select(x => x % 5).Chunk(3).Where(c => c.Length == 3).ToArray();
        if (rows.Length == 0) return true;
        var pooled = SignGroups.Pooled(rows);
        for (var k = 0; k < 3; k++)
        {
            for (var j = 0; j < 3; j++) if (Math.Abs(pooled[k] - pooled[j]) > rows.Max(r => Math.Abs(r[k] - r[j])) + 1e-9) return false;
        }

        return true;
    }

    [Property]
    public bool A_sign_that_tells_nothing_dilutes_nothing(byte a, byte b, byte c)
    {
        double[] sign = [a / 50.0, b / 50.0, c / 50.0];
        var (alone, beside) = (SignGroups.Pooled([sign]), SignGroups.Pooled([sign, [0.7, 0.7, 0.7]]));
        return Math.Abs(alone[0] - alone[1] - (beside[0] - beside[1])) < 1e-12 && Math.Abs(alone[0] - alone[2] - (beside[0] - beside[2])) < 1e-12;
    }
}
