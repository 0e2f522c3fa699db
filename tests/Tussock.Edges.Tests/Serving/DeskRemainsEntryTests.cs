// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Store;
using Tussock.Evidence;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Remains sheets typed from paper: a lost nest is a block of the form and a record for each sign that was looked for; an empty box is no record.</summary>
public sealed class DeskRemainsEntryTests : IAsyncDisposable
{
    /// <summary>Line T0: nest 1 was found eaten on 2024-05-20, nest 4 on 2024-06-03. Of nest 5 of line T1 two signs were read, in the spelling of a file.</summary>
    private readonly RunningDesk desk = new(Season(), isLoopbackOnly: true, null, null);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task Each_sign_that_is_ticked_becomes_a_record_and_the_others_none()
    {
        var form = await FormAsync("T0");
        Assert.Equal(["1", "4"], form.Keys.Where(k => k.EndsWith("-shell_present.value", StringComparison.Ordinal)).Select(k => k["v.".Length..k.IndexOf('-', StringComparison.Ordinal)]));
        Assert.Equal(SignCatalogue.Standard.Signs.Select(s => s.Sign), form.Keys.Where(k => k.StartsWith("v.4-", StringComparison.Ordinal) && k.EndsWith(".value", StringComparison.Ordinal)).Select(k => k["v.4-".Length..^".value".Length]));
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-edges.value"], form["v.1-tracks.value"], form["v.1-eggs_missing.value"]) = ("f", "Ragged", "a", "2");
        (form["v.1.photos"], form["v.1.crew_guess"], form["v.1-visit.note"]) = ("12", "s", "ants on the yolk");
        (form["v.4-shell_present.value"], form["v.4-bowl.value"], form["v.4.visited_on"]) = ("\"", "-", "2024-06-03");
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", form)).StatusCode);
        var written = desk.File.Since(before);
        Assert.Single(written.Select(c => c.Batch).Distinct());
        Assert.All(written, c => Assert.Equal(("crew 1", "sheet-remains"), (c.By, c.Source)));
        Assert.Equal(
            [
                "nest 1, sign shell_present, value few pieces, photos 12, crew_guess skunk, visited_on 2024-05-21, observer crew 2", "nest 1, sign edges, value ragged, photos 12, crew_guess skunk, visited_on 2024-05-21, observer crew 2",
                "nest 1, sign tracks, value absent, photos 12, crew_guess skunk, visited_on 2024-05-21, observer crew 2", "nest 1, sign eggs_missing, value 2, photos 12, crew_guess skunk, visited_on 2024-05-21, observer crew 2",
                "note ants on the yolk", "nest 4, sign shell_present, value few pieces, visited_on 2024-06-03, observer crew 2",
            ],
            written.Select(c => string.Join(", ", c.Fields.Where(f => f.Name != "transect").Select(f => f.Name + " " + f.Value))));
        Assert.Equal("visits", written[4].Kind);
        var season = SeasonReading.Read(desk.File.Tables("small"), out _)!;
        Assert.Equal(4, season.Remains.Count(r => r.Nest.Transect.Name == "T0" && SignCatalogue.Standard.Find(r.Sign, r.Value) is not null));
        var again = await FormAsync("T0");
        Assert.Equal(("few pieces", "absent", "", "2", "skunk", "2024-05-21", "ants on the yolk"), (again["v.1-shell_present.value"], again["v.1-tracks.value"], again["v.1-scat.value"], again["v.1-eggs_missing.value"], again["v.1.crew_guess"], again["v.1.visited_on"], again["v.1-visit.note"]));
    }

    [Fact]
    public async Task Sent_twice_at_once_and_again_writes_once_and_what_is_added_later_belongs_to_the_same_day()
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-scat.value"], form["v.1.crew_guess"], form["v.1-visit.note"]) = ("n", "p", "fox", "seen late");
        var before = desk.File.Position;
        var answers = await Task.WhenAll(PostAsync("T0", form), PostAsync("T0", form));
        Assert.All(answers, a => Assert.Equal(HttpStatusCode.SeeOther, a.StatusCode));
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", form)).StatusCode);
        Assert.Equal(3, desk.File.Since(before).Length);

