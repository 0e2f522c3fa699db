using System.Text.Json;
using Tussock.Edges.Tests.Commands;
using Tussock.Records;
using Tussock.Results;
using Xunit;

namespace Tussock.Edges.Tests.Scenes;

/// <summary>Stories that a newcomer acts out on an invented ranch; each ends in numbers that are exact.</summary>
public class SceneTests
{
    private static string Folder(string name) => Corpus.Folder("scenes/" + name);

    private static string Text(string data) => Typed.Done("results", data).Out;

    private static (double? Estimate, double? Low, double? High) Share(JsonElement group) => (group.Number("survival/day28/estimate"), group.Number("survival/day28/low"), group.Number("survival/day28/high"));

    private static void Near(double expected, double? found, double within) => Assert.True(found is { } x && Math.Abs(x - expected) <= within, $"expected {expected}, found {found}");

    [Fact]
    public void On_the_tailgate_four_typed_lines_give_share_interval_and_what_would_settle_it()
    {
        var answer = Typed.Done("quick", "5/6 4/6 3/6 1/6").Out;

        Assert.Contains("13 of 24 simulated nests", answer, StringComparison.Ordinal);
        Assert.Contains("(54 %)", answer, StringComparison.Ordinal);
        Assert.Contains("95 % interval 16–88 %", answer, StringComparison.Ordinal);
        Assert.Contains("35–72 %: too narrow", answer, StringComparison.Ordinal);
        Assert.Contains("at least 50 % is about 61 %", answer, StringComparison.Ordinal);
        Assert.Contains("Not settled", answer, StringComparison.Ordinal);
        Assert.Contains("leans neither above nor below", answer, StringComparison.Ordinal);
        Assert.Contains("More than 60 lines", answer, StringComparison.Ordinal);
    }

    [Fact]
    public void Typed_lines_and_the_same_lines_as_a_season_folder_agree_to_the_last_digit()
    {
        var typed = SeasonResults.Of(QuickSeason.Of([(5, 6), (4, 6), (3, 6), (1, 6)], [], 0, new SeasonSettings { Name = "typed", Title = "typed" })).Whole;
        var group = Typed.Results(Folder("tailgate")).Group("season");

        Assert.Equal((typed.Day28.Value, typed.Day28.Low, typed.Day28.High), Share(group));
        Assert.Equal(typed.ChanceAtLeastBenchmark.Value, group.Number("chance_at_least_benchmark"));
        Assert.Equal((typed.Day28Posterior.Value, typed.Day28Posterior.Low, typed.Day28Posterior.High), (group.Number("survival/day28_posterior/estimate"), group.Number("survival/day28_posterior/low"), group.Number("survival/day28_posterior/high")));
        Assert.Equal((typed.TwoPieceDay28.Value, typed.TwoPieceDay28.Low), (group.Number("survival_two_piece_day28/estimate"), group.Number("survival_two_piece_day28/low")));
        foreach (var sentence in Typed.Done("quick", "5/6 4/6 3/6 1/6").Out.Split('\n').Take(2)) Assert.Contains(sentence.Trim(), Text(Folder("tailgate")), StringComparison.Ordinal);
    }

