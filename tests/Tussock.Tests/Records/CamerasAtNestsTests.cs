using Xunit;

namespace Tussock.Tests.Records;

/// <summary>Each event is set right by the clock of the camera that saw it.</summary>
public static class CamerasAtNestsTests
{
    [Theory]
    [InlineData("", "2024-05-08T12:00", 60)]
    [InlineData("", "2024-05-20T12:00", 0)]
    [InlineData("second", "2024-05-08T12:00", 0)]
    [InlineData("first", "2024-05-20T12:00", 60)]
    [InlineData("", "2024-06-20T12:00", 60)]
    public static void Of_two_cameras_at_a_nest_the_named_one_counts_else_the_one_that_stood_there(string named, string at, int aheadMin)
    {
        var season = FolderInTests.Season(new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["datapackage.json"] = """{ "season": { "name": "made", "time_zone": "America/Chicago", "cover_classes": ["grass"] } }""",
            ["pastures.csv"] = "property,pasture\nTwo Windmills,East",
            ["transects.csv"] = "property,pasture,transect,set_on\nTwo Windmills,East,T1,2024-05-06",
            ["nests.csv"] = "transect,nest,cover\nT1,1,grass",
            ["visits.csv"] = "transect,nest,visited_on,finding\nT1,1,2024-05-20,intact",
            ["deployments.csv"] = "transect,nest,from,to,camera,clock_offset_min,deployment\nT1,1,2024-05-06,2024-05-15,A,60,first\nT1,1,2024-05-16,2024-06-03,B,,second",
            ["cameras.csv"] = "transect,nest,event_at,culprit,deployment\nT1,1," + at + ",raccoon," + named,
        });
        var days = DateOnly.ParseExact(at[..10], "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture).DayNumber - new DateOnly(2024, 5, 6).DayNumber;

        Assert.Equal(days - (aheadMin / 1440.0), season.CameraEvents.Single().Day!.Value, 1e-9);
    }
}
