// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using Tussock.Journal;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk's pages as a browser without scripts sees them: every page answers, forms write what they say and nothing else.</summary>
public sealed class DeskPagesTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Theory]
    [InlineData("5/6 4/6 3/6 1/6")]
    [InlineData("5/6\r\n4/6\r\n3/6\r\n1/6")]
    [InlineData("5 of 6\n4 of 6\n3 of 6\n1 of 6\n")]
    public async Task On_the_tailgate_the_quick_page_says_what_the_command_says_and_writes_nothing(string lines)
    {
        var before = desk.File.Position;
        var page = WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri("/quick?lines=" + Uri.EscapeDataString(lines), UriKind.Relative)));
        var said = Commands.Typed.Done("quick", "5/6 4/6 3/6 1/6").Out.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        Assert.Contains(said, s => s.Contains("13 of 24 simulated nests", StringComparison.Ordinal));
        Assert.Contains(said, s => s.Contains("16–88 %", StringComparison.Ordinal));
        Assert.Contains(said, s => s.Contains("35–72 %", StringComparison.Ordinal));
        foreach (var sentence in said) Assert.Contains("<p>" + sentence + "</p>", page, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);
    }

    [Theory]
    [InlineData("/", HttpStatusCode.OK)]
    [InlineData("/worklist", HttpStatusCode.OK)]
    [InlineData("/records/visits", HttpStatusCode.OK)]
    [InlineData("/records/nests?text=shrub&sort=nest&down=yes&page=99999", HttpStatusCode.OK)]
    [InlineData("/records/cameras", HttpStatusCode.OK)]
    [InlineData("/records/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/record/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/record/01900000-0000-7000-8000-00000000aaaa", HttpStatusCode.NotFound)]
    [InlineData("/results", HttpStatusCode.OK)]
    [InlineData("/results/curve", HttpStatusCode.OK)]
    [InlineData("/results/<script>", HttpStatusCode.OK)]
    [InlineData("/results/curve/numbers.csv", HttpStatusCode.OK)]
    [InlineData("/results/curve/1.svg", HttpStatusCode.OK)]
    [InlineData("/results/curve/99.svg", HttpStatusCode.NotFound)]
    [InlineData("/results/curve/0.svg", HttpStatusCode.NotFound)]
    [InlineData("/results/curve/-1.svg", HttpStatusCode.NotFound)]
    [InlineData("/results/nonsense/numbers.csv", HttpStatusCode.NotFound)]
    [InlineData("/results/methods/numbers.csv", HttpStatusCode.NotFound)]
    [InlineData("/why/counted-share", HttpStatusCode.OK)]
    [InlineData("/why/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/why/..%2F..%2Fsecret", HttpStatusCode.NotFound)]
    [InlineData("/why/pasture/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/map", HttpStatusCode.OK)]
    [InlineData("/map.json", HttpStatusCode.OK)]
    [InlineData("/boundary/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/quick?lines=5%2F6+4%2F6&clumps=12+9&area=0.1+acre", HttpStatusCode.OK)]
    [InlineData("/quick?lines=<script>alert(1)</script>", HttpStatusCode.OK)]
    [InlineData("/enter", HttpStatusCode.OK)]
    [InlineData("/enter/nonsense?check=14", HttpStatusCode.NotFound)]
    [InlineData("/sheets", HttpStatusCode.OK)]
    [InlineData("/sheets/nonsense", HttpStatusCode.NotFound)]
    [InlineData("/photos/../season.db", HttpStatusCode.NotFound)]
    [InlineData("/photos/0000000000000000000000000000000000000000000000000000000000000000/small", HttpStatusCode.NotFound)]
    [InlineData("/nothing/here", HttpStatusCode.NotFound)]
    [InlineData("/desk/../../secret", HttpStatusCode.NotFound)]
    public async Task Every_address_answers_with_a_page_that_no_script_gets_into(string address, HttpStatusCode status)
    {
        var answer = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Equal(status, answer.StatusCode);
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
        Assert.DoesNotContain(" style=", page, StringComparison.Ordinal);
        Assert.Contains("default-src 'self'", string.Join(' ', answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_photo_has_a_small_view_and_is_handed_out_as_a_file()
    {
        using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(640, 480));
        using var image = surface.Snapshot();
        using var png = image.Encode();
        var hash = desk.Media.Keep(png.AsSpan())!;
        for (var n = 0; n < 2; n++)
        {
            var small = await desk.Client.GetAsync(new Uri("/photos/" + hash + "/small", UriKind.Relative));
            Assert.Equal(("image/jpeg", HttpStatusCode.OK), (small.Content.Headers.ContentType!.MediaType, small.StatusCode));
        }

        var whole = await desk.Client.GetAsync(new Uri("/photos/" + hash, UriKind.Relative));
        Assert.Equal("attachment", whole.Content.Headers.ContentDisposition!.DispositionType);
        Assert.Equal(png.ToArray(), await whole.Content.ReadAsByteArrayAsync());
    }

    [Fact]
    public async Task A_changed_field_is_written_once_with_who_and_the_former_value_stays()
    {
        var visit = Visit();
        var form = await FormAsync(visit);
        form["v.note"] = "seen from the gate <b>";
        var answer = await PostAsync(visit, form);

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var last = desk.File.Changes(visit)[^1];
        Assert.Equal(("crew 1", "note", "seen from the gate <b>"), (last.By, Assert.Single(last.Fields).Name, last.Fields[0].Value));
        var page = await desk.Client.GetStringAsync(answer.Headers.Location);
        Assert.Contains("seen from the gate &lt;b&gt;", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(visit, await FormAsync(visit))).StatusCode);
        Assert.Equal(last.Id, desk.File.Changes(visit)[^1].Id);
    }

    [Fact]
    public async Task A_stale_form_meets_a_page_with_both_values_and_saving_again_settles_it()
    {
        var visit = Visit();
        var form = await FormAsync(visit);
        var meanwhile = await FormAsync(visit);
        meanwhile["v.note"] = "theirs";
        await PostAsync(visit, meanwhile);
        form["v.note"] = "mine";
        var refused = await PostAsync(visit, form);
        var page = await refused.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.Contains("mine", page, StringComparison.Ordinal);
        Assert.Contains("theirs", page, StringComparison.Ordinal);
        Assert.Equal("theirs", Field(visit, "note"));
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(visit, PageForm.Fields(page))).StatusCode);
        Assert.Equal("mine", Field(visit, "note"));
    }

    [Fact]
    public async Task What_cannot_be_read_is_said_and_nothing_is_written()
    {
        var visit = Visit();
        var form = await FormAsync(visit);
        form["v.visited_on"] = "31.12.2026";
        form["v.note"] = "both or none";
        var refused = await PostAsync(visit, form);

        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.Contains("year-month-day", await refused.Content.ReadAsStringAsync(), StringComparison.OrdinalIgnoreCase);
        Assert.NotEqual("both or none", Field(visit, "note"));
    }

    [Fact]
    public async Task The_last_change_of_a_value_can_be_taken_back_and_a_record_taken_out_and_put_back()
    {
        var visit = Visit();
        var former = Field(visit, "finding");
        var form = await FormAsync(visit);
        form["v.finding"] = former == "intact" ? "depredated" : "intact";
        await PostAsync(visit, form);
        var undo = new Dictionary<string, string>(await FormAsync(visit), StringComparer.Ordinal) { ["column"] = "finding" };
        undo["heads"] = undo["h.finding"];
        for (var sent = 0; sent < 2; sent++) await PostAsync(visit, undo, "/undo");
        Assert.Equal(former, Field(visit, "finding"));

        await PostAsync(visit, new(await FormAsync(visit), StringComparer.Ordinal) { ["void"] = "yes" }, "/void");
        Assert.Contains("taken out of the season", await desk.Client.GetStringAsync(Address(visit)), StringComparison.Ordinal);
        await PostAsync(visit, new(await FormAsync(visit), StringComparer.Ordinal) { ["void"] = "" }, "/void");
        Assert.DoesNotContain("is taken out of the season", await desk.Client.GetStringAsync(Address(visit)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("CfDJ8forged")]
    public async Task A_form_without_the_token_of_a_page_writes_nothing(string token)
    {
        var visit = Visit();
        var form = await FormAsync(visit);
        form["v.note"] = "forged";
        form[form.Keys.Single(k => k.StartsWith("__", StringComparison.Ordinal))] = token;
        Assert.Equal(HttpStatusCode.BadRequest, (await PostAsync(visit, form)).StatusCode);
        Assert.NotEqual("forged", Field(visit, "note"));
    }

    [Fact]
    public async Task Opened_to_a_network_the_desk_answers_nothing()
    {
        await using var open = new RunningDesk(isLoopbackOnly: false);
        foreach (var address in new[] { "/", "/worklist", "/records/visits", "/results", "/desk/state" })
        {
            var page = await (await open.Client.GetAsync(new Uri(address, UriKind.Relative))).Content.ReadAsStringAsync();
            Assert.DoesNotContain("Worklist", page, StringComparison.Ordinal);
            Assert.DoesNotContain("\"position\"", page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_form_that_is_sent_twice_is_written_once()
    {
        var visit = Visit();
        var form = await FormAsync(visit);
        form["v.note"] = "sent twice";
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(visit, form)).StatusCode);
        Assert.Equal("sent twice", Assert.Single(desk.File.Changes(visit), c => c.Fields.Any(f => f.Name == "note" && f.Value == "sent twice")).Fields[0].Value);
    }

    [Fact]
    public async Task A_stale_form_takes_nothing_back_that_its_writer_did_not_touch()
    {
        var visit = Visit();
        var mine = await FormAsync(visit);
        var theirs = await FormAsync(visit);
        (theirs["v.note"], theirs["v.observer"]) = ("theirs", "crew 7");
        await PostAsync(visit, theirs);
        mine["v.note"] = "mine";
        var answer = await PostAsync(visit, mine);
        Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(visit, PageForm.Fields(await answer.Content.ReadAsStringAsync()))).StatusCode);
        Assert.Equal(("mine", "crew 7"), (Field(visit, "note"), Field(visit, "observer")));
    }

    private static Uri Address(Guid record) => new("/record/" + record, UriKind.Relative);

    private Guid Visit() => desk.File.States("small").Records.First(r => r.Kind == "visits").Id;

    private string Field(Guid record, string field) => Fold.Record(desk.File.Changes(record)).Field(field)?.Value ?? "";

    private async Task<Dictionary<string, string>> FormAsync(Guid record) => PageForm.Fields(await desk.Client.GetStringAsync(Address(record)));

    private Task<HttpResponseMessage> PostAsync(Guid record, Dictionary<string, string> form, string more = "") => desk.Client.PostAsync(new Uri("/record/" + record + more, UriKind.Relative), new FormUrlEncodedContent(form));
}
