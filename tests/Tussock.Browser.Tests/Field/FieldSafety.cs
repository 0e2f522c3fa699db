using System.Text.Json;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>What must not go wrong where somebody can come to harm or a record can be lost.</summary>
[Collection("browser")]
public sealed class FieldSafety
{
    private const string Line = "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n";

    private const string Rows = "async kind => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(); const rows = log.all(kind).map(r => Object.fromEntries(Object.entries(r.fields).map(([n, f]) => [n, f.value]))); log.close(); return rows; }";

    [Fact]
    public async Task A_lone_worker_who_is_late_is_told_on_whatever_screen_is_open_and_past_midnight()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-19T03:00:00Z");
        await phone.PairAsync();

        // 22:00 at the ranch; back by one in the morning.
        await phone.WriteAsync("back-by", "01:00");
        Assert.Null(await phone.Page.QuerySelectorAsync("#overdue"));
        await phone.GoAsync("transect", "T1");
        await phone.ClockAsync("2026-05-19T05:30:00Z");
        await phone.Page.WaitForTimeoutAsync(6000);
        Assert.Null(await phone.Page.QuerySelectorAsync("#overdue"));
        await phone.ClockAsync("2026-05-19T06:01:00Z");
        await phone.Page.WaitForSelectorAsync("#overdue");
        Assert.Contains("01:00", await phone.TextAsync("overdue"), StringComparison.Ordinal);
        await phone.ReloadAsync();
        await phone.Page.WaitForSelectorAsync("#overdue");
        await phone.TapAsync("checked-in");
        await phone.Page.WaitForSelectorAsync("#overdue", new() { State = Microsoft.Playwright.WaitForSelectorState.Detached });
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_real_nest_is_written_before_its_place_is_known_and_the_place_is_coarse()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.Page.EvaluateAsync("() => { navigator.geolocation.watchPosition = () => 1; }");
        await phone.GoAsync("real-nest");
        await phone.TapAsync("write-it");
        await phone.Page.WaitForSelectorAsync("#due");
        var row = Assert.Single((await phone.Page.EvaluateAsync<JsonElement>(Rows, "chance")).EnumerateArray());
        Assert.Equal("real_nest", row.GetProperty("kind").GetString());
        Assert.False(row.TryGetProperty("lat", out _));
        await phone.ReloadAsync();
        await phone.GoAsync("real-nest");
        await phone.TapAsync("write-it");
        await phone.Page.WaitForFunctionAsync(Rows.Replace("async kind =>", "async () =>", StringComparison.Ordinal).Replace("log.all(kind)", "log.all('chance')", StringComparison.Ordinal).Replace("return rows;", "return rows.some(r => r.lat === '31.45' && r.lon === '-99.20');", StringComparison.Ordinal));
        Assert.Equal(2, (await phone.Page.EvaluateAsync<JsonElement>(Rows, "chance")).GetArrayLength());
    }

    [Fact]
    public async Task The_arrow_points_to_the_flag_where_the_direction_of_the_nest_is_not_sure()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line,
            "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,true,31.4512,-99.2034,gps,4,crew 1\nT1,2,shrub,2026-05-04,09:20,set,shrub,3,17,NE,,true,31.4516,-99.2034,gps,4,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.PairAsync();
        foreach (var (nest, said) in new[] { ("nest-1", "nest"), ("nest-2", "flag") })
        {
            await phone.GoAsync("transect", "T1");
            await phone.TapAsync(nest);
            await phone.TapAsync("show-arrow");

            // A walker moves: each step is a new fix.
            await phone.Context.SetGeolocationAsync(new() { Latitude = nest == "nest-1" ? 31.4511f : 31.4513f, Longitude = -99.2034f, Accuracy = 4 });
            await phone.WaitForAsync("arrow", "to the " + said);
        }
    }

    [Fact]
    public async Task Taking_a_count_back_touches_nothing_but_counts_and_opens_the_segment_again()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.WriteAsync("walker", "crew 1");
        await phone.GoAsync("tally", "T1");
        await phone.WriteAsync("arm-span", "1.8");
        await phone.TapAsync("half-0");
        await phone.WaitForAsync("half-0", "1");
        await phone.TapAsync("end-segment");
        await phone.WaitForAsync("end-segment", "2");
        await phone.GoAsync("real-nest");
        await phone.TapAsync("write-it");
        await phone.Page.WaitForSelectorAsync("#due");
        await phone.GoAsync("tally", "T1");
        await phone.TapAsync("take-back");
        await phone.WaitForAsync("end-segment", "1");
        await phone.WaitForAsync("half-0", "1");
        Assert.Equal(1, (await phone.Page.EvaluateAsync<JsonElement>(Rows, "chance")).GetArrayLength());
    }

    [Fact]
    public async Task A_time_zone_that_the_browser_lacks_is_said()
    {
        var files = PlannedSeason.Files(Line, "");
        files["datapackage.json"] = files["datapackage.json"].Replace("America/Chicago", "America/Nowhere", StringComparison.Ordinal);
        using var desk = new FieldDesk(files);
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.WaitForAsync("zone-unknown", "America/Nowhere");
    }
}
