using System.Collections.Immutable;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Verdicts;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Verdicts;

public class VerdictTests
{
    private static SurvivalSide Survival(double chance, int lines = 8) => new() { Chance = chance, Lines = lines };

    private static DensitySide Density(double chance, int lines = 8) => new() { Chance = chance, Lines = lines };

    private static LossCounts Lost(params (Cause Cause, int Count)[] counts) => new(counts.ToImmutableSortedDictionary(c => c.Cause, c => c.Count));

    private static string[] Said(IEnumerable<Phrase> phrases) => [.. phrases.Select(Catalogue.English.Say)];

    [Theory]
    [InlineData(0.95, 0.95, "good", "cover enough, few losses")]
    [InlineData(0.95, 0.05, "survival_good_cover_thin", "few losses, thin cover")]
    [InlineData(0.05, 0.95, "losses_despite_cover", "cover enough, many losses")]
    [InlineData(0.05, 0.05, "cover_limited", "thin cover, many losses")]
    [InlineData(0.50, 0.95, "not_enough_data", "not settled")]
    [InlineData(0.05, 0.50, "not_enough_data", "not settled")]
    [InlineData(0.50, 0.50, "not_enough_data", "not settled")]
    public void Two_calls_make_the_verdict(double survival, double density, string token, string words)
    {
        var verdict = Verdict.Of(Survival(survival), Density(density), LossCounts.None, []);
        Assert.Equal(token, verdict.Token);
        Assert.Equal(words, Catalogue.English.Say(verdict.InWords));
    }

    [Fact]
    public void A_third_of_other_causes_comes_first_with_what_happened_and_no_word_of_predators_follows()
    {
        var verdict = Verdict.Of(Survival(0.05), Density(0.97), Lost((Cause.Trampled, 7), (Cause.Depredated, 5)), [Phrase.Of("verdict.cause.hail")]);
        var because = Said(verdict.Because);
        Assert.Equal(("7 of 12 lost nests were trampled", "broken by hail"), (because[0], because[1]));
        Assert.DoesNotContain(because.Concat(Said(verdict.Advice)), s => s.Contains("redator", StringComparison.Ordinal));
        Assert.Contains(Said(verdict.Advice), s => s.Contains("livestock", StringComparison.Ordinal));
    }

    [Fact]
    public void Less_than_a_third_of_other_causes_does_not_lead()
    {
        var losses = Lost((Cause.Trampled, 3), (Cause.Depredated, 7), (Cause.NotRecorded, 2));
        Assert.Equal(("28-day survival is unlikely to reach 50 % (chance 5 %, 8 lines)", false), (Said(Verdict.Of(Survival(0.05), Density(0.97), losses, []).Because)[0], losses.OthersMatter));
    }

    [Fact]
    public void A_predation_only_survival_that_would_be_called_otherwise_puts_causes_first()
    {
        var verdict = Verdict.Of(Survival(0.5) with { ChanceIfOnlyPredation = 0.9 }, Density(0.97), Lost((Cause.Flooded, 1), (Cause.Depredated, 9)), []);
        Assert.Equal(["1 of 10 lost nests was flooded", "without those losses the answer on survival would be another"], Said(verdict.Because)[..2]);
    }

    [Fact]
    public void Nests_that_could_not_be_found_and_decide_the_answer_take_the_call_away()
    {
        var verdict = Verdict.Of(Survival(0.9) with { Unknown = 4, NotFound = 4, ChanceIfUnknownLost = 0.4, ChanceIfUnknownSurvived = 0.97, MoreLines = 3 }, Density(0.97), LossCounts.None, []);
        Assert.Equal((VerdictKind.NotEnoughData, CallKind.None), (verdict.Kind, verdict.Survival.Kind));
        Assert.Contains("survival is not settled: 4 nests could not be found; they decide the answer; search again before day 31", Said(verdict.Because));
        Assert.DoesNotContain(verdict.Because, p => p.Key.StartsWith("verdict.survival.more_lines", StringComparison.Ordinal));
    }

    [Fact]
    public void Extremes_that_agree_leave_the_call()
    {
        var verdict = Verdict.Of(Survival(0.9) with { Unknown = 1, NotFound = 1, ChanceIfUnknownLost = 0.86, ChanceIfUnknownSurvived = 0.97 }, Density(0.97), LossCounts.None, []);
        Assert.Equal(VerdictKind.Good, verdict.Kind);
    }

    [Fact]
    public void A_missing_call_is_named_with_the_one_that_was_possible_how_it_leans_and_what_would_settle_it()
    {
        var verdict = Verdict.Of(Survival(0.77) with { MoreLines = 6, Cost = new LineCost(6, IntactAtFirstCheck: 0.75) }, Density(0.02), LossCounts.None, []);
        Assert.Equal(
        [
            "clump density is unlikely to reach 300 an acre (chance 2 %, 8 lines)",
            "survival is not settled: the chance lies between the two sides of 85 % certainty",
            "survival leans above 50 % (chance 77 %)",
            "about 6 more lines like these would probably settle it: 36 nests, 189 eggs, 28 days",
        ], Said(verdict.Because));
        Assert.Equal(Leaning.Above, verdict.Leaning);
    }

