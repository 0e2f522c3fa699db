using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Sheets;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Reports;

public sealed class FieldSheetTests
{
    private static readonly SeasonTables Demo = DemoSeason.Write(1);

    private static ImmutableArray<ReportPage> Sheets(SeasonTables tables, Uri? app = null) =>
        FieldSheets.Of(SeasonReading.Read(tables, out _)!, ReportSeasons.Making, app, Catalogue.English);

    private static string Html(string name, SeasonTables tables, Uri? app = null) => Sheets(tables, app).Single(s => s.Name == name).Html;

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    [Fact]
    public void There_is_a_sheet_for_each_work_and_a_page_for_each_transect()
    {
        Assert.Equal(["sheet-set-out", "sheet-check-day-14", "sheet-check-day-28", "sheet-belt", "sheet-remains", "sheet-supplies-and-safety", "sheet-permission-and-care"], Sheets(Demo).Select(s => s.Name));
        var lines = SeasonReading.Read(Demo, out _)!.Transects.Length;
        Assert.All(Sheets(Demo).SkipLast(2).Where(s => !s.Name.Contains("check", StringComparison.Ordinal)), s => Assert.Equal(lines, Pages(s)));

        // Ten nests and more don't fit a page of checks.
        var twoPages = SeasonReading.Read(Demo, out _)!.Nests.GroupBy(n => n.Transect).Count(g => g.Count() > 9);
        Assert.All(Sheets(Demo).Where(s => s.Name.Contains("check", StringComparison.Ordinal)), s => Assert.Equal(lines + twoPages, Pages(s)));
        static int Pages(ReportPage sheet) => Count(sheet.Html, "<main class=\"page");
    }

