// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Journal;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Sheets typed from paper, as a browser without scripts sends them: all rows or none, nothing twice, nothing over somebody else's change.</summary>
public sealed class DeskEntryTests : IAsyncDisposable
{
    /// <summary>Line T0 was set out on 2024-05-06; nests 1 to 6; day 14 is entered (nest 1 eaten), day 28 is not.</summary>
    private readonly RunningDesk desk = new(visitsANest: 1);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task Sheets_that_are_due_and_not_entered_are_listed()
    {
        var page = await desk.Client.GetStringAsync(new Uri("/enter", UriKind.Relative));
        var open = page[..page.IndexOf("<details", StringComparison.Ordinal)];
        Assert.Contains(Address("T0", 28).ToString(), WebUtility.HtmlDecode(open), StringComparison.Ordinal);
        Assert.DoesNotContain(Address("T0", 14).ToString(), WebUtility.HtmlDecode(open), StringComparison.Ordinal);
        Assert.Contains("0 of 5", open, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_of_letters_becomes_visits_in_one_batch_and_empty_rows_write_nothing()
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2024-06-03";
        form["d.observer"] = "crew 2";
        form["d.washer"] = "i";
        form["v.2.finding"] = "w";
        form["v.3.finding"] = "Eaten";
        form["v.3.eggs_missing"] = "3";
        form["v.3.visited_at"] = "930";
        form["v.4.finding"] = "\"";
        form["v.4.visited_on"] = "2024-06-04";
        form["v.5.finding"] = "w";
        form["v.5.washer"] = "-";
        var before = desk.File.Position;
        var answer = await PostAsync("T0", 28, form);

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var changes = desk.File.Since(before);
        Assert.Equal(4, changes.Length);
        Assert.Single(changes.Select(c => c.Batch).Distinct());
        Assert.All(changes, c => Assert.Equal(("crew 1", "sheet-check-day-28"), (c.By, c.Source)));
        Assert.Equal(
            [
                "nest 2, finding intact, washer in_bowl, visited_on 2024-06-03, observer crew 2", "nest 3, finding depredated, eggs_missing 3, visited_at 09:30, visited_on 2024-06-03, observer crew 2",
                "nest 4, finding depredated, visited_on 2024-06-04, observer crew 2", "nest 5, finding intact, visited_on 2024-06-03, observer crew 2",
            ],
            changes.Select(c => Said(c.Record)));
        var page = await desk.Client.GetStringAsync(answer.Headers.Location);
        Assert.Contains("4 rows written", page, StringComparison.Ordinal);
        Assert.Equal("whole", PageForm.Fields(page, "id=\"entry\"")["v.2.finding"]);
    }

    [Fact]
    public async Task The_same_form_sent_again_and_twice_at_once_writes_nothing_more()
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2024-06-03";
        form["d.bowl"] = "a";
        form["v.2.finding"] = "w";
        form["v.3.finding"] = "c";
        form["v.3.not_found_because"] = "f";
        var before = desk.File.Position;
        var answers = await Task.WhenAll(PostAsync("T0", 28, form), PostAsync("T0", 28, form));
        Assert.All(answers, a => Assert.Equal(HttpStatusCode.SeeOther, a.StatusCode));
        Assert.Equal(2, desk.File.Since(before).Length);

        var after = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", 28, form)).StatusCode);
        var edit = await FormAsync("T0", 28);
        edit["v.2.note"] = "seen twice";
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", 28, edit)).StatusCode);
        Assert.Equal(("note", "seen twice"), Assert.Single(desk.File.Since(after)).Fields.Select(f => (f.Name, f.Value)).Single());
    }