    [Fact]
    public void Why_more_lines_would_not_help_is_said_instead_of_a_number()
    {
        var verdict = Verdict.Of(Survival(0.5) with { MoreLines = NoAnswer.Because("verdict.cause.hail") }, Density(0.02), LossCounts.None, []);
        Assert.Contains("broken by hail", Said(verdict.Because));
    }

    [Fact]
    public void Stations_without_a_clump_are_named()
    {
        var verdict = Verdict.Of(Survival(0.9), Density(0.02) with { StationsWithoutClump = ["2-5", "3-1"] }, LossCounts.None, []);
        Assert.Contains("2 stations had no suitable clump within reach, which speaks for thin cover: 2-5, 3-1", Said(verdict.Because));
    }

    [Fact]
    public void No_chance_is_said_with_its_reason()
    {
        var verdict = Verdict.Of(Survival(0.9), new DensitySide { Chance = NoAnswer.Because("density.no_belt"), Lines = 0 }, LossCounts.None, []);
        Assert.Equal("call.few_lines", verdict.Density.Why!.Key);
        Assert.Equal("density.no_belt", Calls.Of(NoAnswer.Because("density.no_belt"), 8).Why!.Key);
    }

    [Fact]
    public void Nearly_sure_is_not_printed_as_sure() =>
        Assert.StartsWith("28-day survival is likely at or above 50 % (chance over 99 %", Said(Verdict.Of(Survival(0.9999), Density(0.9), LossCounts.None, []).Because)[0], StringComparison.Ordinal);

    [Fact]
    public void Killing_is_never_advised_and_weak_ground_is_said_where_predators_come_up()
    {
        foreach (var kind in Enum.GetValues<VerdictKind>())
        {
            var advice = Said(Advices.For(kind));
            Assert.Equal(kind == VerdictKind.LossesDespiteCover, advice.Contains("One season on simulated nests is weak ground for killing anything."));
            Assert.All(advice, a => Assert.DoesNotContain("trap", a, StringComparison.OrdinalIgnoreCase));
        }
    }

    [Fact]
    public void Every_cause_and_verdict_has_its_words()
    {
        foreach (var cause in Enum.GetValues<Cause>().Except([Cause.None, Cause.Depredated, Cause.NotRecorded])) Assert.True(Catalogue.English.Has("verdict.cause." + LossCounts.Token(cause)));
        foreach (var kind in Enum.GetValues<VerdictKind>())
        {
            foreach (var cause in Enum.GetValues<Cause>()) Said(Advices.For(kind, cause));
            Assert.True(Catalogue.English.Has("verdict.words." + Verdict.TokenOf(kind)));
            if (kind != VerdictKind.NotEnoughData) Assert.True(Catalogue.English.Has("verdict.may." + Verdict.TokenOf(kind)) && Catalogue.English.Has("verdict.may.others." + Verdict.TokenOf(kind)));
        }
    }
}

public class CallsTests
{
    [Theory]
    [InlineData(0.85, 6, CallKind.Likely)]
    [InlineData(0.849, 6, CallKind.None)]
    [InlineData(0.15, 6, CallKind.Unlikely)]
    [InlineData(0.89, 5, CallKind.None)]
    [InlineData(0.90, 4, CallKind.Likely)]
    [InlineData(0.10, 4, CallKind.Unlikely)]
    [InlineData(0.999, 3, CallKind.None)]
    public void Certainty_grows_as_lines_get_few(double chance, int lines, CallKind kind) => Assert.Equal(kind, Calls.Of(chance, lines).Kind);

    [Fact]
    public void A_lowered_certainty_prints_what_it_costs_and_still_needs_four_lines()
    {
        var call = Calls.Of(0.81, 6, 0.80);
        Assert.Equal(CallKind.Likely, call.Kind);
        Assert.Contains("5.8 %", Catalogue.English.Say(call.Notes[0]), StringComparison.Ordinal);
        Assert.Contains("7.8 %", Catalogue.English.Say(Calls.Of(0.81, 4, 0.70).Notes[0]), StringComparison.Ordinal);
        Assert.Empty(Calls.Of(0.81, 6, 0.95).Notes);
        Assert.Equal(CallKind.None, Calls.Of(0.99, 3, 0.80).Kind);
        Assert.Throws<ArgumentOutOfRangeException>(() => Calls.Of(0.99, 6, 0.5));
    }

    [Theory]
    [InlineData(0.65, Leaning.Above)]
    [InlineData(0.64, Leaning.None)]
    [InlineData(0.35, Leaning.Below)]
    public void A_leaning_is_shown_from_65_to_35(double chance, Leaning leaning) => Assert.Equal(leaning, Calls.Of(chance, 3).Leaning);

