using System.Diagnostics;
using System.Globalization;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Tussock.Browser.Tests.Field;
using Tussock.Store;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>A pile of check sheets typed at the desk: by keys alone, at the pace of somebody who reads from paper, and read back from the data file.</summary>
[Collection("browser")]
public sealed class DeskEntryStories
{
    private const int Lines = 4;
    private const int NestsALine = 6;
    private static readonly TimeSpan Allowed = TimeSpan.FromMinutes(4);

    [Fact]
    public async Task Twenty_four_nests_and_two_checks_are_typed_in_under_four_minutes()
    {
        await using var desk = await DeskWindow.OpenAsync(Season());
        var page = desk.Page;
        var keys = new PacedKeys(page);
        await desk.GoAsync("/enter");
        var clock = Stopwatch.StartNew();
        await page.FocusAsync("main table a");
        await keys.PressAsync("Enter");
        for (var sheet = 0; sheet < 2 * Lines; sheet++)
        {
            var isFirstCheck = sheet < Lines;
            await page.WaitForSelectorAsync("body[data-entry=ready]");
            await keys.TypeAsync(isFirstCheck ? "2026-05-18" : "2026-06-01");
            await keys.PressAsync("Tab");
            if (sheet == 0) await HeadAsync(keys);
            await keys.PressAsync("Enter");
            await keys.PressAsync("Enter");
            if (isFirstCheck) await FirstCheckAsync(keys); else await LastCheckAsync(keys);
            await keys.PressAsync("Control+Enter");
            await page.WaitForSelectorAsync(".saved, [role=alert]");
            Assert.Contains("written", await page.InnerTextAsync(".saved, [role=alert]"), StringComparison.Ordinal);
            if (sheet < (2 * Lines) - 1) await keys.PressAsync("Enter");
        }

        keys.Took(clock.Elapsed, string.Create(CultureInfo.InvariantCulture, $"{Lines * NestsALine} nests and two checks"), Allowed);
        Assert.Equal(Expected(), Written(desk.Data));
        Assert.Empty(desk.Wrong);
    }

