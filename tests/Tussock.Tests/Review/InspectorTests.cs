using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Review;

public static class InspectorTests
{
    // Lines of visits.csv in the clean season: 2–5 T1 day 14, 6–9 T2 day 14, 10–13 T1 day 28, 14–17 T2 day 28.
    private static readonly DateOnly SetOut = new(2024, 5, 6);

    [Fact]
    public static void A_clean_season_has_no_finding_above_a_note() => Assert.DoesNotContain(new SmallSeason().Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void A_clean_season_has_none_after_its_end_either() => Assert.DoesNotContain(new SmallSeason().Findings(SetOut.AddDays(100)), p => p.Severity < Severity.Note);

    [Fact]
    public static void Worst_comes_first()
    {
        var found = new SmallSeason().With("nests.csv", 2, "steps", "99").With("visits.csv", 3, "finding", "depredated").With("visits.csv", 3, "eggs_intact", "0").With("nests.csv", 4, "direction_sense", "").WithSetting("time_zone", "\"\"").Findings();
        Assert.Equal(found.OrderBy(p => p.Severity).ThenByDescending(p => p.Weight), found);
        Assert.Equal("intact_after_lost", found[0].Rule);
        Assert.Equal("time_zone_missing", found[^1].Rule);
    }

    [Fact]
    public static void Intact_after_lost_is_flagged_at_the_intact_visit() =>
        Shows("intact_after_lost", "visits.csv", 11, new SmallSeason().With("visits.csv", 3, "finding", "depredated").With("visits.csv", 3, "eggs_intact", "0"));

    [Fact]
    public static void Two_findings_on_one_day_flag_both_lines()
    {
        var season = new SmallSeason().Add("visits.csv", "transect=T1 nest=1 visited_on=2024-06-03 finding=other_loss cause=trampled");
        Shows("two_findings_one_day", "visits.csv", 10, season);
        Shows("two_findings_one_day", "visits.csv", 18, season);
    }

    [Fact]
    public static void Two_findings_of_one_day_with_times_in_order_are_no_contradiction()
    {
        var season = new SmallSeason().WithAll("nests.csv", "set_at", "08:00").With("visits.csv", 10, "visited_at", "08:00").Add("visits.csv", "transect=T1 nest=1 visited_on=2024-06-03 visited_at=18:00 finding=other_loss cause=trampled");
        Assert.DoesNotContain(season.Findings(), p => p.Rule == "two_findings_one_day");
    }

    [Fact]
    public static void A_second_search_of_the_same_day_that_finds_the_nest_is_no_contradiction() =>
        Assert.DoesNotContain(new SmallSeason().Add("visits.csv", "transect=T1 nest=1 visited_on=2024-06-03 finding=not_relocated").Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void A_visit_before_set_out_is_flagged() => Shows("visit_before_set_out", "visits.csv", 18, new SmallSeason().Add("visits.csv", "transect=T1 nest=1 visited_on=2024-05-03 finding=intact"));

    [Fact]
    public static void A_loss_on_the_day_of_set_out_is_flagged() => Shows("lost_on_set_out", "visits.csv", 18, new SmallSeason().Add("visits.csv", "transect=T1 nest=1 visited_on=2024-05-06 finding=depredated"));

    [Fact]
    public static void A_visit_after_today_is_flagged() => Shows("visit_in_future", "visits.csv", 10, new SmallSeason(), SetOut.AddDays(20));

    [Fact]
    public static void A_day_that_does_not_fit_its_date_is_flagged() => Shows("day_and_date_disagree", "visits.csv", 2, new SmallSeason().With("visits.csv", 2, "day", "15"));

    [Fact]
    public static void Too_few_whole_eggs_at_an_intact_nest_are_flagged() => Shows("eggs_disagree", "visits.csv", 10, new SmallSeason().With("visits.csv", 10, "eggs_intact", "2"));

    [Fact]
    public static void Under_all_eggs_two_of_three_are_intact() =>
        Assert.DoesNotContain(new SmallSeason().WithSetting("loss_rule", "\"all_eggs\"").With("visits.csv", 10, "eggs_intact", "2").Findings(), p => p.Rule == "eggs_disagree");

    [Fact]
    public static void All_eggs_whole_at_a_lost_nest_are_flagged() => Shows("eggs_disagree", "visits.csv", 12, new SmallSeason().With("visits.csv", 12, "eggs_intact", "3"));

    [Fact]
    public static void Eggs_counted_at_a_nest_not_relocated_are_flagged() => Shows("eggs_disagree", "visits.csv", 10, new SmallSeason().With("visits.csv", 10, "finding", "not_relocated"));

    [Fact]
    public static void More_eggs_than_were_set_are_flagged() => Shows("more_eggs_than_set", "visits.csv", 10, new SmallSeason().With("visits.csv", 10, "eggs_intact", "4"));

    [Fact]
    public static void Counted_eggs_without_eggs_set_are_flagged() => Shows("eggs_set_missing", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "eggs", ""));

    [Fact]
    public static void Leaking_eggs_in_a_bowl_as_set_raise_the_question_of_heat()
    {
        var season = new SmallSeason().Without("remains.csv", r => r["transect"] == "T2").With("visits.csv", 16, "bowl", "as_set").With("visits.csv", 16, "eggs_broken", "3").With("visits.csv", 16, "note", "leaking");
        Shows("maybe_spoiled_in_place", "visits.csv", 16, season);
    }

    [Fact]
    public static void An_other_loss_without_a_cause_is_asked_about() => Shows("cause_missing", "visits.csv", 12, new SmallSeason().With("visits.csv", 12, "finding", "other_loss"));

    [Fact]
    public static void A_cause_that_is_not_listed_is_told() => Shows("cause_not_listed", "visits.csv", 12, new SmallSeason().With("visits.csv", 12, "finding", "other_loss").With("visits.csv", 12, "cause", "meteorite"));

    [Fact]
    public static void A_nest_never_visited_is_flagged_at_its_own_line() => Shows("never_visited", "nests.csv", 3, new SmallSeason().Without("visits.csv", Visits("T1", "2")));

    [Fact]
    public static void A_nest_is_not_called_never_visited_before_its_first_check_is_over() =>
        Assert.DoesNotContain(new SmallSeason().Without("visits.csv", _ => true).Add("visits.csv", "transect=T1 nest=1 visited_on=2024-05-20 finding=intact observer=crew 1").Findings(SetOut.AddDays(17)), p => p.Rule == "never_visited");

    [Fact]
    public static void A_visit_without_a_date_of_set_out_is_flagged() => Shows("set_out_missing", "nests.csv", 2, new SmallSeason().With("transects.csv", 2, "set_on", ""));

    [Fact]
    public static void A_visit_to_a_station_without_a_nest_is_flagged() => Shows("visit_to_no_nest", "nests.csv", 3, new SmallSeason().With("nests.csv", 3, "status", "no_clump"));

    [Fact]
    public static void A_first_check_made_too_late_is_told_at_the_late_visit() => Shows("first_check_late", "visits.csv", 2, new SmallSeason().With("visits.csv", 2, "visited_on", "2024-05-26"));

    [Fact]
    public static void A_first_check_is_due_from_three_days_before_to_three_days_after()
    {
        var season = new SmallSeason().Without("visits.csv", _ => true).Without("remains.csv", _ => true).Without("cameras.csv", _ => true).Add("visits.csv", "transect=T1 nest=1 visited_on=2024-05-20 finding=intact observer=crew 1");
        Assert.Equal([false, true, true, false], new[] { 10, 11, 17, 18 }.Select(day => season.Findings(SetOut.AddDays(day)).Any(p => p.Rule == "first_check_missing")));
    }

    [Fact]
    public static void A_missing_last_check_says_until_when_it_counts()
    {
        var season = new SmallSeason().Without("visits.csv", r => r["transect"] == "T1" && r["nest"] == "2" && r["visited_on"] == "2024-06-03");
        var found = Shows("last_check_missing", "nests.csv", 3, season);
        Assert.Contains("6 June 2024 (day 31)", Catalogue.English.Say(found.ToDo), StringComparison.Ordinal);
        Assert.Equal(Severity.Missing, found.Severity);
        Assert.Equal(Severity.Late, Shows("last_check_missing", "nests.csv", 3, season, SetOut.AddDays(32)).Severity);
        Assert.DoesNotContain(season.Findings(SetOut.AddDays(24)), p => p.Rule == "last_check_missing");
    }

    [Fact]
    public static void A_late_last_check_says_its_day_and_what_it_costs()
    {
        var found = Shows("last_check_late", "visits.csv", 16, new SmallSeason().With("visits.csv", 16, "visited_on", "2024-06-16"));
        Assert.Contains("day 41", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Assert.Contains("lost only then", Catalogue.English.Say(found.What), StringComparison.Ordinal);
    }

    [Fact]
    public static void Nests_not_relocated_are_listed_with_the_last_day_of_a_second_search()
    {
        var season = new SmallSeason().With("visits.csv", 10, "finding", "not_relocated").With("visits.csv", 10, "eggs_intact", "").With("visits.csv", 10, "not_found_because", "searched_all");
        var found = Shows("not_relocated", "visits.csv", 10, season);
        Assert.Contains("day 31", Catalogue.English.Say(found.ToDo), StringComparison.Ordinal);
        Assert.Contains("bowl and washer", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Assert.Equal(1, season.Findings().Count(p => p.Rule == "not_relocated"));
    }

    [Fact]
    public static void A_nest_found_at_the_second_search_is_not_listed() =>
        Assert.DoesNotContain(new SmallSeason().With("visits.csv", 10, "finding", "not_relocated").With("visits.csv", 10, "eggs_intact", "").Add("visits.csv", "transect=T1 nest=1 visited_on=2024-06-05 finding=intact").Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void An_observer_who_finds_far_fewer_nests_comes_first()
    {
        var season = new SmallSeason();
        foreach (var file in new[] { "transects.csv", "nests.csv", "visits.csv", "belts.csv", "remains.csv", "cameras.csv" }) season.Without(file, _ => true);
        for (var line = 1; line <= 6; line++) AddLine(season, line, line <= 3 ? "crew 1" : "crew 2", line switch { 1 => 1, 5 => 4, 6 => 3, _ => 0 });
        var found = season.Findings();
        Assert.Equal("observer_finds_few", found[0].Rule);
        Assert.Contains("crew 2 could not find 7 of 24 nests at the check of day 28, the others 1 of 24", Catalogue.English.Say(found[0].What), StringComparison.Ordinal);
        Assert.Contains("day 31", Catalogue.English.Say(found[0].ToDo), StringComparison.Ordinal);
        Assert.Equal(8, found.Count(p => p.Rule == "not_relocated"));
    }

    [Fact]
    public static void Nests_found_at_the_second_search_no_longer_speak_against_an_observer()
    {
        var season = new SmallSeason();
        AddLine(season, 3, "crew 3", 6);
        Assert.Contains(season.Findings(), p => p.Rule == "observer_finds_few");
        for (var nest = 1; nest <= 6; nest++) season.Add("visits.csv", $"transect=T3 nest={nest} visited_on=2024-06-05 finding=intact observer=crew 1");
        Assert.DoesNotContain(season.Findings(), p => p.Rule == "observer_finds_few");
    }

    [Fact]
    public static void Signs_at_a_nest_that_was_never_lost_are_flagged() => Shows("remains_without_loss", "remains.csv", 4, new SmallSeason().Add("remains.csv", "transect=T1 nest=1 visited_on=2024-06-03 sign=rooting value=yes"));

    [Fact]
    public static void A_depredated_nest_without_signs_or_note_is_told() => Shows("loss_without_remains", "visits.csv", 16, new SmallSeason().Without("remains.csv", r => r["transect"] == "T2"));

    [Fact]
    public static void A_season_without_any_signs_is_a_note() => Shows("no_remains", "remains.csv", null, new SmallSeason().Without("remains.csv", _ => true));

    [Fact]
    public static void A_camera_that_contradicts_the_visits_by_a_day_is_flagged() => Shows("camera_outside_visits", "cameras.csv", 2, new SmallSeason().With("cameras.csv", 2, "day", "13"));

    [Fact]
    public static void A_camera_half_a_day_outside_the_visits_is_not_flagged() => Assert.DoesNotContain(new SmallSeason().With("cameras.csv", 2, "day", "13.5").Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void A_loss_seen_by_a_camera_alone_is_told()
    {
        var season = new SmallSeason().Without("visits.csv", r => r["nest"] == "3" && r["visited_on"] == "2024-06-03").Without("remains.csv", _ => true);
        Shows("camera_loss_not_found", "cameras.csv", 2, season);
    }

    [Fact]
    public static void Under_all_eggs_an_event_needs_its_eggs() => Shows("eggs_taken_missing", "cameras.csv", 2, new SmallSeason().WithSetting("loss_rule", "\"all_eggs\""));

    [Fact]
    public static void A_culprit_outside_the_classes_is_told() => Shows("culprit_not_listed", "cameras.csv", 2, new SmallSeason().With("cameras.csv", 2, "culprit", "chupacabra"));

    [Theory]
    [InlineData("transects.csv", "steps_between")]
    [InlineData("transects.csv", "step_m")]
    [InlineData("belts.csv", "arm_span_m")]
    public static void Clumps_without_an_area_are_flagged(string file, string column)
    {
        var season = new SmallSeason().WithAll("belts.csv", "steps", "").WithAll("belts.csv", "step_m", "").WithAll(file, column, "");
        Shows("clumps_without_area", "belts.csv", 2, season);
    }

    [Fact]
    public static void Clumps_of_a_segment_called_not_counted_are_flagged() => Shows("clumps_not_counted", "belts.csv", 2, new SmallSeason().With("belts.csv", 2, "status", "not_counted"));

    [Fact]
    public static void A_segment_without_a_number_of_clumps_is_told() => Shows("clumps_missing", "belts.csv", 2, new SmallSeason().With("belts.csv", 2, "clumps", ""));

    [Fact]
    public static void A_second_pass_without_a_first_is_told() => Shows("second_pass_alone", "belts.csv", 2, new SmallSeason().With("belts.csv", 2, "pass", "2"));

    [Fact]
    public static void Half_an_area_raises_the_question_of_one_side()
    {
        var found = Shows("segment_size", "belts.csv", 2, new SmallSeason().With("belts.csv", 2, "arm_span_m", "0.90"));
        Assert.Contains("68.4", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Assert.Contains("one side only", Catalogue.English.Say(found.What), StringComparison.Ordinal);
    }

    [Fact]
    public static void A_side_that_is_written_is_not_odd() => Assert.DoesNotContain(new SmallSeason().With("belts.csv", 2, "side", "right").Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void A_line_without_a_belt_is_told() => Shows("belt_missing", "transects.csv", 3, new SmallSeason().Without("belts.csv", r => r["transect"] == "T2"));

    [Fact]
    public static void A_season_without_belts_is_told_once() => Shows("no_belts", "belts.csv", null, new SmallSeason().Without("belts.csv", _ => true));

    [Fact]
    public static void A_direction_that_does_not_exist_is_flagged() => Shows("impossible_direction", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "direction", "NNN"));

    [Fact]
    public static void A_bearing_of_370_degrees_is_flagged() => Shows("impossible_direction", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "bearing_true_deg", "370"));

    [Fact]
    public static void A_direction_without_its_sense_is_flagged() => Shows("direction_without_sense", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "direction_sense", ""));

    [Fact]
    public static void Many_steps_are_told() => Shows("steps_far", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "steps", "61").With("nests.csv", 2, "nest_lat", ""));

    [Fact]
    public static void A_nest_on_the_wrong_side_of_its_flag_is_told_with_the_sense_that_fits()
    {
        var found = Shows("nest_far_from_walk", "nests.csv", 3, new SmallSeason().With("nests.csv", 3, "direction", "E"));
        Assert.Contains("fits if the direction was taken from nest to flag", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Assert.DoesNotContain(new SmallSeason().With("nests.csv", 3, "direction", "E").With("nests.csv", 3, "direction_sense", "nest_to_flag").Findings(), p => p.Severity < Severity.Note);
    }

    [Fact]
    public static void A_second_leg_is_walked_too() =>
        Assert.DoesNotContain(new SmallSeason().With("nests.csv", 3, "steps", "32").With("nests.csv", 3, "steps_2", "20").With("nests.csv", 3, "direction_2", "E").Findings(), p => p.Severity < Severity.Note);

    [Fact]
    public static void A_nest_kilometres_from_its_flag_is_told() => Shows("nest_far_from_flag", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "nest_lat", "27.519"));

    [Fact]
    public static void A_flag_far_from_its_neighbour_is_told() => Shows("flags_uneven", "nests.csv", 3, new SmallSeason().With("nests.csv", 3, "flag_lat", "27.5055"));

    [Fact]
    public static void A_position_outside_the_pasture_is_told() =>
        Assert.Equal(Severity.Odd, Shows("outside_pasture", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "start_lat", "27.48").With("transects.csv", 2, "start_lon", "-98")).Severity);

    [Fact]
    public static void Latitude_and_longitude_exchanged_are_recognised()
    {
        var found = Shows("outside_pasture", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "start_lat", "27.5").With("transects.csv", 2, "start_lon", "98"));
        Assert.Contains("other sign", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        var square = """{"features":[{"properties":{"property":"Two Windmills","pasture":"East"},"geometry":{"type":"Polygon","coordinates":[[[30,27],[31,27],[31,28],[30,28]]]}}]}""";
        var swapped = Shows("outside_pasture", "transects.csv", 2, new SmallSeason().WithBoundary(square).With("transects.csv", 2, "start_lat", "30.5").With("transects.csv", 2, "start_lon", "27.5"));
        Assert.Contains("exchanged", Catalogue.English.Say(swapped.What), StringComparison.Ordinal);
    }

    [Fact]
    public static void Boundaries_that_cannot_be_read_are_told() => Shows("boundaries_unreadable", "pastures.geojson", null, new SmallSeason().WithBoundary("{\"features\":"));

    [Fact]
    public static void A_pasture_without_a_boundary_is_a_note() => Shows("boundary_missing", "pastures.csv", 2, new SmallSeason().WithBoundary("{\"features\":[]}"));

    [Fact]
    public static void A_line_whose_walks_are_all_alike_is_told()
    {
        var season = new SmallSeason().Without("nests.csv", _ => false);
        for (var line = 2; line <= 5; line++) season.With("nests.csv", line, "steps", "10").With("nests.csv", line, "direction", "E").With("nests.csv", line, "nest_lat", "");
        Shows("line_alike", "nests.csv", 2, season);
    }

    [Fact]
    public static void Visits_all_noted_at_the_same_minute_are_told()
    {
        var season = new SmallSeason();
        for (var line = 2; line <= 5; line++) season.With("visits.csv", line, "visited_at", "18:30");
        Shows("same_minute", "visits.csv", 2, season);
    }

    [Fact]
    public static void A_line_set_out_over_many_days_is_told() => Shows("set_out_spread", "nests.csv", 3, new SmallSeason().With("nests.csv", 3, "set_on", "2024-05-10").With("visits.csv", 3, "visited_on", "2024-05-24"));

    [Fact]
    public static void A_cover_class_outside_the_list_is_flagged_with_the_one_that_was_meant()
    {
        var found = Shows("cover_not_listed", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "cover", "Grass"));
        Assert.StartsWith("Transect T1, nest 1: the cover class “Grass”", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Assert.Equal("Write “grass”.", Catalogue.English.Say(found.ToDo));
        Shows("cover_not_listed", "belts.csv", 2, new SmallSeason().With("belts.csv", 2, "cover", "brush"));
    }

    [Fact]
    public static void A_nest_without_a_cover_class_is_flagged() => Shows("cover_missing", "nests.csv", 2, new SmallSeason().With("nests.csv", 2, "cover", ""));

    [Fact]
    public static void One_observer_in_two_spellings_is_told_at_the_rarer_one() => Shows("observer_spellings", "visits.csv", 6, new SmallSeason().With("visits.csv", 6, "observer", "Crew2"));

    [Fact]
    public static void Flags_and_washers_still_out_are_told()
    {
        var found = Shows("flags_left", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "flags_out", "6").With("transects.csv", 2, "flags_in", "5"));
        Assert.Contains("one flag is still out", Catalogue.English.Say(found.What), StringComparison.Ordinal);
        Shows("washers_left", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "washers_out", "4").With("transects.csv", 2, "washers_in", "2"));
        Shows("flags_more_in", "transects.csv", 2, new SmallSeason().With("transects.csv", 2, "flags_out", "4").With("transects.csv", 2, "flags_in", "5"));
    }