    [Fact]
    public void Each_property_has_a_page_of_permission_that_asks_for_no_gate_code()
    {
        var html = Html("sheet-permission-and-care", Demo);
        Assert.Equal(2, Count(html, "<main class=\"page"));
        var text = PageText.Of(html);
        foreach (var asked in new[] { "Two Windmills", "Thirteen Gates", "gate, and who opens it", "livestock where", "hunting: seasons", "nearest clinic", "emergency number", "Pastures: Far Side, House Side. 4 lines with 24 simulated nests" }) Assert.Contains(asked, text, StringComparison.Ordinal);
        Assert.DoesNotContain("gate code:", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Check_days_are_dates_with_the_days_between_which_they_count()
    {
        var season = SeasonReading.Read(Demo, out _)!;
        var set = season.Transects[0].SetOn!.Value;
        var text = PageText.Of(Html("sheet-check-day-14", Demo));
        Assert.Contains(Numbers.Date(set.AddDays(14), Catalogue.English), text, StringComparison.Ordinal);
        Assert.Contains(Numbers.Date(set.AddDays(11), Catalogue.English), text, StringComparison.Ordinal);
        Assert.Contains(Numbers.Date(set.AddDays(17), Catalogue.English), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_of_earlier_findings_is_printed_but_what_ended()
    {
        var season = SeasonReading.Read(Demo, out _)!;
        var lost = Fates.SeasonFates.Of(season).Rows.Count(f => f.Day14 == Fates.FateAt.Lost);
        Assert.True(lost > 0);
        Assert.Equal(0, Count(Html("sheet-check-day-14", Demo), "Lost on day 14"));
        Assert.Equal(lost, Count(Html("sheet-check-day-28", Demo), "Lost on day 14: only pick up the washer."));
        var first = PageText.Of(Html("sheet-check-day-14", Demo));
        Assert.DoesNotContain("depredated", first, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("survived", first, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("12", "S", "flag_to_nest", "magnetic", "", "", "12 steps S of flag 1; then look # m left and right, # m ahead and back.")]
    [InlineData("17", "NE", "nest_to_flag", "true", "", "", "17 steps SW by true north of flag 1; then look # m left and right, # m ahead and back.")]
    [InlineData("17", "NE", "", "magnetic", "", "", "17 steps NE of flag 1, or 17 steps SW of flag 1; then look # m left and right, # m ahead and back (nobody wrote which way the direction was read).")]
    [InlineData("8", "10", "nest_to_flag", "magnetic", "5", "E", "From flag 1 5 steps W, then 8 steps at 190° by compass; then look # m left and right, # m ahead and back.")]
    public void A_check_sheet_says_the_way_back_as_it_was_written_turned_to_start_at_the_flag(string steps, string direction, string sense, string north, string second, string then, string said)
    {
        var nests = Demo.Table(RecordKind.Nests)!;
        var columns = nests.Columns.AddRange("steps_2", "direction_2");
        var written = new Dictionary<string, string>(StringComparer.Ordinal) { ["steps"] = steps, ["direction"] = direction, ["direction_sense"] = sense, ["north"] = north, ["steps_2"] = second, ["direction_2"] = then, ["nest_lat"] = "", ["nest_lon"] = "" };
        var set = nests with { Columns = columns, Rows = [.. nests.Rows.Select(r => r with { Cells = [.. columns.Select((c, i) => written.TryGetValue(c, out var text) ? text : r.Cells[i])] })] };
        var text = PageText.Of(Html("sheet-check-day-14", Demo with { Tables = [.. Demo.Tables.Select(t => t.Kind == RecordKind.Nests ? set : t)] }));
        Assert.Matches(System.Text.RegularExpressions.Regex.Escape(said).Replace("\\#", "[1-9]", StringComparison.Ordinal), text);
    }

    [Fact]
    public void A_season_without_visits_is_a_plan_and_its_sheets_are_empty_but_for_the_plan()
    {
        var planned = Demo with { Tables = [.. Demo.Tables.Select(t => t.Kind == RecordKind.Visits || t.Kind == RecordKind.Remains || t.Kind == RecordKind.Cameras ? t with { Rows = [] } : Emptied(t, "set_on"))] };
        var text = PageText.Of(Html("sheet-check-day-28", planned));
        Assert.Contains("day 28 after set-out (up to 3 days earlier or later)", text, StringComparison.Ordinal);
        Assert.Contains("planned, not set out yet", PageText.Of(Html("sheet-set-out", planned)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_twoPagesline_is_cut_into_pages_of_about_equal_length()
    {
        var nests = Demo.Table(RecordKind.Nests)!;
        var line = nests.Rows[0].Cells[nests.IndexOf("transect")];
        var template = nests.Rows[0].Cells;
        var rows = Enumerable.Range(1, 31).Select(i => new RecordRow(i + 1, template.SetItem(nests.IndexOf("nest"), i.ToString(System.Globalization.CultureInfo.InvariantCulture))));
        var one = Demo with
        {
            Tables = [.. Demo.Tables.Select(t => t.Kind == RecordKind.Nests ? t with { Rows = [.. rows] } : t.Kind == RecordKind.Transects ? t with { Rows = [.. t.Rows.Where(r => r.Cells[t.IndexOf("transect")] == line)] } : t.IndexOf("transect") >= 0 ? t with { Rows = [] } : t)],
        };
        Assert.Equal(3, Count(Html("sheet-set-out", one), "<main class=\"page"));
        Assert.Contains("page 3 of 3", PageText.Of(Html("sheet-set-out", one)), StringComparison.Ordinal);
        Assert.Equal(31, Count(Html("sheet-set-out", one), "<section class=\"station\""));
    }

    [Fact]
    public void Names_that_are_markup_stay_text_and_a_page_asks_nobody_for_anything()
    {
        var odd = Demo with { Tables = [.. Demo.Tables.Select(t => t with { Rows = [.. t.Rows.Select(r => r with { Cells = [.. r.Cells.Select(c => c == "East Pasture" ? "<script>x</script>" : c)] })] })] };
        foreach (var sheet in Sheets(odd, new Uri("https://field.example/field/")))
        {
            Assert.DoesNotContain("<script", sheet.Html, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("default-src 'none'", sheet.Html, StringComparison.Ordinal);
            Assert.DoesNotContain("NaN", PageText.Of(sheet.Html), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_page_has_a_code_when_the_app_has_an_address()
    {
        var lines = SeasonReading.Read(Demo, out _)!.Transects.Length;
        Assert.Equal(0, Count(Html("sheet-belt", Demo), "class=\"code\""));
        Assert.Equal(lines, Count(Html("sheet-belt", Demo, new Uri("https://field.example/field/")), "class=\"code\""));
    }

    private static RecordTable Emptied(RecordTable table, string column) => table.IndexOf(column) is var at and >= 0 ? table with { Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.SetItem(at, "") })] } : table;
}
