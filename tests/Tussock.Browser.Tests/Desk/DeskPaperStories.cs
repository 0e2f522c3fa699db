using System.Diagnostics;
using System.Globalization;
using Tussock.Browser.Tests.Field;
using Tussock.Store;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>A set-out sheet and a belt sheet of twelve stations typed at the desk by keys alone, looked at on every width, and read back from the data file.</summary>
[Collection("browser")]
public sealed class DeskPaperStories
{
    private const int Stations = 12;
    private static readonly TimeSpan Allowed = TimeSpan.FromMinutes(4);

    [Fact]
    public async Task A_line_is_set_out_from_paper_by_keys_alone()
    {
        await using var desk = await DeskWindow.OpenAsync(PlannedSeason.Files());
        var (page, keys) = (desk.Page, new PacedKeys(desk.Page));
        await desk.GoAsync("/enter");
        await page.FocusAsync("main table a");
        var clock = Stopwatch.StartNew();
        await keys.PressAsync("Enter");
        await page.WaitForSelectorAsync("body[data-entry=ready]");
        await keys.TypeAsync("2026-05-04");
        await keys.PressAsync("Tab");
        await keys.TypeAsync("m");
        await keys.PressAsync("Enter");
        await keys.TypeAsync("3");
        await keys.PressAsync("Enter");
        await keys.RowAsync("crew 1", "crew 2", "0.78", "40", "50");
        for (var n = 1; n <= Stations; n++)
        {
            if (n == 5) await keys.RowAsync("", "n");
            else await keys.RowAsync(n % 2 == 1 ? "b" : "s", "", n % 2 == 1 ? "bluestem" : "lotebush", "17", "ENE", "f", "", "0930", "by the post", "12");
        }

        await keys.PressAsync("Control+Enter");
        await page.WaitForSelectorAsync(".saved, [role=alert]");
        Assert.Contains("13 rows written", await page.InnerTextAsync(".saved, [role=alert]"), StringComparison.Ordinal);
        keys.Took(clock.Elapsed, "a set-out sheet of 12 stations", Allowed);
        var nests = Written(desk.Data, "nests", "nest", "cover", "status", "plant", "steps", "direction", "direction_sense", "north", "eggs", "set_at", "set_on", "landmarks", "photos");
        Assert.Equal(Stations, nests.Count);
        Assert.Contains("1|bunchgrass|set|bluestem|17|ENE|flag_to_nest|magnetic|3|09:30|2026-05-04|by the post|12", nests);
        Assert.Contains("12|shrub|set|lotebush|17|ENE|flag_to_nest|magnetic|3|09:30|2026-05-04|by the post|12", nests);
        Assert.Contains("5||no_clump|||||magnetic|||2026-05-04||", nests);
        Assert.Contains("T1|crew 1|crew 2|0.78|40|50", Written(desk.Data, "transects", "transect", "paced_by", "recorder", "step_m", "bearing_true_deg", "steps_between"));
        Assert.Empty(desk.Wrong);
    }

    [Fact]
    public async Task A_belt_is_entered_from_paper_by_keys_alone()
    {
        await using var desk = await DeskWindow.OpenAsync(Set());
        var (page, keys) = (desk.Page, new PacedKeys(desk.Page));
        await desk.GoAsync("/enter");
        await page.ClickAsync("main details summary");
        await page.FocusAsync("main a[href$='belt=1']");
        var clock = Stopwatch.StartNew();
        await keys.PressAsync("Enter");
        await page.WaitForSelectorAsync("body[data-entry=ready]");
        await keys.RowAsync("2026-05-04", "crew 1", "1.8", "0.78", "50");
        for (var n = 1; n <= Stations; n++)
        {
            if (n == 4) await keys.RowAsync("", "", "", "n", "thicket");
            else if (n == 7) await keys.RowAsync("3", "0", "r");
            else await keys.RowAsync("12", "4");
        }

        await keys.PressAsync("Control+Enter");
        await page.WaitForSelectorAsync(".saved, [role=alert]");
        Assert.Contains("24 rows written", await page.InnerTextAsync(".saved, [role=alert]"), StringComparison.Ordinal);
        keys.Took(clock.Elapsed, "a belt sheet of 12 segments and two classes", Allowed);
        var belts = Written(desk.Data, "belts", "segment", "cover", "clumps", "side", "status", "reason", "counted_on", "arm_span_m", "step_m", "steps", "observer");
        Assert.Equal(2 * Stations, belts.Count);
        Assert.Contains("1|bunchgrass|12|both|counted||2026-05-04|1.8|0.78|50|crew 1", belts);
        Assert.Contains("4|shrub||both|not_counted|thicket|2026-05-04|1.8|0.78|50|crew 1", belts);
        Assert.Contains("7|bunchgrass|3|right|counted||2026-05-04|1.8|0.78|50|crew 1", belts);
        Assert.Empty(desk.Wrong);
    }

    [Theory]
    [InlineData("en")]
    [InlineData("es")]
    public async Task Both_sheets_are_whole_at_every_width_and_axe_finds_nothing(string language)
    {
        await using var desk = await DeskWindow.OpenAsync(Set());
        var page = desk.Page;
        List<string> wrong = [];
        if (language == "es") await page.Context.AddCookiesAsync([new() { Name = "language", Value = "es", Url = desk.Address("/") }]);
        await desk.GoAsync("/enter");
        var belt = (await page.GetAttributeAsync("main a[href$='belt=1']", "href"))!;
        await DeskEntryStories.LookAsync(desk, "belt-" + language, belt, wrong);
        await page.FillAsync("[name='v.1-0.clumps']", "some");
        await page.FillAsync("[name='v.2.side']", "x");
        await page.ClickAsync("#save");
        await page.WaitForSelectorAsync("[role=alert]");
        await DeskEntryStories.LookAsync(desk, "belt-told-" + language, null, wrong);
        await DeskEntryStories.LookAsync(desk, "set-out-" + language, belt.Replace("belt=1", "set_out=yes", StringComparison.Ordinal), wrong);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("409", StringComparison.Ordinal));
    }

    private static Dictionary<string, string> Set() => PlannedSeason.Files(
        "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n",
        string.Concat(Enumerable.Range(1, Stations).Select(n => string.Create(CultureInfo.InvariantCulture, $"T1,{n},{(n % 2 == 1 ? "bunchgrass" : "shrub")},2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n"))));

    private static List<string> Written(string data, string kind, params string[] columns)
    {
        var file = DataFile.OpenToRead(data);
        var table = file.Tables(file.Seasons().Single().Name).Tables.Single(t => t.Kind.Name == kind);
        return [.. table.Rows.Select(r => string.Join('|', columns.Select(c => table.IndexOf(c) is var i and >= 0 && i < r.Cells.Length ? r.Cells[i] : "")))];
    }
}
