using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Tussock.Browser.Tests.Field;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>Two seasons of one data file in two tabs: what is done in one is done there alone, and the years are seen together.</summary>
[Collection("browser")]
public sealed class DeskSeasonsStory
{
    [Fact]
    public async Task Two_seasons_stand_in_two_tabs_and_an_edit_of_one_leaves_the_other_as_it_was()
    {
        await using var desk = await DeskWindow.OpenAsync(Demo("2025"));
        var page = desk.Page;

        // One season looks as ever; a second one that is taken in meanwhile gives a choice.
        await desk.GoAsync("/");
        Assert.Equal(0, await page.Locator(".seasons").CountAsync());
        using (var folder = new DemoFolder("2024")) FieldDesk.Done("import", desk.Data, folder.Path);
        await desk.GoAsync("/");
        Assert.EndsWith("/season/2025/", page.Url, StringComparison.Ordinal);
        await page.ClickAsync(".seasons summary");
        await desk.PictureAsync("desk-seasons-choice");
        await page.ClickAsync(".seasons a:has-text('2024')");
        Assert.EndsWith("/season/2024/", page.Url, StringComparison.Ordinal);

        await desk.GoAsync("/season/2024/results/survival");
        var before = await page.TextContentAsync(".chapter");
        var other = await page.Context.NewPageAsync();
        await other.GotoAsync(desk.Address("/season/2025/records/visits?text=intact&sort=visited_on&down=yes"));
        await other.ClickAsync("main table a[href*='/record/']");
        Assert.Contains("/season/2025/record/", other.Url, StringComparison.Ordinal);
        await other.SelectOptionAsync("[name='v.finding']", "depredated");
        await other.FillAsync("[name='v.eggs_intact']", "0");
        await other.ClickAsync("form.record button.main");
        await other.WaitForSelectorAsync(".saved");
        var visit = other.Url;

        // The other tab: nothing is updating, nothing has moved, not after it is drawn anew either.
        Assert.True(await page.Locator("#updating").IsHiddenAsync());
        await page.ReloadAsync();
        Assert.True(await page.Locator("#updating").IsHiddenAsync());
        Assert.Equal(before, await page.TextContentAsync(".chapter"));

        // A form that was open before somebody else saved: both values, and the season is still its own.
        await page.GotoAsync(visit);
        await other.GotoAsync(visit);
        await other.FillAsync("[name='v.note']", "first");
        await other.ClickAsync("form.record button.main");
        await other.WaitForSelectorAsync(".saved");
        await page.FillAsync("[name='v.note']", "second");
        await page.ClickAsync("form.record button.main");
        await page.WaitForSelectorAsync(".grave[role=alert]");
        Assert.Contains("/season/2025/", page.Url, StringComparison.Ordinal);

        // The map asks for its own season's lines and leads to its own season's records.
        await desk.GoAsync("/season/2024/map?line=C1");
        await page.WaitForSelectorAsync("#map[data-drawn]");
        await page.WaitForSelectorAsync("#chosen-rows a[href^='/season/2024/record/']");

        await desk.GoAsync("/season/2024/years");
        await page.ClickAsync("text=Years together");
        await page.WaitForSelectorAsync("text=Do the years differ?", new() { Timeout = 60_000 });
        var wrong = await DeskLooks.LookAsync(desk, "years-together");
        Assert.True(await page.Locator(".chapter svg").CountAsync() > 1);
        await page.ClickAsync("a[href='/season/2024/why/years']");
        await page.WaitForSelectorAsync("h1:has-text('Years together')");
        await desk.GoAsync("/season/2025/records/visits");
        wrong.AddRange(await DeskLooks.LookAsync(desk, "seasons-visits"));
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        // The page of the conflict has its status; the browser notes that in its console.
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("409", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_phone_is_asked_once_which_season_it_is_for()
    {
        await using var desk = await DeskWindow.OpenAsync(Demo("2025"), width: 390, height: 844);
        using (var folder = new DemoFolder("2024")) FieldDesk.Done("import", desk.Data, folder.Path);
        var page = desk.Page;
        await page.GotoAsync(desk.Address("/field/"));
        await page.ClickAsync("#pair");
        await page.ClickAsync("#seasons button:has-text('2024')");
        await page.WaitForFunctionAsync("() => !document.querySelector('#seasons')");
        await desk.PictureAsync("phone-seasons");
        Assert.Contains("2024", await page.EvaluateAsync<string>("async () => { const all = await indexedDB.databases(); const open = await new Promise((y, n) => { const r = indexedDB.open(all[0].name); r.onsuccess = () => y(r.result); r.onerror = n; }); const texts = []; for (const name of open.objectStoreNames) texts.push(JSON.stringify(await new Promise(y => { const r = open.transaction(name).objectStore(name).getAll(); r.onsuccess = () => y(r.result); })).match(/\"name\":\"20[0-9]+\"/g)); return texts.flat().join(); }"), StringComparison.Ordinal);
    }

    private static Dictionary<string, string> Demo(string year)
    {
        using var folder = new DemoFolder(year);
        return Directory.GetFiles(folder.Path).ToDictionary(f => Path.GetFileName(f), File.ReadAllText, StringComparer.Ordinal);
    }

    /// <summary>The built-in season as a folder under another name and year.</summary>
    private sealed class DemoFolder : IDisposable
    {
        private readonly string outer = Directory.CreateTempSubdirectory("tussock-demo-").FullName;

        internal DemoFolder(string year)
        {
            FieldDesk.Done("demo", Path);
            var description = System.IO.Path.Combine(Path, "datapackage.json");
            var package = JsonNode.Parse(File.ReadAllText(description))!;
            (package["season"]!["name"], package["season"]!["year"]) = (year, year);
            File.WriteAllText(description, package.ToJsonString());
        }

        internal string Path => System.IO.Path.Combine(outer, "season");

        public void Dispose() => Directory.Delete(outer, recursive: true);
    }
}