    [Theory]
    [InlineData("v.2.finding", "perhaps", "w = whole")]
    [InlineData("v.2.eggs_intact", "many", "a whole number")]
    [InlineData("v.2.visited_on", "31.5.2024", "year-month-day")]
    [InlineData("d.visited_on", "May", "year-month-day")]
    [InlineData("d.visited_on", "", "year-month-day")]
    [InlineData("v.2.finding", "", "what was found is missing")]
    public async Task A_cell_that_cannot_be_read_is_told_at_its_place_and_no_row_is_written(string cell, string text, string told)
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2024-06-03";
        form["v.2.finding"] = "w";
        form["v.2.note"] = "<b>here</b>";
        form["v.3.finding"] = "w";
        form[cell] = text;
        var before = desk.File.Position;
        var answer = await PostAsync("T0", 28, form);
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Equal((HttpStatusCode.Conflict, before), (answer.StatusCode, desk.File.Position));
        var parts = cell.Split('.');
        var id = parts[0] == "d" ? "t-h-" + parts[1] : "t-c-" + parts[1] + "-" + parts[2];
        Assert.Matches("id=\"" + id + "\">[^<]*" + Regex.Escape(told), page);
        var again = PageForm.Fields(page, "id=\"entry\"");
        Assert.Equal((text, "w"), (again[cell], again["v.3.finding"]));
        Assert.DoesNotContain("<b>here", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2023-06-03", "another year")]
    [InlineData("2024-06-20", "outside the days")]
    [InlineData("2099-06-03", "still to come")]
    public async Task An_odd_date_needs_a_second_press(string date, string told)
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = date;
        form["v.2.finding"] = "w";
        var before = desk.File.Position;
        var warned = await (await PostAsync("T0", 28, form)).Content.ReadAsStringAsync();
        Assert.Contains(told, warned, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);
        var again = PageForm.Fields(warned, "id=\"entry\"");
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", 28, again)).StatusCode);
        Assert.Contains("visited_on " + date, Said(Assert.Single(desk.File.Since(before)).Record), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_press_does_not_cover_another_odd_date()
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2023-06-03";
        form["v.2.finding"] = "w";
        var again = PageForm.Fields(await (await PostAsync("T0", 28, form)).Content.ReadAsStringAsync(), "id=\"entry\"");
        again["d.visited_on"] = "2022-06-03";
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.Conflict, (await PostAsync("T0", 28, again)).StatusCode);
        Assert.Equal(before, desk.File.Position);
    }

