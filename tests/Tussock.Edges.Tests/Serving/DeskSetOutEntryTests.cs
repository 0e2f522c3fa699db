// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Set-out sheets typed from paper: planned stations become nests, or places without a clump; a line without stations gets them.</summary>
public sealed class DeskSetOutEntryTests : IAsyncDisposable
{
    /// <summary>Line T1 is planned: its stations 1 to 6 have covers and no date. Line T2 has no stations.</summary>
    private readonly RunningDesk desk = new(Planned(), isLoopbackOnly: true, null, null);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_planned_line_is_typed_station_by_station_and_what_stands_at_the_head_goes_with_each()
    {
        var form = await FormAsync("T1");
        Assert.Equal(("grass", "", "", ""), (form["v.1.cover"], form["v.1.status"], form["v.1.steps"], form["v.1.set_on"]));
        Head(form);
        (form["v.line.paced_by"], form["v.line.recorder"], form["v.line.step_m"]) = ("crew 1", "crew 2", "0.78");
        (form["v.1.plant"], form["v.1.steps"], form["v.1.direction"], form["v.1.direction_sense"], form["v.1.set_at"], form["v.1.landmarks"]) = ("bluestem", "17", "ne", "n", "930", "leaning post");
        (form["v.2.cover"], form["v.2.steps"], form["v.2.direction"], form["v.2.direction_sense"], form["v.2.eggs"]) = ("g", "12", "212", "f", "2");
        form["v.3.status"] = "n";
        form["v.4.status"] = "not set";
        var before = desk.File.Position;
        var answer = await PostAsync("T1", form);
        Assert.True(answer.StatusCode == HttpStatusCode.SeeOther, await answer.Content.ReadAsStringAsync());
        var written = desk.File.Since(before);
        Assert.Single(written.Select(c => c.Batch).Distinct());
        Assert.Equal(
            [
                "paced_by crew 1, recorder crew 2, step_m 0.78",
                "direction ne, direction_sense nest_to_flag, eggs 3, landmarks leaning post, north magnetic, plant bluestem, set_at 09:30, set_on 2024-05-07, status set, steps 17",
                "cover grass, direction 212, direction_sense flag_to_nest, eggs 2, north magnetic, set_on 2024-05-07, status set, steps 12",
                "north magnetic, set_on 2024-05-07, status no_clump", "north magnetic, set_on 2024-05-07, status not_set",
            ],
            written.Select(c => string.Join(", ", c.Fields.OrderBy(f => f.Name, StringComparer.Ordinal).Select(f => f.Name + " " + f.Value))));

        var season = SeasonReading.Read(desk.File.Tables("small"), out _)!;
        var line = season.Nests.Where(n => n.Transect.Name == "T1").ToArray();
        Assert.Equal([true, true, false, false, false, false], line.Select(n => n.IsSet));
        Assert.Equal(StationStatus.NoClump, line[2].Status);

        // Sent again nothing more is written; stations 5 and 6 come with another sheet.
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T1", form)).StatusCode);
        Assert.Equal(5, desk.File.Since(before).Length);
        var rest = await FormAsync("T1");
        Assert.Equal(("17", "ne", "nest to flag", "set"), (rest["v.1.steps"], rest["v.1.direction"], rest["v.1.direction_sense"], rest["v.1.status"]));
    }

    [Fact]
    public async Task A_line_without_stations_has_twelve_empty_ones_and_those_that_are_filled_are_made()
    {
        var form = await FormAsync("T2");
        Assert.Contains("v.12.cover", form.Keys);
        Head(form);
        (form["v.1.cover"], form["v.1.steps"], form["v.1.direction"], form["v.1.direction_sense"]) = ("g", "11", "N", "f");
        form["v.2.status"] = "n";
        var before = desk.File.Position;
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T2", form)).StatusCode);
        Assert.Equal(
            ["nest 1, cover grass, status set, steps 11, direction N, direction_sense flag_to_nest, eggs 3, set_on 2024-05-07, north magnetic", "nest 2, status no_clump, set_on 2024-05-07, north magnetic"],
            desk.File.Since(before).Select(c => string.Join(", ", c.Fields.Where(f => f.Name != "transect").Select(f => f.Name + " " + f.Value))));
    }

    [Theory]
    [InlineData("v.1.direction", "17 NE", "c-1-direction", "a compass point")]
    [InlineData("v.1.cover", "gras", "c-1-cover", "g = grass")]
    [InlineData("v.1.cover", "-", "c-1-cover", "what the nest sits in is missing")]
    [InlineData("v.1.steps", "about ten", "c-1-steps", "a number")]
    [InlineData("v.1.status", "n", "c-1-status", "no nest was set, and yet")]
    [InlineData("v.line.step_m", "0,78", "c-line-step_m", "decimal point")]
    [InlineData("d.set_on", "", "h-set_on", "year-month-day")]
    [InlineData("d.north", "west", "h-north", "m = ")]
    [InlineData("d.eggs", "three", "h-eggs", "a whole number")]
    public async Task A_typo_is_told_where_it_is_made_and_nothing_is_written(string box, string text, string at, string told)
    {
        foreach (var line in (string[])["T1", "T2"])
        {
            if (line == "T2" && text == "-") continue;
            var form = await FormAsync(line);
            Head(form);
            (form["v.1.cover"], form["v.1.steps"], form["v.1.direction"]) = ("g", "17", "NE");
            form[box] = text;
            var before = desk.File.Position;
            var answer = await PostAsync(line, form);
            var page = await answer.Content.ReadAsStringAsync();
            Assert.Equal((HttpStatusCode.Conflict, before), (answer.StatusCode, desk.File.Position));
            Assert.Matches("id=\"t-" + at + "\">[^<]*" + Regex.Escape(told), page);
            Assert.Equal(text, PageForm.Fields(page, "id=\"entry\"")[box]);
        }
    }

