// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk around a change of the clock, and around midnight: its date is that of the season's land, wherever the computer stands, and times stay as they were typed.</summary>
/// <remarks>In America/Chicago clocks went from 02:00 to 03:00 on 8 March 2026 and from 02:00 back to 01:00 on 1 November 2026. The computer of these tests stands where the date changes first.</remarks>
public sealed class DeskClockChangeTests
{
    private const string Name = "two-clocks";
    private const string Chicago = "America/Chicago";

    [Theory]
    [InlineData("2026-02-22", "2026-03-08", "2026-03-08T05:59:00Z", "2026-03-08T06:01:00Z")]
    [InlineData("2026-02-23", "2026-03-09", "2026-03-09T04:59:00Z", "2026-03-09T05:01:00Z")]
    [InlineData("2026-10-18", "2026-11-01", "2026-11-01T04:59:00Z", "2026-11-01T05:01:00Z")]
    [InlineData("2026-10-19", "2026-11-02", "2026-11-02T05:59:00Z", "2026-11-02T06:01:00Z")]
    public async Task A_check_of_tomorrow_is_still_to_come_until_midnight_on_the_land(string setOn, string checkOn, string before, string after)
    {
        var clock = new StandingClock(before);
        await using var desk = Desk(setOn, Chicago, clock);
        var sheet = Sheet(desk);
        var form = PageForm.Fields(await desk.Client.GetStringAsync(sheet), "id=\"entry\"");
        (form["d.visited_on"], form["v.1.finding"]) = (checkOn, "w");
        var early = await PostAsync(desk, sheet, form);
        Assert.Equal(HttpStatusCode.Conflict, early.StatusCode);
        Assert.Contains("still to come", await early.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        clock.Now = StandingClock.At(after);
        // A new day is a new answer; it may take a moment.
        var late = await PostAsync(desk, sheet, form);
        for (var n = 0; n < 100 && late.StatusCode == HttpStatusCode.Conflict; n++)
        {
            await Task.Delay(50);
            late = await PostAsync(desk, sheet, form);
        }

        Assert.Equal(HttpStatusCode.SeeOther, late.StatusCode);
    }

    [Theory]
    [InlineData("2026-02-22", "2026-03-08", "230", "02:30", 6.5)]
    [InlineData("2026-10-18", "2026-11-01", "130", "01:30", 7.5)]
    public async Task A_time_in_the_hour_of_the_change_stays_as_it_was_typed_through_later_edits(string setOn, string checkOn, string typed, string kept, double hoursBeforeNine)
    {
        var clock = new StandingClock("2026-12-01T12:00:00Z");
        await using var desk = Desk(setOn, Chicago, clock);
        var form = PageForm.Fields(await desk.Client.GetStringAsync(Sheet(desk)), "id=\"entry\"");
        (form["d.visited_on"], form["v.1.finding"], form["v.1.visited_at"]) = (checkOn, "w", typed);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(desk, Sheet(desk), form)).StatusCode);
        var visit = new Uri("/record/" + desk.File.States(Name).Records.Single(r => r.Kind == "visits").Id, UriKind.Relative);

        var record = PageForm.Fields(await desk.Client.GetStringAsync(visit));
        Assert.Equal((checkOn, kept), (record["v.visited_on"], record["v.visited_at"]));
        record["v.note"] = "looked at again";
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(desk, visit, record)).StatusCode);
        var change = Assert.Single(desk.File.Since(before));
        Assert.Equal(("note", clock.Now), (Assert.Single(change.Fields).Name, change.SaidAt));
        Assert.Equal(14 - (hoursBeforeNine / 24), SeasonReading.Read(desk.File.Tables(Name), out _)!.Visits.Single().Day!.Value, 12);
    }

    [Theory]
    [InlineData("", "The season has no time zone: today is this computer’s date, 8 March 2026.")]
    [InlineData("America/Chicagoo", "This computer does not know the season’s time zone “America/Chicagoo”: today is its own date, 8 March 2026.")]
    public async Task Where_today_is_the_computers_for_want_of_a_time_zone_the_season_page_says_so(string zone, string told)
    {
        await using var desk = Desk("2026-02-22", zone, new StandingClock("2026-03-07T12:00:00Z"));
        Assert.Contains(told, WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri("/", UriKind.Relative))), StringComparison.Ordinal);
        await using var known = Desk("2026-02-22", Chicago, new StandingClock("2026-03-07T12:00:00Z"));
        Assert.DoesNotContain("today is", WebUtility.HtmlDecode(await known.Client.GetStringAsync(new Uri("/", UriKind.Relative))), StringComparison.Ordinal);
    }

    private static RunningDesk Desk(string setOn, string zone, TimeProvider clock) => new([Season(setOn, zone)], isLoopbackOnly: true, null, null, 400_000, clock);

    private static Uri Sheet(RunningDesk desk) => new($"/enter/{desk.File.States(Name).Records.Single(r => r.Kind == "transects").Id}?check=14", UriKind.Relative);

    private static async Task<HttpResponseMessage> PostAsync(RunningDesk desk, Uri address, Dictionary<string, string> form)
    {
        using var content = new FormUrlEncodedContent(form);
        return await desk.Client.PostAsync(address, content);
    }

    private static SeasonTables Season(string setOn, string zone) => new(
        SeasonPackage.Parse($$"""{"title":"Two clocks","season":{"name":"{{Name}}","year":2026,"time_zone":"{{zone}}","cover_classes":["grass"],"loss_rule":"any_egg"},"resources":[]}"""),
        [
            PlainFolder.Table(RecordKind.Pastures, "property,pasture\nInvented ranch,North\n"),
            PlainFolder.Table(RecordKind.Transects, $"property,pasture,transect,set_on\nInvented ranch,North,T1,{setOn}\n"),
            PlainFolder.Table(RecordKind.Nests, "transect,nest,cover,set_at,eggs\nT1,1,grass,09:00,3\nT1,2,grass,09:00,3\n"),
            PlainFolder.Table(RecordKind.Visits, "transect,nest,visited_on,visited_at,finding,observer,note\n"),
        ],
        ImmutableSortedDictionary<string, string>.Empty);

    /// <summary>A clock that stands until it is put forward, on a computer fourteen hours ahead of UTC.</summary>
    private sealed class StandingClock(string now) : TimeProvider
    {
        internal DateTimeOffset Now { get; set; } = At(now);

        public override TimeZoneInfo LocalTimeZone { get; } = TimeZoneInfo.FindSystemTimeZoneById("Pacific/Kiritimati");

        internal static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