    [Fact]
    public async Task A_visit_that_is_there_is_shown_and_edited_and_what_others_wrote_meanwhile_is_never_overwritten_unseen()
    {
        var form = await FormAsync("T0", 14);
        Assert.Equal(("eaten", "2024-05-20", "3"), (form["v.1.finding"], form["v.1.visited_on"], form["v.1.eggs_intact"]));
        var meanwhile = new Dictionary<string, string>(form, StringComparer.Ordinal) { ["v.2.note"] = "theirs", ["v.3.note"] = "also theirs" };
        await PostAsync("T0", 14, meanwhile);
        form["v.2.note"] = "mine";
        form["v.4.note"] = "with it";
        var before = desk.File.Position;
        var refused = await PostAsync("T0", 14, form);
        var page = await refused.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.Conflict, before), (refused.StatusCode, desk.File.Position));
        Assert.Matches("id=\"t-c-2-note\">[^<]*theirs[^<]*mine", page);

        var again = PageForm.Fields(page, "id=\"entry\"");
        Assert.Equal(("mine", "also theirs", "with it"), (again["v.2.note"], again["v.3.note"], again["v.4.note"]));
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", 14, again)).StatusCode);
        var notes = PageForm.Fields(await desk.Client.GetStringAsync(Address("T0", 14)), "id=\"entry\"");
        Assert.Equal(("mine", "also theirs", "with it"), (notes["v.2.note"], notes["v.3.note"], notes["v.4.note"]));
        Assert.Equal(2, desk.File.Since(before).Length);
    }

    [Fact]
    public async Task A_new_row_for_a_day_that_has_a_visit_shows_both_and_the_next_press_replaces()
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2024-06-03";
        form["v.2.finding"] = "w";
        var other = new Dictionary<string, string>(form, StringComparer.Ordinal) { ["v.2.finding"] = "e", ["v.3.finding"] = "w" };
        await PostAsync("T0", 28, form);
        var before = desk.File.Position;
        var refused = await PostAsync("T0", 28, other);
        var page = await refused.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.Conflict, before), (refused.StatusCode, desk.File.Position));
        Assert.Matches("id=\"t-c-2-finding\">[^<]*whole[^<]*eaten", page);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", 28, PageForm.Fields(page, "id=\"entry\""))).StatusCode);
        Assert.Equal([ChangeOp.Set, ChangeOp.Create], desk.File.Since(before).Select(c => c.Op));
    }

    [Theory]
    [InlineData("")]
    [InlineData("CfDJ8forged")]
    public async Task A_form_without_the_token_of_a_page_writes_nothing(string token)
    {
        var form = await FormAsync("T0", 28);
        form["d.visited_on"] = "2024-06-03";
        form["v.2.finding"] = "w";
        form[form.Keys.Single(k => k.StartsWith("__", StringComparison.Ordinal))] = token;
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.BadRequest, (await PostAsync("T0", 28, form)).StatusCode);
        Assert.Equal(before, desk.File.Position);
    }

    [Fact]
    public async Task A_second_entry_is_blind_and_only_what_is_decided_is_written()
    {
        var blind = await desk.Client.GetStringAsync(new Uri(Address("T0", 14) + "&again=yes", UriKind.Relative));
        Assert.DoesNotContain("value=\"eaten\"", blind, StringComparison.Ordinal);
        Assert.DoesNotContain("2024-05-20", blind, StringComparison.Ordinal);
        var form = PageForm.Fields(blind, "id=\"entry\"");
        form["d.visited_on"] = "2024-05-20";
        form["d.observer"] = "Ann";
        form["d.eggs_intact"] = "3";
        form["v.1.finding"] = "e";
        form["v.1.eggs_intact"] = "0";
        for (var nest = 2; nest <= 6; nest++) form["v." + nest + ".finding"] = nest == 3 ? "c" : "w";
        form["v.3.eggs_intact"] = "3";
        var before = desk.File.Position;
        var compared = await desk.Client.PostAsync(new Uri(Address("T0", 14) + "&again=yes", UriKind.Relative), new FormUrlEncodedContent(form));
        var page = await compared.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.OK, before), (compared.StatusCode, desk.File.Position));
        Assert.Equal(["s.1.eggs_intact", "s.3.finding"], Regex.Matches(page, "type=\"radio\" name=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Distinct().Order(StringComparer.Ordinal));
        Assert.Contains("22 filled boxes are alike", page, StringComparison.Ordinal);

        var decision = PageForm.Fields(page, "class=\"entry\"");
        var decide = new Uri(Address("T0", 14).ToString().Replace("?", "/decide?", StringComparison.Ordinal), UriKind.Relative);
        Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(decide, new FormUrlEncodedContent(decision))).StatusCode);
        Assert.Equal(before, desk.File.Position);
        decision["s.1.eggs_intact"] = "second";
        decision["s.3.finding"] = "first";
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(decide, new FormUrlEncodedContent(decision))).StatusCode);
        Assert.Equal(["crew 1 eggs_intact 0", "crew 1 finding intact"], desk.File.Since(before).Select(c => c.By + " " + c.Fields.Single().Name + " " + c.Fields.Single().Value));
        decision["s.1.eggs_intact"] = "first";
        Assert.Equal(HttpStatusCode.Conflict, (await desk.Client.PostAsync(decide, new FormUrlEncodedContent(decision))).StatusCode);
    }

    [Fact]
    public async Task A_photo_is_kept_once_and_shown_beside_what_was_typed()
    {
        using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(3000, 2000));
        using var image = surface.Snapshot();
        using var png = image.Encode();
        var before = desk.File.Position;
        for (var n = 0; n < 2; n++)
        {
            var page = await (await SendPictureAsync(png.ToArray(), "../sheet 1.png")).Content.ReadAsStringAsync();
            Assert.Equal("typed before", PageForm.Fields(page, "id=\"entry\"")["v.2.note"]);
            var address = Regex.Match(page, "/photos/[0-9a-f]{64}/large").Value;
            var large = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
            Assert.Equal("image/jpeg", large.Content.Headers.ContentType!.MediaType);
            using var seen = SkiaSharp.SKBitmap.Decode(await large.Content.ReadAsByteArrayAsync());
            Assert.Equal((2400, 1600), (seen.Width, seen.Height));
        }

        var kept = Assert.Single(desk.File.Since(before));
        Assert.Equal(("media", "sheet 1.png", "T0"), (kept.Kind, kept.Fields.Single(f => f.Name == "file").Value, kept.Fields.Single(f => f.Name == "transect").Value));
    }

    [Fact]
    public async Task Looking_at_a_photo_never_makes_a_stale_row_fresh()
    {
        var form = await FormAsync("T0", 14);
        await PostAsync("T0", 14, new(form, StringComparer.Ordinal) { ["v.2.note"] = "theirs" });
        form["v.2.note"] = "mine";
        var page = await (await PostAsync("T0", 14, new(form, StringComparer.Ordinal) { ["act"] = "photo" })).Content.ReadAsStringAsync();
        Assert.DoesNotContain("role=\"alert\"", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Conflict, (await PostAsync("T0", 14, PageForm.Fields(page, "id=\"entry\""))).StatusCode);
        Assert.Equal("theirs", PageForm.Fields(await desk.Client.GetStringAsync(Address("T0", 14)), "id=\"entry\"")["v.2.note"]);
    }

    [Fact]
    public async Task What_is_no_picture_is_not_kept()
    {
        var before = desk.File.Position;
        var answer = await SendPictureAsync("<html><script>alert(1)</script>"u8.ToArray(), "x.png");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Equal("typed before", PageForm.Fields(await answer.Content.ReadAsStringAsync(), "id=\"entry\"")["v.2.note"]);
        Assert.Equal(before, desk.File.Position);
        Assert.False(Directory.Exists(Path.Combine(desk.Folder, "season.db.media")) && Directory.EnumerateFiles(Path.Combine(desk.Folder, "season.db.media")).Any());
    }

    private async Task<HttpResponseMessage> SendPictureAsync(byte[] bytes, string name)
    {
        var form = await FormAsync("T0", 28);
        form["v.2.note"] = "typed before";
        form["act"] = "photo";
        using var content = new MultipartFormDataContent();
        foreach (var (field, value) in form) content.Add(new StringContent(value), field);
        content.Add(new ByteArrayContent(bytes), "picture", name);
        return await desk.Client.PostAsync(Address("T0", 28), content);
    }

    private Uri Address(string transect, int day)
    {
        var id = desk.File.States("small").Records.Single(r => r.Kind == "transects" && r.Field("transect")!.Value == transect).Id;
        return new Uri($"/enter/{id}?check={(day == 14 ? "14" : "28")}", UriKind.Relative);
    }

    private async Task<Dictionary<string, string>> FormAsync(string transect, int day) => PageForm.Fields(await desk.Client.GetStringAsync(Address(transect, day)), "id=\"entry\"");

    private Task<HttpResponseMessage> PostAsync(string transect, int day, Dictionary<string, string> form) => desk.Client.PostAsync(Address(transect, day), new FormUrlEncodedContent(form));

    /// <summary>What the changes of a record say, its transect left out.</summary>
    private string Said(Guid record) => string.Join(", ", desk.File.Changes(record).SelectMany(c => c.Fields).Where(f => f.Name != "transect").Select(f => f.Name + " " + f.Value));
}