    [Fact]
    public void Pastures_with_few_lines_are_judged_together_unless_the_season_says_otherwise()
    {
        Assert.Equal(JudgedBy.Property, Judging.Of(null, [2, 2]));
        Assert.Equal(JudgedBy.Pasture, Judging.Of(null, [8, 9, 3, 0]));
        Assert.Equal(JudgedBy.Property, Judging.Of(null, []));
        Assert.Equal(JudgedBy.Pasture, Judging.Of(JudgedBy.Pasture, [2, 2]));
    }
}

public class MoreBeltsTests
{
    private static ClumpDensity Walked(params double[] clumps) =>
        ClumpDensity.Of(PassesMerged.Of(clumps.Select((c, i) => Cover.Belts.Row(i, 1, c, areaM2: 400))), new());

    [Fact]
    public void The_chance_of_a_call_agrees_with_drawing_it()
    {
        var chance = Seeded.Of(5);
        const double away = 0.2, s = 0.3;
        var (lines, more, clear) = (4, 8, 0);
        for (var i = 0; i < 40_000; i++)
        {
            // The truth given the lines so far, then what the new lines alone would say of it, then both together.
            var truth = away + s * chance.NextNormal();
            var fresh = truth + s * Math.Sqrt((double)lines / more) * chance.NextNormal();
            var both = (lines * away + more * fresh) / (lines + more);
            var above = Tails.NormalBelow(both / (s * Math.Sqrt((double)lines / (lines + more))));
            if (above is >= 0.85 or <= 0.15) clear++;
        }

        Assert.Equal(clear / 40_000.0, MoreBelts.ChanceOfCall(away, s, lines, more, 0.85), 0.01);
    }

    [Fact]
    public void Belts_nearer_to_the_benchmark_need_more_lines_and_too_near_is_said()
    {
        var density = Walked(20, 34, 26, 29);
        var perAcre = density.PerAcre.Value!.Value;
        Assert.True(MoreBelts.Of(density, perAcre * 0.85).Value < MoreBelts.Of(density, perAcre * 0.92).Value);
        Assert.Equal("verdict.density.too_near", MoreBelts.Of(density, perAcre).Why!.Key);
        Assert.Equal("verdict.density.no_spread", MoreBelts.Of(Walked(20), 300).Why!.Key);
    }

    [Fact]
    public void Two_clear_lines_still_need_two_more() => Assert.Equal(2, MoreBelts.Of(Walked(20, 24), 30).Value);
}

public class VerdictLaws
{
    [Property]
    public bool A_higher_chance_never_turns_likely_into_less(byte low, byte more, byte lines)
    {
        var (a, b) = (Math.Min(low, more) / 255.0, Math.Max(low, more) / 255.0);
        static int Rank(CallKind k) => k switch { CallKind.Unlikely => 0, CallKind.None => 1, _ => 2 };
        return Rank(Calls.Of(a, lines % 12).Kind) <= Rank(Calls.Of(b, lines % 12).Kind);
    }

    [Property]
    public bool Every_verdict_can_be_said(byte survival, byte density, byte lines, bool leads)
    {
        var losses = leads ? new LossCounts(ImmutableSortedDictionary<Cause, int>.Empty.Add(Cause.Hail, 2)) : LossCounts.None;
        var verdict = Verdict.Of(new SurvivalSide { Chance = survival / 255.0, Lines = lines % 12 }, new DensitySide { Chance = density / 255.0, Lines = 7 }, losses, []);
        return verdict.Because.Concat(verdict.Advice).Append(verdict.InWords).All(p => Catalogue.English.Say(p).Length > 0) && !verdict.Because.IsEmpty;
    }
}

public class CallsChecks
{
    [Theory]
    [InlineData("typical144")]
    [InlineData("tiny20")]
    [InlineData("all_survive48")]
    [InlineData("separation120")]
    [InlineData("strong600")]
    public void Calls_of_the_reference_seasons(string set)
    {
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", set + "/extra.json"));
        var value = json.RootElement.GetProperty("calls").GetProperty("value");
        var groups = value.GetProperty("pasture").EnumerateObject().Concat(value.GetProperty("cover").EnumerateObject()).Select(g => g.Value).Append(value.GetProperty("season"));
        foreach (var group in groups)
        {
            var call = Calls.Of(group.GetProperty("chance").GetDouble(), group.GetProperty("lines").GetInt32());
            Assert.Equal(group.GetProperty("call").GetString(), call.Kind.ToString().ToLowerInvariant());
            Assert.Equal(group.GetProperty("c") is { ValueKind: JsonValueKind.Number } c ? c.GetDouble() : null, call.Certainty);
            Assert.Equal(call.IsMade, call.Why is null);
        }
    }
}