    [Fact]
    public void Eggs_that_spoil_in_a_hot_week_end_the_watching_and_are_no_losses()
    {
        var group = Typed.Results(Folder("hot-week")).Group("season");
        var text = Text(Folder("hot-week"));

        Assert.Equal((8, 10, 2, 0, 12), (group.Number("intact"), group.Number("fate_known"), group.Number("depredated"), group.Number("other_loss"), group.Number("nests")));
        Assert.Equal(0.8, Share(group).Estimate);
        Near(0.49, Share(group).Low, 0.005);
        Near(0.94, Share(group).High, 0.005);
        Assert.Contains("8 of 10 simulated nests", text, StringComparison.Ordinal);
        Assert.Contains("2 nests ended on day 14: eggs spoiled, not counted as losses.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("of 12 simulated nests", text, StringComparison.Ordinal);
        Assert.DoesNotContain("66.7 %", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("other_loss,spoiled,3")]
    [InlineData("Other Loss,Spoiled in place,3")]
    public void Spoiled_may_be_spelled_as_people_spell_it(string spelling)
    {
        using var scene = new SceneFolder("hot-week").Change("visits.csv", "other_loss,spoiled_in_place,3", spelling);

        Assert.Equal((0.8, 0), (Share(Typed.Results(scene.Folder).Group("season")).Estimate, Typed.Results(scene.Folder).Group("season").Number("other_loss")));
    }

    [Fact]
    public void Spoiled_eggs_in_a_bowl_as_set_need_no_finding_and_no_cause()
    {
        using var scene = new SceneFolder("hot-week").Change("visits.csv", "eggs_broken,bowl", "eggs_spoiled,bowl").Change("visits.csv", "other_loss,spoiled_in_place,3", ",,3");

        Assert.Equal(0.8, Share(Typed.Results(scene.Folder).Group("season")).Estimate);
        Assert.Contains("eggs spoiled, not counted as losses", Text(scene.Folder), StringComparison.Ordinal);
    }

    [Fact]
    public void One_spoiled_nest_that_was_trampled_after_all_counts_at_once()
    {
        using var scene = new SceneFolder("hot-week");
        Typed.Done("import", scene.DataFile, scene.Folder);
        scene.Change("visits.csv", "1,4,2024-05-20,other_loss,spoiled_in_place", "1,4,2024-05-20,other_loss,trampled");
        var asked = Typed.Run("import", scene.DataFile, scene.Folder);

        Assert.Equal(1, asked.Exit);
        Assert.Contains("“spoiled_in_place”, folder “trampled”", asked.Err, StringComparison.Ordinal);
        Assert.Equal(0.8, Share(Typed.Results(scene.DataFile).Group("season")).Estimate);
        Typed.Done("import", scene.DataFile, scene.Folder, "--apply");
        var group = Typed.Results(scene.DataFile).Group("season");
        Assert.Equal((8, 11, 1), (group.Number("intact"), group.Number("fate_known"), group.Number("other_loss")));
        Assert.Equal(8.0 / 11, Share(group).Estimate);
        Assert.Contains("(73 %)", Text(scene.DataFile), StringComparison.Ordinal);
    }

    [Fact]
    public void Washer_bowl_and_eggs_say_the_finding_that_nobody_wrote()
    {
        var group = Typed.Results(Folder("washer")).Group("season");

        Assert.Equal((12, 21, 9, 3), (group.Number("intact"), group.Number("fate_known"), group.Number("depredated"), group.Number("unknown")));
        Assert.Equal(12.0 / 21, Share(group).Estimate);
        Assert.Equal((0.5, 0.625), (group.Number("survival/day28_if_unknown_lost"), group.Number("survival/day28_if_unknown_survived")));
        Assert.Contains("it is 50.0 %, if all survived 62.5 %", Text(Folder("washer")), StringComparison.Ordinal);
    }

    [Fact]
    public void The_worklist_asks_for_a_second_search_of_exactly_the_nests_not_found()
    {
        var asked = Typed.Findings(Folder("washer"), "--today", "2024-06-04").Where(f => f.Text("rule") == "not_relocated").ToList();

        Assert.Equal([("1", 3), ("2", 4), ("3", 5)], asked.Select(f => (f.Text("transect")!, f.GetProperty("nest").GetInt32())));
        Assert.All(asked, f => Assert.Contains("until 6 June 2024 (day 31)", f.Text("to_do"), StringComparison.Ordinal));
    }

    [Fact]
    public void After_the_second_search_no_bounds_are_left()
    {
        using var scene = new SceneFolder("washer").Add("visits.csv",
            "1,3,2024-06-05,,in_bowl,as_set,standing,3,,second_search,,crew 1", "2,4,2024-06-05,,in_bowl,as_set,standing,0,3,second_search,,crew 1", "3,5,2024-06-05,,moved,gone,standing,0,3,second_search,,crew 1");
        var group = Typed.Results(scene.Folder).Group("season");

        Assert.Equal((13, 24, 0), (group.Number("intact"), group.Number("fate_known"), group.Number("unknown")));
        Assert.Equal((13.0 / 24, 13.0 / 24, 13.0 / 24), (Share(group).Estimate, group.Number("survival/day28_if_unknown_lost"), group.Number("survival/day28_if_unknown_survived")));
        Assert.DoesNotContain("if all survived", Text(scene.Folder), StringComparison.Ordinal);
        Assert.DoesNotContain(Typed.Findings(scene.Folder, "--today", "2024-06-06"), f => f.Text("rule") == "not_relocated");
    }

    [Fact]
    public void A_last_check_on_day_41_gives_no_counted_share_but_the_estimate_from_the_visits()
    {
        var group = Typed.Results(Folder("road-out")).Group("season");
        var text = Text(Folder("road-out"));

        Assert.Equal((null, null, null), Share(group));
        Assert.Contains("last check on day 41", group.Text("survival/day28/why"), StringComparison.Ordinal);
        Near(10.0 / 12 * Math.Pow(0.5, 14.0 / 27), group.Number("survival_two_piece_day28/estimate"), 1e-9);
        Assert.True(group.Number("survival_two_piece_day28/low") < 0.582 && group.Number("survival_two_piece_day28/high") > 0.582);
        Assert.Contains("From the visits themselves, survival to the end is 58 %", text, StringComparison.Ordinal);
        Assert.Contains("What not to say: 5 of 12 (42 %).", text, StringComparison.Ordinal);
        Assert.DoesNotContain("5 of 7", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_passes_are_averaged_one_side_is_half_the_width_and_a_thicket_is_not_zero()
    {
        var density = Typed.Results(Folder("two-callers")).GetProperty("density").EnumerateArray().Single(d => d.Text("level") == "season" && d.Text("cover") == "all");

        Assert.Equal(8, density.Number("clumps"));
        Near(102.6, density.Number("area_m2"), 1e-9);
        Near(8 / 102.6 * 4046.8564224, density.Number("per_acre/estimate"), 1e-9);
        Near(315.5, density.Number("per_acre/estimate"), 0.05);
        Assert.Empty(Typed.Findings(Folder("two-callers")));
    }

    [Fact]
    public void A_segment_that_stands_twice_without_pass_or_side_is_told_what_to_write()
    {
        using var scene = new SceneFolder("two-callers").Change("belts.csv", ",1,both,", ",,,").Change("belts.csv", ",2,both,", ",,,").Change("belts.csv", ",1,right,", ",,,");
        var inspected = Typed.Run("inspect", scene.Folder);

        Assert.Equal(1, inspected.Exit);
        Assert.Contains("belts.csv:3", inspected.Out, StringComparison.Ordinal);
        Assert.Contains("pass 1 and pass 2", inspected.Out, StringComparison.Ordinal);
        Assert.Contains("side left and right", inspected.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_segment_of_half_the_width_without_a_side_looks_odd()
    {
        using var scene = new SceneFolder("two-callers").Change("belts.csv", "1,2,50,0.76,1.80,bunchgrass,3,crew 1,1,right", "1,2,50,0.76,0.90,bunchgrass,3,crew 1,,");

        var odd = Assert.Single(Typed.Findings(scene.Folder), f => f.Text("rule") == "segment_size");
        Assert.Contains("was one side only counted?", odd.Text("what"), StringComparison.Ordinal);
    }

    [Fact]
    public void Trampling_is_named_before_anything_else_where_cattle_took_more_than_predators()
    {
        var results = Typed.Results(Folder("thirty-head"));
        var group = results.Group("pasture", "East");
        var verdict = results.GetProperty("verdicts")[0];

        Assert.Equal((0.4, 0.35, 0.25), (Share(group).Estimate, group.Number("other_loss") / group.Number("nests"), group.Number("depredated") / group.Number("nests")));
        Assert.Equal((7, 5), (verdict.Number("losses/trampled"), verdict.Number("losses/depredated")));
        Assert.StartsWith("7 of 12 lost nests were trampled. 30 head came in on day 16", verdict.Text("because"), StringComparison.Ordinal);
        Near(410, results.GetProperty("density")[0].Number("per_acre/estimate"), 1e-4);
        Assert.DoesNotContain("predator control", Text(Folder("thirty-head")), StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("any_egg", 9.4)]
    [InlineData("all_eggs", 9.5)]
    public void The_camera_times_the_loss_and_its_fast_clock_is_set_back(string rule, double seen)
    {
        using var scene = new SceneFolder("three-visitors");
        if (rule != "any_egg") scene.Change("datapackage.json", "\"any_egg\"", "\"" + rule + "\"");
        var results = Typed.Results(scene.Folder);

        Near(seen - (1.0 / 24), results.Fate("1", 3).Number("t"), 1e-9);
        Assert.Equal(("lost", "lost"), (results.Fate("1", 3).Text("day14"), results.Fate("1", 3).Text("day28")));
        Assert.Equal("coyote", Culprit(results, 3).Text("confirmed"));
    }

    [Fact]
    public void A_camera_that_died_after_its_last_picture_of_whole_eggs_confirms_nobody()
    {
        var results = Typed.Results(Folder("three-visitors"));
        var fate = results.Fate("1", 8);

        Assert.Equal((19.8, 28, null, "lost"), (fate.Number("a"), fate.Number("b"), fate.Number("t"), fate.Text("day28")));
        Assert.Null(Culprit(results, 8).Text("confirmed"));
    }

    [Fact]
    public void Remains_found_after_a_later_visitor_teach_nothing()
    {
        using var without = new SceneFolder("three-visitors").Change("remains.csv", "1,3,14,shell_present,few pieces\n1,3,14,fragment_size,pulverised\n", "");
        using var alone = new SceneFolder("three-visitors").Change("cameras.csv", "1,3,11,raccoon,no,ate_remains,,a-0060.jpg\n", "");
        static string Belief(string folder) => Culprit(Typed.Results(folder), 6).GetProperty("belief").GetRawText();

        Assert.Equal(Belief(without.Folder), Belief(Folder("three-visitors")));
        Assert.NotEqual(Belief(alone.Folder), Belief(Folder("three-visitors")));
    }

    private static JsonElement Culprit(JsonElement results, int nest) => results.At("culprits/nests").EnumerateArray().Single(n => n.Number("nest") == nest);
}