    [Fact]
    public async Task A_sheet_is_whole_at_every_width_with_its_photo_and_with_mistakes_and_axe_finds_nothing()
    {
        await using var desk = await DeskWindow.OpenAsync(Season());
        var page = desk.Page;
        List<string> wrong = [];
        await LookAsync(desk, "list", "/enter", wrong);
        await desk.GoAsync("/enter");
        var sheet = (await page.GetAttributeAsync("main table a", "href"))!;
        await LookAsync(desk, "sheet", sheet, wrong);

        await page.SetViewportSizeAsync(1600, 900);
        var picture = Path.Combine(Path.GetDirectoryName(desk.Data)!, "sheet 1.png");
        await desk.GoAsync("/sheets");
        await page.GotoAsync(desk.Address("/sheets/sheet-check-day-14"));
        await page.ScreenshotAsync(new() { Path = picture });
        await desk.GoAsync(sheet);
        await page.FillAsync("[name='v.1.finding']", "gone away");
        await page.FillAsync("[name='v.2.eggs_intact']", "three");
        await page.SetInputFilesAsync("#picture", picture);
        await page.ClickAsync("button[value=photo]");
        await page.WaitForFunctionAsync("() => document.querySelector('.paper img')?.naturalWidth > 500");
        await page.CheckAsync("#z2");
        Assert.True(await page.EvaluateAsync<bool>("() => { const view = document.querySelector('.paper-view'); return view.scrollWidth > view.clientWidth * 1.9; }"));
        Assert.Equal("gone away", await page.InputValueAsync("[name='v.1.finding']"));
        await LookAsync(desk, "photo", null, wrong);
        await page.ClickAsync("#save");
        await page.WaitForSelectorAsync("[role=alert]");
        await LookAsync(desk, "told", null, wrong);

        await page.FillAsync("[name='d.visited_on']", "2026-05-18");
        await page.FillAsync("[name='v.1.finding']", "w");
        await page.FillAsync("[name='v.2.eggs_intact']", "");
        await page.FillAsync("[name='v.2.finding']", "e");
        await page.ClickAsync("#save");
        await page.WaitForSelectorAsync(".saved");
        await LookAsync(desk, "saved", null, wrong);
        await desk.GoAsync(sheet + "&again=yes");
        await page.FillAsync("[name='d.visited_on']", "2026-05-18");
        await page.FillAsync("[name='v.1.finding']", "w");
        await page.FillAsync("[name='v.2.finding']", "c");
        await page.FillAsync("[name='v.3.finding']", "w");
        await page.ClickAsync("#save");
        await page.WaitForSelectorAsync(".differs");
        await LookAsync(desk, "compared", null, wrong);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));

        // The page that tells what is wrong says so with its status; the browser notes that in its console.
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("409", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Letters_words_spaces_and_arrows_do_what_the_sheet_says()
    {
        await using var desk = await DeskWindow.OpenAsync(Season());
        var page = desk.Page;
        await desk.GoAsync("/enter");
        await page.ClickAsync("main table a");
        await page.WaitForSelectorAsync("body[data-entry=ready]");
        Assert.Equal("h-visited_on", await FocusAsync(page));
        await page.FocusAsync("#c-1-finding");
        await page.Keyboard.TypeAsync("c");
        Assert.Equal("can't find", await page.InputValueAsync("#c-1-finding"));
        await page.Keyboard.PressAsync("ArrowDown");
        Assert.Equal("c-2-finding", await FocusAsync(page));
        await page.Keyboard.PressAsync(" ");
        Assert.Equal("can't find", await page.InputValueAsync("#c-2-finding"));
        await page.Keyboard.TypeAsync("w");
        Assert.Equal("whole", await page.InputValueAsync("#c-2-finding"));
        await page.Keyboard.PressAsync("Enter");
        Assert.Equal("c-3-finding", await FocusAsync(page));
        await page.Keyboard.TypeAsync("whole");
        Assert.Equal("whole", await page.InputValueAsync("#c-3-finding"));
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.Equal("c-3-eggs_intact", await FocusAsync(page));
        await page.Keyboard.TypeAsync("3");
        await page.Keyboard.PressAsync("ArrowLeft");
        await page.Keyboard.PressAsync("ArrowLeft");
        Assert.Equal("c-3-finding", await FocusAsync(page));
        await page.Keyboard.PressAsync("Shift+Enter");
        Assert.Equal("c-2-finding", await FocusAsync(page));
        await page.FocusAsync("#c-6-finding");
        await page.Keyboard.PressAsync("Enter");
        Assert.Equal("save", await FocusAsync(page));
        Assert.Empty(desk.Wrong);
    }

    /// <summary>Observer and writer, and what holds for every whole nest: typed on the first sheet, carried on to the others.</summary>
    private static async Task HeadAsync(PacedKeys keys)
    {
        await keys.TypeAsync("crew 1");
        await keys.PressAsync("Tab");
        await keys.TypeAsync("crew 2");
        await keys.PressAsync("Enter");
        foreach (var text in new[] { "3", "y", "i", "a" })
        {
            await keys.TypeAsync(text);
            await keys.PressAsync("Tab");
        }

        await keys.TypeAsync("s");
        await keys.PressAsync("Shift+Enter");
    }

    /// <summary>Nest 2 eaten with every box of the sheet filled in, nest 5 not found, the others whole.</summary>
    private static async Task FirstCheckAsync(PacedKeys keys)
    {
        await keys.RowAsync("w");
        await keys.RowAsync("e", "0", "1", "2", "n", "m", "d", "s", "0930", "12", "", "", "shells 2 m off");
        await keys.RowAsync("w");
        await keys.RowAsync("w", "", "", "", "", "", "", "d");
        await keys.RowAsync("c", "", "", "", "", "n", "g", "s", "1015", "", "", "c");
        await keys.RowAsync("w");
    }

    /// <summary>Nest 2 is over and passed by; nest 3 trampled, nest 5 found after all.</summary>
    private static async Task LastCheckAsync(PacedKeys keys)
    {
        await keys.RowAsync("w");
        await keys.RowAsync("o", "0", "3", "", "i", "d", "d", "0940", "14", "t", "", "hoof prints");
        await keys.RowAsync("w");
        await keys.RowAsync("w");
        await keys.RowAsync("e", "1", "0", "2", "m", "d", "s", "1030", "15");
        await keys.TypeAsync("6");
        await keys.PressAsync("Tab");
        await keys.TypeAsync("6");
    }

    private static List<string> Expected()
    {
        List<string> said = [];
        for (var line = 1; line <= Lines; line++)
        {
            for (var nest = 1; nest <= NestsALine; nest++)
            {
                said.Add(Line(line, nest, "2026-05-18", nest switch
                {
                    2 => "depredated|0|1|2|no|moved|disturbed|standing|09:30|12|||shells 2 m off",
                    4 => "intact|3|||yes|in_bowl|as_set|down|||||",
                    5 => "not_relocated|||||not_found|gone|standing|10:15|||cover_changed|",
                    _ => "intact|3|||yes|in_bowl|as_set|standing|||||",
                }));
                if (nest == 2) continue;
                said.Add(Line(line, nest, "2026-06-01", nest switch
                {
                    3 => "other_loss|0|3|||in_bowl|disturbed|down|09:40|14|trampled||hoof prints",
                    6 => "depredated|1|0|2||moved|disturbed|standing|10:30|15|||",
                    _ => "intact|3||||in_bowl|as_set|standing|||||",
                }));
            }
        }

        return [.. said.Order(StringComparer.Ordinal)];
    }

    private static string Line(int line, int nest, string on, string rest) => string.Create(CultureInfo.InvariantCulture, $"T{line}|{nest}|{on}|crew 1|crew 2|{rest}");

    private static List<string> Written(string data)
    {
        var file = DataFile.OpenToRead(data);
        var table = file.Tables(file.Seasons().Single().Name).Tables.Single(t => t.Kind.Name == "visits");
        string[] columns = ["transect", "nest", "visited_on", "observer", "second_observer", "finding", "eggs_intact", "eggs_broken", "eggs_missing", "eggs_refreshed", "washer", "bowl", "flag", "visited_at", "photos", "cause", "not_found_because", "note"];
        return [.. table.Rows.Select(r => string.Join('|', columns.Select(c => table.IndexOf(c) is var i and >= 0 && i < r.Cells.Length ? r.Cells[i] : ""))).Order(StringComparer.Ordinal)];
    }

    private static Dictionary<string, string> Season()
    {
        var lines = Enumerable.Range(1, Lines).ToArray();
        return PlannedSeason.Files(
            string.Concat(lines.Select(l => string.Create(CultureInfo.InvariantCulture, $"Invented ranch,North,T{l},2026-05-04,crew 1,crew 1\n"))),
            string.Concat(lines.SelectMany(l => Enumerable.Range(1, NestsALine).Select(n => string.Create(CultureInfo.InvariantCulture, $"T{l},{n},{(n % 2 == 1 ? "bunchgrass" : "shrub")},2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n")))));
    }

    private static Task<string> FocusAsync(IPage page) => page.EvaluateAsync<string>("() => document.activeElement.id");

    internal static async Task LookAsync(DeskWindow desk, string name, string? path, List<string> wrong, params int[] widths)
    {
        if (path is not null) await desk.GoAsync(path);
        foreach (var width in widths.Length > 0 ? widths : [320, 768, 1600, 2560])
        {
            await desk.Page.SetViewportSizeAsync(width, 900);
            await desk.Page.EmulateMediaAsync(new() { ColorScheme = width is > 700 and < 2000 ? ColorScheme.Dark : ColorScheme.Light, ReducedMotion = ReducedMotion.Reduce });
            wrong.AddRange((await desk.Page.EvaluateAsync<string[]>(DeskLooks.WhatIsWrong)).Select(w => $"{name} at {width}: {w}"));
            await desk.PictureAsync($"enter-{name}-{width}");
            var found = await desk.Page.RunAxe(new AxeRunOptions { Rules = new Dictionary<string, RuleOptions> { ["target-size"] = new() { Enabled = false } } });
            wrong.AddRange(found.Violations.Select(v => $"{name} at {width}: {v.Id} {v.Help}: {string.Join(" | ", v.Nodes.Take(3).Select(n => n.Html[..Math.Min(160, n.Html.Length)]))}"));
        }
    }
}