    [Fact]
    public static void Set_out_in_another_year_than_the_label_is_a_note() => Assert.Equal(Severity.Note, Shows("year_label", "nests.csv", 2, new SmallSeason().WithSetting("year", "2023")).Severity);

    [Fact]
    public static void A_planned_transect_is_a_note() => Shows("planned_not_set", "transects.csv", 4, new SmallSeason().Add("transects.csv", "property=Two Windmills pasture=East transect=T3"));

    [Fact]
    public static void A_pasture_without_transects_is_a_note() => Shows("pasture_without_transects", "pastures.csv", 3, new SmallSeason().Add("pastures.csv", "property=Two Windmills pasture=West"));

    [Fact]
    public static void Quail_eggs_are_a_note() => Shows("quail_eggs", "datapackage.json", null, new SmallSeason().WithSetting("egg_kind", "\"quail\""));

    [Fact]
    public static void A_season_without_a_time_zone_is_a_note() => Shows("time_zone_missing", "datapackage.json", null, new SmallSeason().WithSetting("time_zone", "\"\""));

    private static Problem Shows(string rule, string file, int? line, SmallSeason season, DateOnly? today = null)
    {
        var found = season.Findings(today);
        Assert.Contains(found, p => p.Rule == rule && p.Place.File == file && p.Place.Line == line);
        return found.First(p => p.Rule == rule && p.Place.File == file && p.Place.Line == line);
    }

    private static Func<IReadOnlyDictionary<string, string>, bool> Visits(string transect, string nest) => r => r["transect"] == transect && r["nest"] == nest;

    private static void AddLine(SmallSeason season, int line, string observer, int notFound)
    {
        season.Add("transects.csv", $"property=Two Windmills pasture=East transect=T{line} set_on=2024-05-06 step_m=0.76 steps_between=50");
        season.Add("belts.csv", $"transect=T{line} segment=1 steps=50 arm_span_m=1.80 cover=grass clumps=3");
        for (var nest = 1; nest <= 8; nest++)
        {
            season.Add("nests.csv", $"transect=T{line} nest={nest} cover=grass eggs=3");
            season.Add("visits.csv", $"transect=T{line} nest={nest} visited_on=2024-05-20 finding=intact observer={observer}");
            season.Add("visits.csv", $"transect=T{line} nest={nest} visited_on=2024-06-03 finding={(nest <= notFound ? "not_relocated" : "intact")} observer={observer}");
        }
    }
}
