using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Tussock.Actions;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Actions;

/// <summary>Which land has an action and when, what is left out, what is said, and the same answer again.</summary>
public class BeforeAfterControlTests
{
    private static readonly YearsDesign Four = new(4, 4, 4, 8, 2, 2, true);
    private static readonly YearsDesign FourNew = Four with { AreLasting = false };

    [Fact]
    public void A_pasture_has_the_action_from_the_first_set_out_after_its_date()
    {
        var found = Of(Four, y => y == 2022 ? ["Two Windmills,North,,2022-09-01,2022-09-20,brush_work", "Two Windmills,South,,2022-09-03,,brush_work"] : []);
        Assert.Equal([("North", "2023"), ("South", "2023")], found.Treated.Select(t => (t.Pasture, t.FromYear)));
        Assert.Equal(["East", "West"], found.Untreated.Select(t => t.Pasture));
        Assert.Equal(["2021", "2022", "2023", "2024"], found.Years);
        Assert.True(found.Effect.Low < found.Effect.Value && found.Effect.Value < found.Effect.High);
        Assert.InRange(found.HazardRatio.Value!.Value, 0.2, 1);
        Assert.InRange(found.ChanceRaised.Value, 0.5, 1);
        Assert.Empty(found.First);
        // To give it to the other two instead turns the sign and no more.
        Assert.Equal((5, 2 / 6.0), (found.Placebo.Runs, found.Placebo.SmallestP));
        Assert.Equal(1, found.Placebo.Real!.Value * found.Placebo.Each.Single(e => e.Lands.All(l => l.FromYear is null)).HazardRatio!.Value, 6);
        Assert.NotNull(found.Changes.Low);
        // A year before 2023 is a false start: 2022.
        Assert.Equal(["2022"], found.Placebo.Earlier.Select(e => e.FromYear));
    }

    [Fact]
    public void One_pasture_with_the_action_is_said_before_anything_else()
    {
        var found = Of(Four, y => y == 2022 ? ["Two Windmills,North,,2022-09-01,,burn"] : [], kind: "burn");
        Assert.Equal("action.one_treated", found.First[0].Key);
        Assert.Equal(3, found.Placebo.Runs);
        Assert.Equal("action.few_lands", found.Changes.Why!.Key);
        Assert.Contains(found.Cautions, c => c.Key == "action.care_burn");
        Assert.Contains(ActionAnswer.Of(found), p => p.Key == "action.placebo_few");
    }

    [Fact]
    public void Without_a_pasture_to_compare_there_is_a_reason_and_no_number()
    {
        Assert.Equal("action.no_untreated", Why(Four, y => y == 2022 ? ["Two Windmills,,,2022-09-01,,burn"] : [], "burn"));
        Assert.Equal("action.no_untreated", Why(Four, y => y == 2022 ? [",,,2022-09-01,,burn"] : [], "burn"));
        Assert.Equal("action.nobody_before", Why(Four, y => y == 2021 ? ["Two Windmills,North,,2020-09-01,,burn"] : [], "burn"));
        Assert.Equal("action.nobody_after", Why(Four, y => y == 2024 ? ["Two Windmills,North,,2024-09-01,,burn"] : [], "burn"));
        Assert.Equal("action.no_such", Why(Four, y => y == 2024 ? ["Two Windmills,North,,2024-09-01,,burn"] : [], "brush_work"));
        Assert.Equal("action.no_date", Why(Four, y => y == 2024 ? ["Two Windmills,North,,,,burn"] : [], "burn"));
        Assert.Equal("action.one_year", Why(Four with { Years = 1, From = 0 }, _ => ["Two Windmills,North,,2020-09-01,,burn"], "burn"));
    }

    [Fact]
    public void A_pasture_with_the_action_from_the_beginning_is_left_out_and_said()
    {
        var found = Of(Four, y => y == 2021 ? ["Two Windmills,South,,2020-01-01,,brush_work"] : y == 2022 ? ["Two Windmills,North,,2022-09-01,,brush_work"] : []);
        Assert.Equal(["North"], found.Treated.Select(t => t.Pasture));
        Assert.Contains(found.Cautions, c => c.Key == "action.from_the_beginning");
    }

    [Fact]
    public void Staggered_starts_are_one_effect_and_said()
    {
        var found = Of(Four with { Pastures = 6 }, y => y == 2021 ? ["Two Windmills,North,,2021-10-01,,brush_work"] : y == 2023 ? ["Two Windmills,South,,2023-10-01,,brush_work"] : []);
        Assert.Equal([("North", "2022"), ("South", "2024")], found.Treated.Select(t => (t.Pasture, t.FromYear)));
        Assert.Contains(found.Cautions, c => c.Key == "action.staggered");
        Assert.Equal(29, found.Placebo.Runs);
    }

