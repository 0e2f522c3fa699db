using System.Collections.Immutable;
using System.Globalization;
using Tussock.Records;
using Tussock.Workdays;
using Xunit;

namespace Tussock.Tests.Workdays;

/// <summary>A line of 8 stations at 50 steps of .75 m: 20 minutes of way, 600 m at 50 m a minute = 12, set out 8 · 10 = 80, in all 112; a check 20 + 12 + 40 = 72.</summary>
public class WorkPlanTests
{
    private static readonly DateOnly First = new(2027, 5, 10);

    private static Season Season(int lines, string setOn = "", params ReadOnlySpan<(string Line, string On)> visited) => Season(lines, setOn, _ => ("", ""), visited);

    private static Season Season(int lines, string setOn, Func<int, (string Lat, string Lon)> start, params ReadOnlySpan<(string Line, string On)> visited)
    {
        var pastures = new RowsOf(RecordKind.Pastures, "property", "pasture");
        pastures.Add(("property", "P"), ("pasture", "A"));
        var transects = new RowsOf(RecordKind.Transects, "property", "pasture", "transect", "set_on", "start_lat", "start_lon");
        var nests = new RowsOf(RecordKind.Nests, "transect", "nest", "cover");
        var visits = new RowsOf(RecordKind.Visits, "transect", "nest", "visited_on", "finding");
        for (var line = 1; line <= lines; line++)
        {
            transects.Add(("property", "P"), ("pasture", "A"), ("transect", "A" + line), ("set_on", setOn), ("start_lat", start(line).Lat), ("start_lon", start(line).Lon));
            for (var nest = 1; nest <= 8; nest++) nests.Add(("transect", "A" + line), ("nest", nest.ToString(CultureInfo.InvariantCulture)));
        }

        foreach (var (line, on) in visited) visits.Add(("transect", line), ("nest", "1"), ("visited_on", on), ("finding", "intact"));
        var read = SeasonReading.Read(new SeasonTables(SeasonPackage.Parse("{\"season\":{\"name\":\"s\"},\"resources\":[]}"), [pastures.Table(), transects.Table(), nests.Table(), visits.Table()], ImmutableSortedDictionary<string, string>.Empty), out var problems);
        Assert.Empty(problems);
        return read!;
    }

    private static IEnumerable<(string Line, int CheckDay, int Day, int Crew)> Told(WorkPlan plan) => plan.Works.Select(w => (w.Line.Name, w.CheckDay, w.On.DayNumber - First.DayNumber, w.Crew));

    private static ImmutableHashSet<DateOnly> Days(int from, int to) => [.. Enumerable.Range(from, to - from + 1).Select(First.AddDays)];

    /// <summary>A degree of latitude is 110,574 m at the equator (WGS 84): .01° are 1,105.7 m, at 200 m a minute 5.53 minutes instead of 20.</summary>
    [Fact]
    public void Ways_between_lines_are_reckoned_from_their_places_where_both_have_one()
    {
        var season = Season(3, "", line => line == 3 ? ("", "") : ("0." + (line == 1 ? "00" : "01"), "10"));
        var plan = WorkPlan.Of(season, new WorkRules(First) { BetweenMetresAMinute = 200, End = new(15, 0) });
        double[] took = [.. plan.Works.Where(w => w.CheckDay == 0).Select(w => (w.To - w.From).TotalMinutes)];
        Assert.Equal(112, took[0]);
        Assert.Equal(92 + 5.53, took[1], 0.8);
        Assert.Equal(112, took[2], 1.0);
    }

    [Fact]
    public void Three_lines_and_one_crew_by_hand()
    {
        var plan = WorkPlan.Of(Season(3), new WorkRules(First));

        // Two lines of 112 minutes in a morning of 300, the third next day; each checked 14 and 28 days after its own day.
        Assert.Equal([("A1", 0, 0, 1), ("A2", 0, 0, 1), ("A3", 0, 1, 1), ("A1", 14, 14, 1), ("A2", 14, 14, 1), ("A3", 14, 15, 1), ("A1", 28, 28, 1), ("A2", 28, 28, 1), ("A3", 28, 29, 1)], Told(plan));
        Assert.Equal((new TimeOnly(8, 22), new TimeOnly(10, 14)), (plan.Works[1].From, plan.Works[1].To));
        Assert.Equal(600, plan.Works[0].WalkM);
        Assert.Empty(plan.Missed);
    }

