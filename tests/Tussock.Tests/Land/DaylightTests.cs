using System.Globalization;
using Tussock.Land;
using Xunit;

namespace Tussock.Tests.Land;

public class DaylightTests
{
    public static TheoryData<string> Rows => [.. Checks.Read("daylight", "data.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)];

    [Theory]
    [MemberData(nameof(Rows))]
    public void Sunrise_and_sunset_are_those_of_other_libraries_to_a_minute(string row)
    {
        var cells = row.Split(',');
        var found = Daylight.Of(new Position(Number(cells[0]), Number(cells[1])), DateOnly.ParseExact(cells[2], "yyyy-MM-dd", CultureInfo.InvariantCulture)).Value;
        foreach (var (expected, at) in ((string, DateTimeOffset)[])[(cells[3], found.Rises), (cells[4], found.Sets)])
        {
            if (expected.Length > 0) Assert.InRange(Math.Abs((at - DateTimeOffset.Parse(expected, CultureInfo.InvariantCulture)).TotalSeconds), 0, 60);
        }
    }

    [Fact]
    public void Where_the_sun_does_not_set_there_is_a_reason()
    {
        Assert.False(Daylight.Of(new Position(70, 25), new DateOnly(2026, 6, 21)).HasValue);
        Assert.False(Daylight.Of(new Position(70, 25), new DateOnly(2026, 12, 21)).HasValue);
    }

    [Theory]
    [InlineData(-179.9)]
    [InlineData(179.9)]
    [InlineData(0)]
    public void Days_follow_each_other_on_the_date_line_too(double longitude)
    {
        var last = Daylight.Of(new Position(27, longitude), new DateOnly(2026, 1, 1)).Value;
        for (var day = new DateOnly(2026, 1, 2); day.Year == 2026; day = day.AddDays(1))
        {
            var next = Daylight.Of(new Position(27, longitude), day).Value;
            Assert.InRange((next.Rises - last.Rises).TotalHours, 23.9, 24.1);
            Assert.InRange((next.Sets - next.Rises).TotalHours, 10, 14);
            last = next;
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