    [Fact]
    public void Nests_that_were_out_when_it_began_are_neither_before_nor_after()
    {
        var found = Of(Four, y => y == 2023 ? ["Two Windmills,North,,2023-05-20,,brush_work", "Two Windmills,South,,2023-05-20,,brush_work"] : []);
        Assert.All(found.Treated, t => Assert.Equal("2024", t.FromYear));
        var said = Assert.Single(found.Cautions, c => c.Key == "action.during");
        Assert.Contains("64 nests were out", Catalogue.English.Say(said), StringComparison.Ordinal);
    }

    [Fact]
    public void A_rest_acts_until_its_end_and_work_that_was_over_before_set_out_goes_on_acting()
    {
        var rest = Of(Four, y => y == 2021 ? ["Two Windmills,North,,2021-10-01,2023-02-01,livestock_out", "Two Windmills,South,,2021-10-01,2023-02-01,livestock_out"] : [], kind: "livestock_out");
        Assert.Equal(["2022", "2022"], rest.Treated.Select(t => t.FromYear));
        Assert.Contains(rest.Cautions, c => c.Key == "action.over");
        var work = Of(Four, y => y == 2021 ? ["Two Windmills,North,,2021-10-01,2022-02-01,brush_work", "Two Windmills,South,,2021-10-01,,brush_work"] : []);
        Assert.DoesNotContain(work.Cautions, c => c.Key == "action.over");
    }

    [Fact]
    public void Lines_alone_may_have_the_action_when_they_have_lasting_names()
    {
        var found = Of(Four, y => y == 2022 ? ["Two Windmills,North,Nh1,2022-09-01,,brush_work", "Two Windmills,North,Nh2,2022-09-01,,brush_work"] : []);
        var land = Assert.Single(found.Treated);
        Assert.True(land.IsLines);
        Assert.Equal(("North", "2023"), (land.Pasture, land.FromYear));
        Assert.Contains(found.Untreated, u => u is { Pasture: "North", IsLines: false });
        Assert.Contains(found.First, c => c.Key == "action.on_lines");
        Assert.Equal("action.placebo_lines", found.Placebo.P.Why!.Key);
        // A transect of one year that nobody walked again has no after.
        Assert.Equal("action.nobody_after", Why(FourNew, y => y == 2022 ? ["Two Windmills,North,Nh1,2022-09-01,,brush_work"] : [], "brush_work"));
    }

    [Fact]
    public void Years_without_a_pasture_to_compare_are_left_out_and_pastures_may_miss_years()
    {
        var season = new InventedYears { Design = Four, Events = y => y == 2022 ? ["Two Windmills,North,,2022-09-01,,brush_work"] : [], Is = (p, y) => (y < 2024 || p == "North") && !(p == "East" && y == 2022) }.Pooled();
        var found = BeforeAfterControl.Of(season, "brush_work").Value;
        Assert.Equal(["2021", "2022", "2023"], found.Years);
        Assert.Contains(found.Cautions, c => c.Key == "action.years_alone");
        Assert.NotNull(found.Effect.Low);
    }

    [Fact]
    public void Set_out_at_other_times_other_actions_and_other_properties_are_said()
    {
        var season = new InventedYears
        {
            Design = Four, Property = p => p is "North" ? "Thirteen Gates" : "Two Windmills", SetOn = (p, y) => Words.Numbers.Whole(y) + (p == "North" && y == 2023 ? "-06-20" : "-05-10"),
            Events = y => y == 2022 ? ["Thirteen Gates,North,,2022-09-01,,brush_work", "Two Windmills,West,,2022-11-01,,burn", "Two Windmills,,,2022-06-01,,rain"] : [],
        }.Pooled();
        var found = BeforeAfterControl.Of(season, "brush_work").Value;
        foreach (var key in new[] { "action.set_on", "action.others", "action.other_property" }) Assert.True(found.Cautions.Any(c => c.Key == key), key);
        Assert.Equal(["brush_work", "burn"], BeforeAfterControl.Kinds(season));
    }

    [Fact]
    public void The_same_season_gives_the_same_bits_and_the_names_of_pastures_change_nothing()
    {
        InventedYears Make(string first) => new() { Design = Four, Events = y => y == 2022 ? [first + ",North,,2022-09-01,,brush_work", first + ",South,,2022-09-01,,brush_work"] : [], Property = _ => first };
        var (one, again, renamed) = (Of(Make("Two Windmills")), Of(Make("Two Windmills")), Of(Make("A ranch")));
        Assert.Equal(Json(one), Json(again));
        Assert.Equal((one.Effect.Value, one.Effect.Low, one.Placebo.P.Value), (renamed.Effect.Value, renamed.Effect.Low, renamed.Placebo.P.Value));
    }

