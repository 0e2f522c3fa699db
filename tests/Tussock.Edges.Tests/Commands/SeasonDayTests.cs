using System.Globalization;
using Tussock.App.Commands;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>Which day it is: on the season's land, whatever UTC and the computer say.</summary>
public sealed class SeasonDayTests
{
    // Chicago was six hours behind UTC until 8 March 2026 and from 1 November on, five hours between.
    [Theory]
    [InlineData("America/Chicago", "2026-03-08T05:59:59Z", "2026-03-07")]
    [InlineData("America/Chicago", "2026-03-08T06:00:00Z", "2026-03-08")]
    [InlineData("America/Chicago", "2026-03-09T04:59:59Z", "2026-03-08")]
    [InlineData("America/Chicago", "2026-03-09T05:00:00Z", "2026-03-09")]
    [InlineData("America/Chicago", "2026-11-01T04:59:59Z", "2026-10-31")]
    [InlineData("America/Chicago", "2026-11-01T05:00:00Z", "2026-11-01")]
    [InlineData("America/Chicago", "2026-11-02T05:59:59Z", "2026-11-01")]
    [InlineData("America/Chicago", "2026-11-02T06:00:00Z", "2026-11-02")]
    [InlineData("", "2026-03-08T09:59:59Z", "2026-03-08")]
    [InlineData("", "2026-03-08T10:00:00Z", "2026-03-09")]
    [InlineData("nowhere", "2026-03-08T10:00:00Z", "2026-03-09")]
    public void Today_is_the_date_on_the_land_and_without_a_known_zone_the_computers(string zone, string now, string day) =>
        Assert.Equal(day, Text(SeasonDay.Of(Settings(zone), new FarClock(now))));

    [Theory]
    [InlineData("2026-07-01T22:00:00-05:00", "2026-07-01")]
    [InlineData("2026-07-01T00:00:00Z", "2026-07-01")]
    public void A_time_that_was_typed_for_a_document_has_the_date_that_was_typed(string typed, string day) =>
        Assert.Equal(day, Text(SeasonDay.Of(Settings("America/Chicago"), DateTimeOffset.Parse(typed, CultureInfo.InvariantCulture))));

    private static SeasonSettings Settings(string zone) => new() { Name = "made", Title = "Made", TimeZone = zone };

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A computer fourteen hours ahead of UTC.</summary>
    private sealed class FarClock(string now) : TimeProvider
    {
        public override TimeZoneInfo LocalTimeZone { get; } = TimeZoneInfo.FindSystemTimeZoneById("Pacific/Kiritimati");

        public override DateTimeOffset GetUtcNow() => DateTimeOffset.Parse(now, CultureInfo.InvariantCulture);
    }
}
