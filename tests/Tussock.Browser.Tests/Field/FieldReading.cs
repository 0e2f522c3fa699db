using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>Practice in reading remains: ten cases by touch with the desk dead, what is told of each, and the calibration at the end.</summary>
[Collection("browser")]
public sealed class FieldReading
{
    private static readonly string[] TwoLooks = ["light", "narrow"];

    [Fact]
    public async Task A_new_user_scores_ten_cases_without_a_network_and_sees_how_well_calibrated_they_were()
    {
        using var desk = new FieldDesk(PlannedSeason.Files("Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.KeptAsync();
        desk.Kill();
        await phone.Context.SetOfflineAsync(true);
        await phone.ReloadAsync();
        await phone.TapAsync("to-reading");
        await phone.Page.WaitForSelectorAsync("#reading-begin");
        List<string> wrong = [];
        await phone.TapAsync("reading-begin");

        var cases = await phone.Page.EvaluateAsync<JsonElement>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(), cases = log.bundle.practice.cases; log.close(); return cases; }");
        var (mine, program) = (0.0, 0.0);
        for (var i = 0; i < 10; i++)
        {
            await phone.WaitForAsync("reading-case", (i + 1).ToString(CultureInfo.InvariantCulture) + " of 10");
            Assert.Equal(cases[i].GetProperty("remains").GetArrayLength(), await phone.Page.Locator(".lies img.picture").CountAsync());
            Assert.True(await phone.Page.EvaluateAsync<bool>("() => [...document.querySelectorAll('.lies img')].every(i => i.complete && i.naturalWidth > 0)"));
            if (i == 0) wrong.AddRange(await FieldScreens.LookAsync(phone, "reading-ask", ["reading"], TwoLooks));

            // 60 % to the first class, 40 to the second; once the rest evenly; nothing is taken before all is given.
            for (var k = 0; k < 6; k++) await TouchAsync(phone, "give-0-more");
            await phone.WaitForAsync("give-0", "60 %");
            if (i == 0)
            {
                await TouchAsync(phone, "reading-commit");
                await phone.WaitForAsync("say", "40 % are still to give");
                await TouchAsync(phone, "give-0-less");
                await phone.WaitForAsync("reading-left", "50 %");
                await TouchAsync(phone, "reading-evenly");
                await phone.WaitForAsync("give-1", "8 %");
                await phone.WaitForAsync("give-2", "7 %");
                await phone.PictureAsync("reading-give");
            }
            else
            {
                for (var k = 0; k < 5; k++) await TouchAsync(phone, "give-1-more");
                await phone.WaitForAsync("give-1", "40 %");
            }

            await TouchAsync(phone, "reading-commit");
            await phone.Page.WaitForSelectorAsync("#reading-truth");
            var truth = cases[i].GetProperty("truth").GetInt32();
            var said = i == 0 ? new[] { 50, 8, 7, 7, 7, 7, 7, 7 } : [60, 40, 0, 0, 0, 0, 0, 0];
            var believed = cases[i].GetProperty("program").EnumerateArray().Select(p => p.GetInt32()).ToArray();
            Assert.Contains($"You gave it {said[truth]} %, the program {believed[truth]} %.", await phone.TextAsync("reading-truth"), StringComparison.Ordinal);
            Assert.Contains($"you {Said(Penalty(said, truth))}, the program {Said(Penalty(believed, truth))},", await phone.TextAsync("reading-penalty"), StringComparison.Ordinal);
            (mine, program) = (mine + Penalty(said, truth), program + Penalty(believed, truth));
            if (i == 0)
            {
                wrong.AddRange(await FieldScreens.LookAsync(phone, "reading-told", ["reading"], TwoLooks));
                await phone.DieAsync(desk.Address + "#/reading");
                await phone.Page.WaitForSelectorAsync("#reading-truth");
            }

            await TouchAsync(phone, "reading-next");
        }

        await phone.Page.WaitForSelectorAsync("#reading-end");
        var end = await phone.TextAsync("reading-end");
        Assert.Contains(Said(mine / 10), end, StringComparison.Ordinal);
        Assert.Contains(Said(program / 10), end, StringComparison.Ordinal);
        await phone.WaitForAsync("reading-cases", "10 cases");
        // 50 % once and 60 % nine times for the first class: 59 % on average.
        var came = Enumerable.Range(0, 10).Count(i => cases[i].GetProperty("truth").GetInt32() == 0);
        await phone.WaitForAsync("reading-bands", $"You said 41 to 60 % 10 times (59 % on average): it was so {(came == 1 ? "once" : came + " times")}, {came * 10} %.");
        Assert.True(await phone.Page.EvaluateAsync<bool>("() => { const i = document.querySelector('img.calibration'); return i.complete && i.naturalWidth > 0; }"));
        wrong.AddRange(await FieldScreens.LookAsync(phone, "reading-end", ["reading"], TwoLooks));
        await phone.Page.EvaluateAsync("() => document.querySelector('img.calibration').scrollIntoView({ block: 'start' })");
        await phone.PictureAsync("reading-calibration");

        // No record of any of it; and it can be cleared, but not by one touch.
        Assert.Equal(0, await phone.Page.EvaluateAsync<int>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(), n = log.outbox.length; log.close(); return n; }"));
        await phone.ReloadAsync();
        await phone.WaitForAsync("reading-cases", "10 cases");
        await TouchAsync(phone, "reading-clear");
        await TouchAsync(phone, "reading-clear-really");
        await phone.Page.WaitForSelectorAsync("#reading-record", new() { State = WaitForSelectorState.Detached });
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_bundle_without_cases_shows_no_way_to_them_and_says_so_to_who_asks()
    {
        using var desk = new FieldDesk(PlannedSeason.Files("Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Context.RouteAsync("**/field/api/bundle", async route =>
        {
            var answer = await route.FetchAsync();
            var bundle = System.Text.Json.Nodes.JsonNode.Parse(await answer.TextAsync())!.AsObject();
            bundle.Remove("practice");
            await route.FulfillAsync(new() { Response = answer, Body = bundle.ToJsonString() });
        });
        await phone.PairAsync();
        Assert.Equal(0, await phone.Page.Locator("#to-reading").CountAsync());
        await phone.GoAsync("reading");
        await phone.WaitForAsync("reading-none", "no cases to practise on");
        Assert.Empty(phone.Wrong);
    }

    /// <summary>A nest from here: chosen by the lead at the desk, read on the phone with the desk dead, its photo there, its answers apart from those about invented nests.</summary>
    [Fact]
    public async Task A_case_from_here_is_read_without_a_network_with_its_photo_and_stands_apart()
    {
        using var desk = new FieldDesk(LocalCases.Files());
        await LocalCases.ChooseAsync(desk);
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.KeptAsync();
        await phone.Page.WaitForFunctionAsync("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(), set = await log.viewsSet(); log.close(); return !!set; }");
        desk.Kill();
        await phone.Context.SetOfflineAsync(true);
        await phone.ReloadAsync();
        await phone.TapAsync("to-reading");
        await phone.WaitForAsync("reading-here-lead", "one case of nests from here");
        await TouchAsync(phone, "reading-begin-here");
        await phone.WaitForAsync("reading-case", "1 of 1");
        await phone.WaitForAsync("reading-whence", "A nest from here");
        await phone.Page.WaitForFunctionAsync("() => { const i = document.querySelector('img.view'); return i && i.complete && i.naturalWidth === 640; }");
        List<string> wrong = [.. await FieldScreens.LookAsync(phone, "reading-here", ["reading"], TwoLooks)];
        for (var k = 0; k < 10; k++) await TouchAsync(phone, "give-1-more");
        await TouchAsync(phone, "reading-commit");
        var one = await phone.Page.EvaluateAsync<JsonElement>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(), here = log.bundle.practice.from_here; log.close(); return here.cases[0]; }");
        var truth = one.GetProperty("truth").GetInt32();
        await phone.WaitForAsync("reading-truth", "A camera saw: ");
        await phone.WaitForAsync("reading-truth", $"You gave it {(truth == 1 ? 100 : 0)} %, the program {one.GetProperty("program")[truth].GetInt32()} %.");
        await phone.WaitForAsync("reading-penalty", "you " + Said(truth == 1 ? 0 : 100));
        await TouchAsync(phone, "reading-next");
        await phone.WaitForAsync("reading-here-cases", "One case");
        Assert.Equal(0, await phone.Page.Locator("#reading-record").CountAsync());
        await phone.PictureAsync("reading-here-end");
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.Empty(phone.Wrong);
    }

    private static Task TouchAsync(Phone phone, string id) => phone.Page.TapAsync("#" + id);

    /// <summary>100 points where all was given to what it was not: half the Brier score (1950), in hundredths.</summary>
    private static double Penalty(int[] said, int truth) => 50 * said.Select((p, k) => Math.Pow((p / 100.0) - (k == truth ? 1 : 0), 2)).Sum();

    private static string Said(double points) => points.ToString("0.0", CultureInfo.InvariantCulture);
}