    [Fact]
    public void A_pasture_without_a_loss_gives_a_bounded_answer_that_says_so()
    {
        var season = new InventedYears { Design = new(2, 4, 3, 4, 2, 1, true), Truth = new(0.97, 0, 0, 0, 0), Seed = 5, Events = y => y == 2021 ? ["Two Windmills,North,,2021-09-01,,brush_work", "Two Windmills,South,,2021-09-01,,brush_work"] : [] }.Pooled();
        var found = BeforeAfterControl.Of(season, "brush_work").Value;
        Assert.True(found.Effect.Value is null ? found.Effect.Why is not null : found.Effect.Notes.Any(n => n.Key == "action.bounded"));
        Json(found);
    }

    [Fact]
    public void Two_answers_that_part_are_said_first_among_cautions()
    {
        Estimate Of(double low, double high) => new() { Value = (low + high) / 2, Low = low, High = high, Method = "made" };
        Assert.True(ActionSentences.Parts(Of(0.1, 0.3), Of(-0.1, 0.3)));
        Assert.True(ActionSentences.Parts(Of(-0.1, 0.3), Of(-0.3, -0.1)));
        Assert.False(ActionSentences.Parts(Of(0.1, 0.3), Of(0.01, 0.5)));
        Assert.False(ActionSentences.Parts(Of(0.1, 0.3), Estimate.None("made", Phrase.Of("action.changes_alike"))));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(14)]
    public void A_season_that_has_just_begun_breaks_nothing_and_is_no_loss(double lastLook)
    {
        var years = new InventedYears
        {
            Design = new YearsDesign(3, 4, 4, 8, 2, 2, true),
            Events = year => year == 2023 ? ["Two Windmills,North,,2023-02-01,,burn", "Two Windmills,South,,2023-02-01,,burn"] : [],
            LastLook = year => year == 2023 ? lastLook : 28,
        };
        var found = BeforeAfterControl.Of(years.Pooled(), "burn");
        if (!found.HasValue) return;
        Assert.Null(found.Value.Changes.Value);
    }

    [Fact]
    public void It_can_be_stopped()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        var season = new InventedYears { Design = Four, Events = y => y == 2022 ? ["Two Windmills,North,,2022-09-01,,brush_work"] : [] }.Pooled();
        Assert.ThrowsAny<OperationCanceledException>(() => BeforeAfterControl.Of(season, "brush_work", new ActionOptions { Cancel = stop.Token }));
    }

    [Fact]
    public void The_document_has_its_keys_and_no_word_that_is_no_number()
    {
        using var json = JsonDocument.Parse(Json(Of(Four, y => y == 2022 ? ["Two Windmills,North,,2022-09-01,,predator_removal", "Two Windmills,South,,2022-09-01,,predator_removal"] : [], kind: "predator_removal")));
        Assert.Equal(["kind", "treated", "untreated", "years", "first", "effect", "hazard_ratio", "chance_raised", "placebo", "changes", "must_hold", "cautions"], json.RootElement.EnumerateObject().Select(p => p.Name));
        Assert.Equal("2023", json.RootElement.GetProperty("treated")[0].GetProperty("from_year").GetString());
        Assert.Equal(5, json.RootElement.GetProperty("placebo").GetProperty("each").GetArrayLength());
        Assert.Contains(json.RootElement.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains("state agency", StringComparison.Ordinal));
    }

    private static BeforeAfterControl Of(YearsDesign design, Func<int, IEnumerable<string>> events, string kind = "brush_work") => BeforeAfterControl.Of(new InventedYears { Design = design, Events = events }.Pooled(), kind).Value;

    private static BeforeAfterControl Of(InventedYears years) => BeforeAfterControl.Of(years.Pooled(), "brush_work").Value;

    private static string Why(YearsDesign design, Func<int, IEnumerable<string>> events, string kind) => BeforeAfterControl.Of(new InventedYears { Design = design, Events = events }.Pooled(), kind).Why!.Key;

    private static string Json(BeforeAfterControl contrast)
    {
        var buffer = new System.Buffers.ArrayBufferWriter<byte>();
        ActionDocument.Write(contrast.Kind, contrast, new Tussock.Results.MadeWith("0", 1, "2026-01-01T00:00:00Z"), Catalogue.English, buffer);
        return JsonDocument.Parse(buffer.WrittenMemory).RootElement.GetProperty("action").GetRawText();
    }
}
