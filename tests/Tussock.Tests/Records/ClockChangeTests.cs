using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Review;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Records;

/// <summary>A season that lies across a change of the clock: days are differences of what clocks on the land show, and nothing else.</summary>
/// <remarks>In America/Chicago clocks went from 02:00 to 03:00 on 8 March 2026 and from 02:00 back to 01:00 on 1 November 2026.</remarks>
public static class ClockChangeTests
{
    private const double Hour = 1 / 24.0;

    [Theory]
    [InlineData("2026-03-01", "2026-03-15")]
    [InlineData("2026-10-25", "2026-11-08")]
    public static void Two_weeks_from_nine_to_nine_are_fourteen_days_though_they_had_another_number_of_hours(string set, string visited)
    {
        Assert.Equal(14, Days(set, "09:00", visited, "09:00"), 12);
        Assert.Equal(14, Days(set, "", visited, ""), 12);
        Assert.Equal(14, Days(set, "09:00", visited, ""), 12);
        Assert.Equal(14, Days(set, "", visited, "09:00"), 12);
    }

    [Theory]
    [InlineData("01:30", 7.5)]
    [InlineData("02:30", 6.5)]
    [InlineData("03:30", 5.5)]
    public static void A_time_in_the_hour_that_was_skipped_is_read_as_it_was_written_and_keeps_its_place(string at, double hours) =>
        Assert.Equal(7 - (hours * Hour), Days("2026-03-01", "09:00", "2026-03-08", at), 12);

    [Theory]
    [InlineData("01:30")]
    [InlineData("01:30-05:00")]
    [InlineData("01:30-06:00")]
    public static void The_hour_that_comes_twice_is_one_hour_whichever_of_the_two_was_meant(string at) =>
        Assert.Equal(7 - (7.5 * Hour), Days("2026-10-25", "09:00", "2026-11-01", at), 12);

    [Theory]
    [InlineData("2026-03-01", "2026-03-08T02:30", 7)]
    [InlineData("2026-10-25", "2026-11-01T01:30", 7)]
    [InlineData("2026-03-07", "2026-03-08T09:00", 1)]
    [InlineData("2026-10-31", "2026-11-01T09:00", 1)]
    public static void A_camera_is_read_by_the_same_rule(string set, string at, int days)
    {
        var seen = Season(set, "09:00", camera: at).CameraEvents.Single();
        Assert.Equal(days + (TimeSpan.Parse(at[11..], System.Globalization.CultureInfo.InvariantCulture).TotalDays - (9 * Hour)), seen.Day!.Value, 12);
    }

    [Theory]
    [InlineData("2026-02-22", "2026-03-11")]
    [InlineData("2026-10-18", "2026-11-04")]
    public static void The_last_day_that_counts_for_a_check_is_counted_by_the_calendar(string set, string last)
    {
        var window = CheckWindow.Of(Date(set), 14, 3);
        Assert.True(window.Holds(Date(last)));
        Assert.False(window.Holds(Date(last).AddDays(1)));
        Assert.Equal(17, Days(set, "", last, ""), 12);
    }

    /// <summary>Three in the morning at UTC is ten in the evening before, in Texas in summer: read as written it is hours off, so it is told.</summary>
    [Fact]
    public static void A_time_that_names_its_offset_from_UTC_is_told_once_a_file_with_its_first_place()
    {
        var season = Season("2026-03-01", "09:00Z", "2026-03-15", "08:00-05:00", "2026-03-08T08:30:00Z");
        var told = Inspector.Findings(season).Where(f => f.Rule == "time_with_offset").ToArray();
        Assert.Equal([("nests.csv", "set_at"), ("visits.csv", "visited_at"), ("cameras.csv", "event_at")], told.Select(f => (f.Place.File, f.Place.Column!)));
        Assert.All(told, f => Assert.Equal((Severity.Odd, 2), (f.Severity, f.Place.Line!.Value)));
        Assert.Contains("One time says", Catalogue.English.Say(told[0].What), StringComparison.Ordinal);
        Assert.Contains("“2026-03-08T08:30:00Z”", Catalogue.English.Say(told[2].What), StringComparison.Ordinal);
        Assert.DoesNotContain(Inspector.Findings(Season("2026-03-01", "09:00", "2026-03-15", "08:00", "2026-03-08")), f => f.Rule == "time_with_offset");
    }

    private static double Days(string set, string setAt, string visited, string at) => Season(set, setAt, visited, at).Visits.Single().Day!.Value;

    private static DateOnly Date(string text) => Cell.Date(text)!.Value;

    private static Season Season(string set, string setAt, string? visited = null, string at = "", string? camera = null) => FolderInTests.Season(new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["datapackage.json"] = """{"season":{"name":"two-clocks","year":2026,"time_zone":"America/Chicago","cover_classes":["grass"],"loss_rule":"any_egg"}}""",
        ["pastures.csv"] = "property,pasture\nInvented ranch,North\n",
        ["transects.csv"] = $"property,pasture,transect,set_on\nInvented ranch,North,T1,{set}\n",
        ["nests.csv"] = $"transect,nest,cover,set_at,eggs\nT1,1,grass,{setAt},3\n",
        ["visits.csv"] = "transect,nest,visited_on,visited_at,finding\n" + (visited is null ? "" : $"T1,1,{visited},{at},intact\n"),
        ["cameras.csv"] = "transect,nest,event_at,culprit\n" + (camera is null ? "" : $"T1,1,{camera},raccoon\n"),
    });
}