        var later = await FormAsync("T0");
        later["v.1-hair.value"] = "a";
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", later)).StatusCode);
        var added = desk.File.Since(before);
        Assert.Equal(4, added.Length);
        Assert.Equal("transect T0, nest 1, sign hair, value absent, crew_guess fox, visited_on 2024-05-21", string.Join(", ", added[3].Fields.Select(f => f.Name + " " + f.Value)));
    }

    [Theory]
    [InlineData("v.1-edges.value", "x", "c-1-edges-value", "n = neat")]
    [InlineData("v.1-edges.value", "<script>alert(1)</script>", "c-1-edges-value", "n = neat")]
    [InlineData("v.1-eggs_missing.value", "three", "c-1-eggs_missing-value", "a number")]
    [InlineData("v.1-tooth_gap_mm.value", "2,5", "c-1-tooth_gap_mm-value", "decimal point")]
    [InlineData("v.1.visited_on", "6 May", "c-1-visited_on", "year-month-day")]
    [InlineData("d.visited_on", "", "h-visited_on", "year-month-day")]
    [InlineData("v.4.crew_guess", "fox", "c-4-shell_present-value", "no sign is ticked")]
    public async Task A_typo_is_told_where_it_is_made_and_nothing_is_written(string box, string text, string at, string told)
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-visit.note"]) = ("m", "<b>here</b>");
        form[box] = text;
        var before = desk.File.Position;
        var answer = await PostAsync("T0", form);
        var page = await answer.Content.ReadAsStringAsync();
        Assert.Equal((HttpStatusCode.Conflict, before), (answer.StatusCode, desk.File.Position));
        Assert.Matches("id=\"t-" + at + "\">[^<]*" + Regex.Escape(told), page);
        Assert.DoesNotContain("<b>here", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>alert", page, StringComparison.Ordinal);
        var again = PageForm.Fields(page, "id=\"entry\"");
        Assert.Equal((text, "m", "<b>here</b>"), (again[box], again["v.1-shell_present.value"], again["v.1-visit.note"]));
    }

    [Theory]
    [InlineData("2024-05-19", "before this nest was found lost")]
    [InlineData("2023-05-21", "another year")]
    [InlineData("2099-05-21", "still to come")]
    public async Task An_odd_date_needs_a_second_press(string date, string told)
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["d.visited_on"], form["v.1-shell_present.value"]) = (date, "n");
        var before = desk.File.Position;
        var page = await (await PostAsync("T0", form)).Content.ReadAsStringAsync();
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", PageForm.Fields(page, "id=\"entry\""))).StatusCode);
        Assert.Single(desk.File.Since(before));
    }

    [Fact]
    public async Task A_sign_is_edited_and_what_others_wrote_meanwhile_is_shown_first()
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-edges.value"]) = ("f", "n");
        await PostAsync("T0", form);
        var mine = await FormAsync("T0");
        var theirs = new Dictionary<string, string>(mine, StringComparer.Ordinal) { ["v.1-edges.value"] = "ragged" };
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", theirs)).StatusCode);
        (mine["v.1-edges.value"], mine["v.1-shell_present.value"], mine["v.1.photos"]) = ("c", "", "7");
        var before = desk.File.Position;
        var page = await (await PostAsync("T0", mine)).Content.ReadAsStringAsync();
        Assert.Equal(before, desk.File.Position);
        Assert.Matches("id=\"t-c-1-edges-value\">[^<]*neat[^<]*ragged[^<]*crushed", page);

        // What was ticked by mistake is emptied: the sign is not looked for again, and its history stays.
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", PageForm.Fields(page, "id=\"entry\""))).StatusCode);
        Assert.Equal(["value , photos 7", "value crushed, photos 7"], desk.File.Since(before).Select(c => string.Join(", ", c.Fields.Select(f => f.Name + " " + f.Value))));
        Assert.Equal(("", "crushed", "7"), ((await FormAsync("T0"))["v.1-shell_present.value"], (await FormAsync("T0"))["v.1-edges.value"], (await FormAsync("T0"))["v.1.photos"]));
    }

    [Fact]
    public async Task Rows_of_a_file_keep_their_spelling_and_what_each_says_alone()
    {
        var form = await FormAsync("T1");
        Assert.Equal(("few pieces", "present", "3"), (form["v.5-shell_present.value"], form["v.5-tracks.value"], form["v.5.photos"]));
        Assert.False(form.ContainsKey("v.5.crew_guess"));
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T1", form)).StatusCode);
        Assert.Equal(before, desk.File.Position);
        form["v.5.photos"] = "4";
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T1", form)).StatusCode);
        Assert.Equal(["photos 4"], desk.File.Since(before).Select(c => string.Join(", ", c.Fields.Select(f => f.Name + " " + f.Value))));
    }

    [Fact]
    public async Task A_nest_that_was_typed_is_written_though_somebody_found_it_whole_meanwhile()
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["v.4-shell_present.value"], form["v.4-visit.note"]) = ("n", "which of us is right?");
        var visit = desk.File.States("small").Records.Single(r => r.Kind == "visits" && r.Field("transect")!.Value == "T0" && r.Field("nest")!.Value == "4" && r.Field("visited_on")!.Value == "2024-06-03");
        var record = PageForm.Fields(await desk.Client.GetStringAsync(new Uri("/record/" + visit.Id, UriKind.Relative)));
        record["v.finding"] = "intact";
        Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(new Uri("/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(record))).StatusCode);
        await desk.OpenSheetsAsync();
        Assert.DoesNotContain("v.4-shell_present.value", (await FormAsync("T0")).Keys);
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", form)).StatusCode);
        Assert.Equal(["remains", "visits"], desk.File.Since(before).Select(c => c.Kind));
    }

    [Fact]
    public async Task A_second_entry_is_blind_and_differs_where_it_differs()
    {
        var form = await FormAsync("T0");
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-edges.value"]) = ("f", "n");
        await PostAsync("T0", form);
        var blind = await desk.Client.GetStringAsync(new Uri(Address("T0") + "&again=yes", UriKind.Relative));
        var second = PageForm.Fields(blind, "id=\"entry\"");
        Assert.Equal("", second["v.1-edges.value"]);
        Head(second);
        (second["v.1-shell_present.value"], second["v.1-edges.value"], second["v.1-hair.value"]) = ("f", "r", "p");
        var before = desk.File.Position;
        var page = await (await desk.Client.PostAsync(new Uri(Address("T0") + "&again=yes", UriKind.Relative), new FormUrlEncodedContent(second))).Content.ReadAsStringAsync();
        Assert.Equal(["s.1-edges.value", "s.1-hair."], Regex.Matches(page, "type=\"radio\" name=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Distinct());
        var decision = PageForm.Fields(page, "class=\"entry\"");
        (decision["s.1-edges.value"], decision["s.1-hair."]) = ("second", "second");
        var decide = new Uri(Address("T0").ToString().Replace("?", "/decide?", StringComparison.Ordinal), UriKind.Relative);
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(decide, new FormUrlEncodedContent(decision))).StatusCode);
        Assert.Equal(["ragged", "present"], desk.File.Since(before).Select(c => c.Fields.Single(f => f.Name == "value").Value));
    }

    [Fact]
    public async Task A_sheet_is_due_while_a_nest_found_eaten_has_no_remains()
    {
        var open = await desk.OpenSheetsAsync();
        Assert.Matches("T0: remains.*?0 of 2", open);
        Assert.Matches("T1: remains.*?1 of 2", open);
        var form = await FormAsync("T0");
        Head(form);
        (form["v.1-shell_present.value"], form["v.4-shell_present.value"], form["v.4.visited_on"]) = ("n", "n", "2024-06-04");
        await PostAsync("T0", form);
        Assert.DoesNotContain("T0: remains", await desk.OpenSheetsAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_old_season_of_which_no_remains_were_read_waits_for_none()
    {
        await using var old = new RunningDesk(PlainFolder.Invented("small", 12), isLoopbackOnly: true, null, null);
        Assert.DoesNotContain("remains=yes", await old.OpenSheetsAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_sheet_speaks_both_languages_and_takes_the_letters_of_each()
    {
        desk.Client.DefaultRequestHeaders.Add("Cookie", "language=es");
        var page = await desk.Client.GetStringAsync(Address("T0"));
        Assert.Contains("T0: restos", page, StringComparison.Ordinal);
        Assert.Contains("no se buscó", WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        var form = PageForm.Fields(page, "id=\"entry\"");
        Head(form);
        (form["v.1-shell_present.value"], form["v.1-rooting.value"], form["v.1-edges.value"]) = ("p", "si", "dentados");
        var before = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("T0", form)).StatusCode);
        Assert.Equal(["few pieces", "ragged", "yes"], desk.File.Since(before).Select(c => c.Fields.Single(f => f.Name == "value").Value));
        Assert.Equal("dentados", PageForm.Fields(await desk.Client.GetStringAsync(Address("T0")), "id=\"entry\"")["v.1-edges.value"]);
    }

    private static void Head(Dictionary<string, string> form) => (form["d.visited_on"], form["d.observer"]) = ("2024-05-21", "crew 2");

    private static SeasonTables Season()
    {
        var season = PlainFolder.Invented("small", 12);
        var remains = PlainFolder.Table(RecordKind.Remains, "transect,nest,visited_on,sign,value,photos,crew_guess\nT1,5,2024-06-03,shell_present,few_pieces,3,fox\nT1,5,2024-06-03,Tracks,Present,,skunk\n");
        return season with { Tables = season.Tables.Add(remains) };
    }

    private Uri Address(string transect) => new($"/enter/{desk.File.States("small").Records.Single(r => r.Kind == "transects" && r.Field("transect")!.Value == transect).Id}?remains=yes", UriKind.Relative);

    private async Task<Dictionary<string, string>> FormAsync(string transect) => PageForm.Fields(await desk.Client.GetStringAsync(Address(transect)), "id=\"entry\"");

    private Task<HttpResponseMessage> PostAsync(string transect, Dictionary<string, string> form) => desk.Client.PostAsync(Address(transect), new FormUrlEncodedContent(form));
}