    [Fact]
    public void Two_crews_share_a_day() => Assert.Equal([("A1", 0, 0, 1), ("A2", 0, 0, 2), ("A3", 0, 0, 1), ("A4", 0, 0, 2)], Told(WorkPlan.Of(Season(4), new WorkRules(First) { Crews = 2 })).Take(4));

    [Fact]
    public void A_new_worker_begins_with_a_fifth_of_the_load()
    {
        // Of 300 minutes it may do 60 on the first day, which hold no line of 112, and 120 on the second, which hold one.
        var two = WorkPlan.Of(Season(6), new WorkRules(First) { Crews = 2, NewCrews = 1 });
        Assert.Equal([("A1", 0, 0, 1), ("A2", 0, 0, 1), ("A3", 0, 1, 1), ("A4", 0, 1, 1), ("A5", 0, 1, 2), ("A6", 0, 2, 1)], Told(two).Take(6));

        // A line that fits into 60 minutes: one on the first day, two on the second (120), three on the third (180).
        var plan = WorkPlan.Of(Season(9), new WorkRules(First) { NewCrews = 1, SetOutMinutes = 3 });
        Assert.Equal([1, 2, 3, 3], plan.Works.Where(w => w.CheckDay == 0).GroupBy(w => w.On).Select(g => g.Count()));
    }

    [Fact]
    public void A_week_of_rain_moves_checks_within_their_windows_or_says_that_it_cannot()
    {
        var underWay = Season(2, "2027-05-10");

        var dry = WorkPlan.Of(underWay, new WorkRules(First.AddDays(10)));
        Assert.All(dry.Works, w => Assert.Equal(0, w.OffDays));

        // Days 13 to 19 are closed: day 12 is the nearest that is open. Days 11 to 17 closed: none is.
        var moved = WorkPlan.Of(underWay, new WorkRules(First.AddDays(10)) { Closed = Days(13, 19) });
        Assert.All(moved.Works.Where(w => w.CheckDay == 14), w => Assert.Equal(-2, w.OffDays));
        Assert.Empty(moved.Missed);
        var lost = WorkPlan.Of(underWay, new WorkRules(First.AddDays(10)) { Closed = Days(11, 17) });
        Assert.Equal([("A1", 14), ("A2", 14)], lost.Missed.Select(m => (m.Line.Name, m.CheckDay)));
        Assert.All(lost.Missed, m => Assert.Equal("workdays.closed", m.Why.Key));
        Assert.Equal(2, lost.Works.Count(w => w.CheckDay == 28));
    }

    [Fact]
    public void When_crews_are_full_checks_move_on_and_the_last_are_told()
    {
        // Four checks of 72 minutes fill a morning; windows end three days later, so 16 of 18 find a day.
        var plan = WorkPlan.Of(Season(18, "2027-05-10"), new WorkRules(First.AddDays(14)));

        Assert.Equal([4, 4, 4, 4], plan.Works.Where(w => w.CheckDay == 14).GroupBy(w => w.OffDays).Select(g => g.Count()));
        Assert.Equal(2, plan.Missed.Count(m => m is { CheckDay: 14, Why.Key: "workdays.crowded" }));
    }

    [Fact]
    public void A_check_that_was_made_is_not_planned_again() =>
        Assert.Equal([("A2", 14), ("A1", 28), ("A2", 28)], WorkPlan.Of(Season(2, "2027-05-10", ("A1", "2027-05-23")), new WorkRules(First.AddDays(14))).Works.Select(w => (w.Line.Name, w.CheckDay)));

    [Fact]
    public void A_line_longer_than_a_day_is_told() => Assert.Equal("workdays.too_long", Assert.Single(WorkPlan.Of(Season(1), new WorkRules(First) { End = new TimeOnly(8, 0) }).Missed).Why.Key);

    [Fact]
    public void A_day_that_ends_before_it_begins_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => WorkPlan.Of(Season(1), new WorkRules(First) { End = new TimeOnly(6, 0) }));
}
