using System.Diagnostics;
using System.Globalization;
using Tussock.Browser.Tests.Field;
using Tussock.Evidence;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>A remains sheet of four lost nests typed at the desk by keys alone, looked at on every width, and read back from the data file.</summary>
[Collection("browser")]
public sealed class DeskRemainsStories
{
    private const int Lost = 4;
    private static readonly TimeSpan Allowed = TimeSpan.FromMinutes(2);

    [Fact]
    public async Task Four_lost_nests_are_entered_from_paper_by_keys_alone()
    {
        await using var desk = await DeskWindow.OpenAsync(Season());
        var (page, keys) = (desk.Page, new PacedKeys(desk.Page));
        await desk.GoAsync("/enter");
        // A season that is over and has no remains waits for none: its sheets stand among all sheets.
        await page.FocusAsync("main details > summary");
        var clock = Stopwatch.StartNew();
        await keys.PressAsync("Enter");
        await page.FocusAsync("main a[href$='remains=yes']");
        await keys.PressAsync("Enter");
        await page.WaitForSelectorAsync("body[data-entry=ready]");
        await keys.RowAsync("2026-05-18", "crew 1");
        for (var nest = 1; nest <= Lost; nest++)
        {
            // A space repeats the nest above; after the signs come the note, the photo and the guess.
            if (nest == 3) await keys.RowAsync("n", "", "", "", "", "", "", "", "", "u");
            else await keys.RowAsync("f", "s", "i", "l", nest == 1 ? "r" : " ", "", "n", "l", "n", "d", "p", "a", "a", "2", "", "", "", "f", "", "", "1", "", "12", "s");
        }

        await keys.PressAsync("Control+Enter");
        await page.WaitForSelectorAsync(".saved, [role=alert]");
        Assert.Contains("47 rows written", await page.InnerTextAsync(".saved, [role=alert]"), StringComparison.Ordinal);
        keys.Took(clock.Elapsed, "a remains sheet of four nests", Allowed);
        var rows = Written(desk.Data, "remains", "nest", "sign", "value", "visited_on", "observer", "photos", "crew_guess");
        Assert.Equal(47, rows.Count);
        Assert.All(rows.Select(r => r.Split('|')), r => Assert.True(SignCatalogue.Standard.Find(r[1], r[2]) is not null || Cell.Number(r[2]) is not null, r[2]));
        Assert.Contains("1|shell_present|few pieces|2026-05-18|crew 1|12|skunk", rows);
        Assert.Contains("2|edges|ragged|2026-05-18|crew 1|12|skunk", rows);
        Assert.Contains("4|eggs_left_whole|1|2026-05-18|crew 1|12|skunk", rows);
        Assert.Equal(["3|bowl|undisturbed|2026-05-18|crew 1||", "3|shell_present|none|2026-05-18|crew 1||"], rows.Where(r => r[0] == '3').Order(StringComparer.Ordinal));
        Assert.Empty(desk.Wrong);
    }

    [Theory]
    [InlineData("en")]
    [InlineData("es")]
    public async Task The_sheet_is_whole_at_every_width_and_axe_finds_nothing(string language)
    {
        await using var desk = await DeskWindow.OpenAsync(Season());
        var page = desk.Page;
        List<string> wrong = [];
        if (language == "es") await page.Context.AddCookiesAsync([new() { Name = "language", Value = "es", Url = desk.Address("/") }]);
        await desk.GoAsync("/enter");
        await DeskEntryStories.LookAsync(desk, "remains-" + language, (await page.GetAttributeAsync("main a[href$='remains=yes']", "href"))!, wrong, 320, 360, 1280, 2560);
        await page.FillAsync("[name='v.1-edges.value']", "x");
        await page.FillAsync("[name='v.2.crew_guess']", "fox");
        await page.ClickAsync("#save");
        await page.WaitForSelectorAsync("[role=alert]");
        await DeskEntryStories.LookAsync(desk, "remains-told-" + language, null, wrong, 360, 1280);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("409", StringComparison.Ordinal));
    }

    private static Dictionary<string, string> Season() => PlannedSeason.Files(
        "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n",
        Rows(n => $"T1,{n},{(n % 2 == 1 ? "bunchgrass" : "shrub")},2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1"),
        Rows(n => $"T1,{n},2026-05-18,09:00,{(n <= Lost ? "depredated" : "intact")},crew 1,,,,"));

    private static string Rows(Func<int, FormattableString> row) => string.Concat(Enumerable.Range(1, 6).Select(n => row(n).ToString(CultureInfo.InvariantCulture) + "\n"));

    private static List<string> Written(string data, string kind, params string[] columns)
    {
        var file = DataFile.OpenToRead(data);
        var table = file.Tables(file.Seasons().Single().Name).Tables.Single(t => t.Kind.Name == kind);
        return [.. table.Rows.Select(r => string.Join('|', columns.Select(c => table.IndexOf(c) is var i and >= 0 && i < r.Cells.Length ? r.Cells[i] : "")))];
    }
}
