// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Tussock.Results;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Belt sheets typed from paper: a segment is a line of the form and a record for each class; not counted is not zero.</summary>
public sealed class DeskBeltEntryTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new(PlainFolder.Invented("small", 12), isLoopbackOnly: true, null, null);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task Two_callers_one_side_and_a_thicket_give_the_density_that_the_paper_means()
    {
        // Step 0.76 m, stick 1.80 m, 50 steps: 68.4 m² a segment. Worked by hand: (6 + 4)/2 and 3 of one side on 68.4 + 34.2 m².
        var first = await FormAsync(1);
        Head(first);
        (first["v.1-0.clumps"], first["v.1-1.clumps"]) = ("6", "0");
        (first["v.2-0.clumps"], first["v.2-1.clumps"], first["v.2.side"]) = ("3", "0", "r");
        (first["v.3.status"], first["v.3.reason"]) = ("n", "thicket");
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, first)).StatusCode);
        var written = desk.File.Since(before);
        Assert.Equal((6, 1), (written.Length, written.Select(c => c.Batch).Distinct().Count()));
        Assert.All(written, c => Assert.Equal(("belts", "sheet-belt"), (c.Kind, c.Source)));
        Assert.Equal(
            [
                "segment 1, cover grass, pass 1, clumps 6, side both, status counted, counted_on 2024-05-06, observer crew 2, arm_span_m 1.80, step_m 0.76, steps 50",
                "segment 1, cover shrub, pass 1, clumps 0, side both, status counted, counted_on 2024-05-06, observer crew 2, arm_span_m 1.80, step_m 0.76, steps 50",
            ],
            written.Take(2).Select(c => Said(c.Record)));
        Assert.Equal("segment 3, cover shrub, pass 1, side both, status not_counted, reason thicket, counted_on 2024-05-06, observer crew 2, arm_span_m 1.80, step_m 0.76, steps 50", Said(written[5].Record));

        var second = await FormAsync(2);
        Head(second);
        (second["v.1-0.clumps"], second["v.1-1.clumps"]) = ("4", "0");
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(2, second)).StatusCode);
        var density = SeasonResults.Of(SeasonReading.Read(desk.File.Tables("small"), out _)!).Verdicts[0].Density;
        Assert.Equal(102.6, density.AreaM2, 9);
        Assert.Equal(315.5, density.PerAcre.Value!.Value, 1);
    }

    [Fact]
    public async Task Sent_twice_at_once_and_again_writes_once()
    {
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"], form["v.2-0.clumps"], form["v.2-1.clumps"], form["v.2.side"]) = ("6", "1", "2", "0", "l");
        var before = desk.File.Position;
        var answers = await Task.WhenAll(PostAsync(1, form), PostAsync(1, form));
        Assert.All(answers, a => Assert.Equal(HttpStatusCode.SeeOther, a.StatusCode));
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, form)).StatusCode);
        Assert.Equal(4, desk.File.Since(before).Length);

        // The form of one side offers the other, which is a record of its own.
        var other = await FormAsync(1);
        Assert.Equal(("2", "left only"), (other["v.2-0.clumps"], other["v.2.side"]));
        Head(other);
        (other["v.2b-0.clumps"], other["v.2b-1.clumps"], other["v.2b.side"]) = ("3", "0", "r");
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, other)).StatusCode);
        Assert.Equal(6, desk.File.Since(before).Length);
        var sides = await FormAsync(1);
        Assert.Equal(("left only", "right only", "3"), (sides["v.2.side"], sides["v.2b.side"], sides["v.2b-0.clumps"]));
    }

    [Theory]
    [InlineData("v.1-1.clumps", "", "c-1-1-clumps", "0 when there was none")]
    [InlineData("v.1-1.clumps", "some", "c-1-1-clumps", "a whole number")]
    [InlineData("v.1.status", "n", "c-1-0-clumps", "not counted, and here stands a number")]
    [InlineData("v.1.side", "middle", "c-1-side", "b = both sides")]
    [InlineData("d.arm_span_m", "1,80", "h-arm_span_m", "decimal point")]
    [InlineData("d.counted_on", "6 May", "h-counted_on", "year-month-day")]
    public async Task A_typo_is_told_where_it_is_made_and_nothing_is_written(string box, string text, string at, string told)
    {
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"], form["v.2-0.clumps"], form["v.2-1.clumps"]) = ("6", "1", "2", "0");
        form[box] = text;
        var before = desk.File.Position;
        var answer = await PostAsync(1, form);
        var page = await answer.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.Conflict, before), (answer.StatusCode, desk.File.Position));
        Assert.Matches("id=\"t-" + at + "\">[^<]*" + Regex.Escape(told), page);
        var again = PageForm.Fields(page, "id=\"entry\"");
        Assert.Equal((text, "2"), (again[box], again["v.2-0.clumps"]));
    }

    [Theory]
    [InlineData("2024-05-01", "before this line was set out")]
    [InlineData("2023-05-06", "another year")]
    [InlineData("2099-05-06", "still to come")]
    public async Task An_odd_date_needs_a_second_press(string date, string told)
    {
        var form = await FormAsync(1);
        Head(form);
        (form["d.counted_on"], form["v.1-0.clumps"], form["v.1-1.clumps"]) = (date, "6", "1");
        var before = desk.File.Position;
        var page = await (await PostAsync(1, form)).Content.ReadAsStringAsync();
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, PageForm.Fields(page, "id=\"entry\""))).StatusCode);
        Assert.Equal(2, desk.File.Since(before).Length);
    }

    [Fact]
    public async Task A_count_is_edited_and_what_others_wrote_meanwhile_is_shown_first()
    {
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"]) = ("6", "1");
        await PostAsync(1, form);
        var mine = await FormAsync(1);
        var theirs = new Dictionary<string, string>(mine, StringComparer.Ordinal) { ["v.1-0.clumps"] = "7" };
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, theirs)).StatusCode);
        mine["v.1-0.clumps"] = "8";
        var before = desk.File.Position;
        var page = await (await PostAsync(1, mine)).Content.ReadAsStringAsync();
        Assert.Equal(before, desk.File.Position);
        Assert.Matches("id=\"t-c-1-0-clumps\">[^<]*7[^<]*8", page);

        // Side and status stand once: what is written there goes into both classes.
        var again = PageForm.Fields(page, "id=\"entry\"");
        again["v.1.side"] = "l";
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, again)).StatusCode);
        var now = await FormAsync(1);
        Assert.Equal(("8", "1", "left only"), (now["v.1-0.clumps"], now["v.1-1.clumps"], now["v.1.side"]));
        Assert.Equal(["clumps 8, side left", "side left"], desk.File.Since(before).Select(c => string.Join(", ", c.Fields.Select(f => f.Name + " " + f.Value))));
    }

    [Fact]
    public async Task Classes_that_were_counted_differently_have_boxes_of_their_own()
    {
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"]) = ("6", "1");
        await PostAsync(1, form);
        var shrub = desk.File.States("small").Records.Single(r => r.Kind == "belts" && r.Field("cover")!.Value == "shrub");
        var record = PageForm.Fields(await desk.Client.GetStringAsync(new Uri("/record/" + shrub.Id, UriKind.Relative)));
        record["v.reason"] = "partly in the thicket";
        Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(new Uri("/record/" + shrub.Id, UriKind.Relative), new FormUrlEncodedContent(record))).StatusCode);
        var apart = await FormAsync(1);
        Assert.Equal(("", "partly in the thicket"), (apart["v.1-0.reason"], apart["v.1-1.reason"]));
        Assert.False(apart.ContainsKey("v.1.reason"));
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(1, apart)).StatusCode);
        Assert.Equal(before, desk.File.Position);
    }

    [Fact]
    public async Task A_second_entry_is_blind_and_differs_where_it_differs()
    {
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"], form["v.2.status"]) = ("6", "1", "n");
        await PostAsync(1, form);
        var blind = await desk.Client.GetStringAsync(new Uri(Address(1) + "&again=yes", UriKind.Relative));
        var second = PageForm.Fields(blind, "id=\"entry\"");
        Assert.Equal("", second["v.1-0.clumps"]);
        Head(second);
        (second["v.1-0.clumps"], second["v.1-1.clumps"], second["v.2.status"]) = ("9", "1", "n");
        var before = desk.File.Position;
        var page = await (await desk.Client.PostAsync(new Uri(Address(1) + "&again=yes", UriKind.Relative), new FormUrlEncodedContent(second))).Content.ReadAsStringAsync();
        Assert.Equal(["s.1-0.clumps"], Regex.Matches(page, "type=\"radio\" name=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Distinct());
        var decision = PageForm.Fields(page, "class=\"entry\"");
        decision["s.1-0.clumps"] = "second";
        var decide = new Uri(Address(1).ToString().Replace("?", "/decide?", StringComparison.Ordinal), UriKind.Relative);
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(decide, new FormUrlEncodedContent(decision))).StatusCode);
        Assert.Equal(("clumps", "9"), Assert.Single(desk.File.Since(before)).Fields.Select(f => (f.Name, f.Value)).Single());
    }

    [Fact]
    public async Task Belts_are_due_once_the_season_has_one()
    {
        Assert.DoesNotContain("belt=1", await desk.OpenSheetsAsync(), StringComparison.Ordinal);
        var form = await FormAsync(1);
        Head(form);
        (form["v.1-0.clumps"], form["v.1-1.clumps"]) = ("6", "1");
        await PostAsync(1, form);
        var open = await desk.OpenSheetsAsync();
        Assert.Contains("belt=1", open, StringComparison.Ordinal);
        Assert.Contains("1 of 6", open, StringComparison.Ordinal);
        Assert.DoesNotContain("belt=2", open, StringComparison.Ordinal);
    }

    private static void Head(Dictionary<string, string> form) => (form["d.counted_on"], form["d.observer"], form["d.arm_span_m"], form["d.step_m"], form["d.steps"]) = ("2024-05-06", "crew 2", "1.80", "0.76", "50");

    private Uri Address(int pass) => new(string.Create(CultureInfo.InvariantCulture, $"/enter/{desk.File.States("small").Records.Single(r => r.Kind == "transects" && r.Field("transect")!.Value == "T0").Id}?belt={pass}"), UriKind.Relative);

    private async Task<Dictionary<string, string>> FormAsync(int pass) => PageForm.Fields(await desk.Client.GetStringAsync(Address(pass)), "id=\"entry\"");

    private Task<HttpResponseMessage> PostAsync(int pass, Dictionary<string, string> form) => desk.Client.PostAsync(Address(pass), new FormUrlEncodedContent(form));

    /// <summary>What the changes of a record say, its transect left out.</summary>
    private string Said(Guid record) => string.Join(", ", desk.File.Changes(record).SelectMany(c => c.Fields).Where(f => f.Name != "transect").Select(f => f.Name + " " + f.Value));
}
