using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>An evening at the desk, acted out in a browser: three things of the worklist settled, a visit corrected, the answer seen to move, a pasture drawn, a report made and compared with the one before.</summary>
[Collection("browser")]
public sealed class DeskStory
{
    [Fact]
    public async Task Three_things_are_settled_a_visit_moves_the_answer_and_a_report_says_so()
    {
        await using var desk = await DeskWindow.OpenAsync();
        var page = desk.Page;
        await desk.GoAsync("/reports");
        await page.ClickAsync("text=Make the reports of this answer");
        await page.WaitForSelectorAsync("a[href*='technical']");

        // Three things of the worklist: each leads to its record, where a note settles what the form can settle.
        await desk.GoAsync("/worklist");
        var asked = await page.EvaluateAsync<string[]>("() => [...new Set([...document.querySelectorAll('main a[href^=\"/record/\"]')].map(a => a.getAttribute('href')))]");
        for (var (n, settled) = (0, 0); settled < 3; n++)
        {
            await desk.GoAsync("/worklist");
            await page.ClickAsync($"main a[href='{asked[n]}'] >> nth=0");
            await page.WaitForSelectorAsync("form.record");
            if (await page.Locator("[name='v.note']").CountAsync() == 0) continue;
            settled++;
            await page.FillAsync("[name='v.note']", $"looked at again, {n}");
            await page.ClickAsync("form.record button.main");
            await page.WaitForSelectorAsync(".saved");
        }

        // A visit that was read wrongly.
        await desk.GoAsync("/records/visits?text=intact&sort=visited_on&down=yes");
        await page.ClickAsync("main table a[href^='/record/']");
        await page.SelectOptionAsync("[name='v.finding']", "depredated");
        await page.FillAsync("[name='v.eggs_intact']", "0");
        await page.ClickAsync("form.record button.main");
        await page.WaitForSelectorAsync(".saved");
        var visit = page.Url;

        await desk.GoAsync("/");
        await page.WaitForSelectorAsync(".moved", new() { Timeout = 60_000 });
        await desk.PictureAsync("desk-story-moved");

        await desk.GoAsync("/map");
        await page.ClickAsync("a[href^='/boundary/']");
        await page.WaitForSelectorAsync("#map[data-drawn]");
        var box = (await page.Locator("#map").BoundingBoxAsync())!;
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.1f), box.Y + (box.Height * 0.5f));
        await page.ClickAsync("button.main");
        await page.WaitForSelectorAsync(".saved");

        await desk.GoAsync("/reports");
        await page.ClickAsync("text=Make the reports of this answer");
        await page.WaitForFunctionAsync("() => document.querySelectorAll('input[name=first]').length === 2");
        await page.ClickAsync("text=Compare the two");
        await page.WaitForSelectorAsync("tr.late");
        await desk.PictureAsync("desk-story-compared");

        // Taken back: the answer is what it was.
        await page.GotoAsync(visit);
        await page.ClickAsync("form[action$='/undo'] button >> nth=0");
        await page.WaitForSelectorAsync(".saved");
        Assert.Equal("intact", await page.InputValueAsync("[name='v.finding']"));

        var download = await page.RunAndWaitForDownloadAsync(async () =>
        {
            await desk.GoAsync("/results/curve");
            await page.ClickAsync("button.png >> nth=0");
        });
        var png = await File.ReadAllBytesAsync((await download.PathAsync())!, TestContext.Current.CancellationToken);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], png[..4]);
        Assert.True(png.Length > 5000, "an empty picture");
        Assert.Empty(desk.Wrong);
    }
}