    [Theory]
    [InlineData("T0", "2024-05-08", "another day than the line")]
    [InlineData("T1", "2099-05-08", "still to come")]
    public async Task An_odd_date_needs_a_second_press(string line, string date, string told)
    {
        var form = await FormAsync(line);
        (form["v.1.set_on"], form["v.1.steps"]) = (date, "19");
        var before = desk.File.Position;
        var page = await (await PostAsync(line, form)).Content.ReadAsStringAsync();
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(line, PageForm.Fields(page, "id=\"entry\""))).StatusCode);
    }

    [Fact]
    public async Task A_station_that_somebody_set_meanwhile_is_not_set_twice()
    {
        var mine = await FormAsync("T1");
        var theirs = await FormAsync("T1");
        Head(theirs);
        (theirs["v.1.steps"], theirs["v.1.direction"]) = ("20", "E");
        await PostAsync("T1", theirs);
        Head(mine);
        (mine["d.set_on"], mine["v.1.steps"], mine["v.2.steps"]) = ("2024-05-09", "30", "31");
        var before = desk.File.Position;
        var page = await (await PostAsync("T1", mine)).Content.ReadAsStringAsync();
        Assert.Equal(before, desk.File.Position);
        Assert.Matches("id=\"t-c-1-steps\">[^<]*20[^<]*30", page);
    }

    [Fact]
    public async Task Set_out_sheets_of_planned_lines_are_open_and_a_second_entry_is_compared()
    {
        var page = WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri("/enter", UriKind.Relative)));
        var open = page[..page.IndexOf("<details", StringComparison.Ordinal)];
        Assert.Contains("T1: set-out", open, StringComparison.Ordinal);
        Assert.Contains("0 of 12", open, StringComparison.Ordinal);
        Assert.DoesNotContain("T0: set-out", open, StringComparison.Ordinal);
        var second = PageForm.Fields(await desk.Client.GetStringAsync(new Uri(Address("T0") + "&again=yes", UriKind.Relative)), "id=\"entry\"");
        for (var nest = 1; nest <= 6; nest++)
        {
            var name = "v." + nest.ToString(System.Globalization.CultureInfo.InvariantCulture) + ".";
            (second[name + "cover"], second[name + "plant"], second[name + "eggs"], second[name + "steps"], second[name + "direction"], second[name + "status"]) = (nest % 2 == 1 ? "g" : "s", "bluestem", "3", nest == 6 ? "10" : "1" + (nest - 1), nest == 4 ? "NE" : "NNE", "-");
        }

        var compared = await (await desk.Client.PostAsync(new Uri(Address("T0") + "&again=yes", UriKind.Relative), new FormUrlEncodedContent(second))).Content.ReadAsStringAsync();
        Assert.Equal(["s.4.direction"], Regex.Matches(compared, "type=\"radio\" name=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Distinct());
    }

    private static void Head(Dictionary<string, string> form) => (form["d.set_on"], form["d.north"], form["d.eggs"]) = ("2024-05-07", "m", "3");

    private static SeasonTables Planned()
    {
        var season = PlainFolder.Invented("small", 12).With(RecordKind.Transects, 1, "set_on", "");
        for (var row = 6; row < 12; row++) season = season.With(RecordKind.Nests, row, "steps", "").With(RecordKind.Nests, row, "direction", "").With(RecordKind.Nests, row, "plant", "").With(RecordKind.Nests, row, "eggs", "");
        var transects = season.Table(RecordKind.Transects)!;
        var visits = season.Table(RecordKind.Visits)!;
        return season with { Tables = season.Tables.Replace(transects, transects with { Rows = transects.Rows.Add(new RecordRow(4, ["Invented ranch", "North", "T2", ""])) }).Replace(visits, visits with { Rows = [.. visits.Rows.Where(r => r.Cells[0] == "T0")] }) };
    }

    private Uri Address(string transect) => new($"/enter/{desk.File.States("small").Records.Single(r => r.Kind == "transects" && r.Field("transect")!.Value == transect).Id}?set_out=yes", UriKind.Relative);

    private async Task<Dictionary<string, string>> FormAsync(string transect) => PageForm.Fields(await desk.Client.GetStringAsync(Address(transect)), "id=\"entry\"");

    private Task<HttpResponseMessage> PostAsync(string transect, Dictionary<string, string> form) => desk.Client.PostAsync(Address(transect), new FormUrlEncodedContent(form));
}
