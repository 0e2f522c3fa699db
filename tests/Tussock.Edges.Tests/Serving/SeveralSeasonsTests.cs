// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Tussock.App.Serving.Desk;
using Tussock.Edges.Tests.Store;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Several seasons of one data file at the desk: each address says which it is of, and nothing of one moves another.</summary>
public sealed partial class SeveralSeasonsTests
{
    private static readonly DateTimeOffset Noon = new(2024, 7, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task An_old_address_goes_to_the_newest_and_every_way_from_a_page_stays_in_its_season()
    {
        await using var desk = Three();
        foreach (var (address, to) in ((string, string)[])[("/", "/season/2025/"), ("/worklist?severity=note", "/season/2025/worklist?severity=note"), ("/records/visits", "/season/2025/records/visits"), ("/map.json", "/season/2025/map.json")])
        {
            var answer = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
            Assert.Equal((HttpStatusCode.SeeOther, to), (answer.StatusCode, answer.Headers.Location!.ToString()));
        }

        foreach (var season in (string[])["2023", "2024", "2025"])
        {
            var (seen, open) = (new HashSet<string>(StringComparer.Ordinal), new Queue<string>(["/season/" + season + "/"]));
            while (open.TryDequeue(out var address) && seen.Count < 60)
            {
                if (!seen.Add(address)) continue;
                var text = await PageAsync(desk, address);
                foreach (Match way in Way().Matches(text))
                {
                    var to = WebUtility.HtmlDecode(way.Groups["to"].Value);
                    var isFree = to.StartsWith("/desk/", StringComparison.Ordinal) || to.StartsWith("/field/", StringComparison.Ordinal);
                    var isChoice = to.StartsWith("/season/", StringComparison.Ordinal) && way.Value.StartsWith("<a href", StringComparison.Ordinal) && SeasonAddress.Split(to).Key != season;
                    Assert.True(isFree || isChoice || to.StartsWith("/season/" + season + "/", StringComparison.Ordinal), address + " leads to " + to);
                    if (way.Value.StartsWith("<a href", StringComparison.Ordinal) && to.StartsWith("/season/" + season + "/", StringComparison.Ordinal)) open.Enqueue(to);
                }
            }

            Assert.True(seen.Count > 40, season + ": only " + seen.Count);
        }

        Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.GetAsync(new Uri("/season/1999/", UriKind.Relative))).StatusCode);
        Assert.Empty(desk.Faults);
    }

    [Fact]
    public async Task A_change_in_one_season_leaves_the_others_as_they_were()
    {
        await using var desk = Three();
        foreach (var season in (string[])["2023", "2025"]) await ReadyAsync(desk, season);
        var before = await PageAsync(desk, "/season/2023/results/survival");
        var visit = desk.File.States("2025").Records.First(r => r.Kind == "visits");
        var form = PageForm.Fields(await PageAsync(desk, "/season/2025/record/" + visit.Id));
        form["v.note"] = "looked again";
        var saved = await desk.Client.PostAsync(new Uri("/season/2025/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(form));
        Assert.Equal((HttpStatusCode.SeeOther, $"/season/2025/record/{visit.Id}?saved=yes"), (saved.StatusCode, saved.Headers.Location!.ToString()));

        // Nothing is being computed there: what stood before the change stands after it.
        using var state = JsonDocument.Parse(await PageAsync(desk, "/season/2023/desk/state"));
        Assert.Equal((desk.File.Position, desk.File.Position), (state.RootElement.GetProperty("position").GetInt64(), state.RootElement.GetProperty("answer").GetInt64()));
        var after = await PageAsync(desk, "/season/2023/results/survival");
        Assert.Equal(Plain(before), Plain(after));
        Assert.Contains("looked again", await PageAsync(desk, "/season/2025/records/visits?text=looked"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_writes_into_the_season_that_it_showed_and_into_no_other()
    {
        await using var desk = Three();
        var pasture = desk.File.States("2024").Records.First(r => r.Kind == "pastures");
        var visit = desk.File.States("2024").Records.First(r => r.Kind == "visits");
        var at = desk.File.Position;
        var form = PageForm.Fields(await PageAsync(desk, "/season/2024/record/" + visit.Id));
        form["v.note"] = "moved over";
        // The record of one season is none of another's, and without a season nothing says which is meant.
        Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.PostAsync(new Uri("/season/2025/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(form))).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await desk.Client.PostAsync(new Uri("/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(form))).StatusCode);
        var boundary = PageForm.Fields(await PageAsync(desk, "/season/2024/boundary/" + pasture.Id), "class=\"boundary\"");
        Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.PostAsync(new Uri("/season/2025/boundary/" + pasture.Id, UriKind.Relative), new FormUrlEncodedContent(boundary))).StatusCode);
        Assert.Equal(at, desk.File.Position);

        // Stale in the season that it showed: both values, nothing lost.
        desk.File.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange(FieldName.OfColumn("note"), "somebody else's", visit.Field(FieldName.OfColumn("note"))?.HeadIds ?? [])])], "crew 2", Noon);
        var stale = await desk.Client.PostAsync(new Uri("/season/2024/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(form));
        Assert.Equal(HttpStatusCode.Conflict, stale.StatusCode);
        Assert.Contains("somebody else", WebUtility.HtmlDecode(await stale.Content.ReadAsStringAsync()), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_season_has_no_season_in_its_addresses_and_its_open_forms_survive_a_second_one()
    {
        await using var desk = new RunningDesk();
        var visit = desk.File.States("small").Records.First(r => r.Kind == "visits");
        var page = await PageAsync(desk, "/record/" + visit.Id);
        Assert.DoesNotContain("/season/", page, StringComparison.Ordinal);
        Assert.DoesNotContain("class=\"seasons\"", page, StringComparison.Ordinal);
        var form = PageForm.Fields(page);
        DataFile.OpenToWrite(desk.File.Beside("")).Import(new ImportRequest { Season = Of("2031"), By = "Ann", Now = DateTimeOffset.UnixEpoch });
        form["v.note"] = "typed before";
        Assert.Equal(HttpStatusCode.SeeOther, (await desk.Client.PostAsync(new Uri("/record/" + visit.Id, UriKind.Relative), new FormUrlEncodedContent(form))).StatusCode);
        Assert.Contains("typed before", await PageAsync(desk, "/season/small/records/visits?text=typed"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_not_asked_for_the_longest_is_let_go_and_comes_back_when_it_is()
    {
        await using var desk = new RunningDesk([Of("2023"), Of("2024"), Of("2025")], isLoopbackOnly: true, null, null, mostRows: 1);
        foreach (var season in (string[])["2023", "2024", "2025", "2023"])
        {
            await ReadyAsync(desk, season);
            Assert.Equal(1, desk.Desks.Kept);
            Assert.Contains("<h1>", await PageAsync(desk, $"/season/{season}/results/survival"), StringComparison.Ordinal);
        }

        await using var roomy = Three();
        foreach (var season in (string[])["2023", "2024", "2025"]) await ReadyAsync(roomy, season);
        Assert.Equal(3, roomy.Desks.Kept);
        Assert.Empty(desk.Faults);
    }

    [Fact]
    public async Task The_years_together_can_be_taken_away_as_pictures_and_numbers()
    {
        await using var desk = Three();
        const string Address = "/season/2024/years/together";
        var page = await PageAsync(desk, Address);
        for (var n = 0; n < 600 && !page.Contains("numbers.csv", StringComparison.Ordinal); n++)
        {
            await Task.Delay(50);
            page = await PageAsync(desk, Address);
        }

        var pictures = Picture().Matches(page).Select(m => m.Groups["way"].Value).ToArray();
        Assert.Contains("href=\"" + Address + "/numbers.csv\"", page, StringComparison.Ordinal);
        Assert.True(pictures.Length > 1);
        foreach (var picture in pictures) Assert.Equal("svg", System.Xml.Linq.XDocument.Parse(await PageAsync(desk, picture)).Root!.Name.LocalName);
        var rows = (await PageAsync(desk, Address + "/numbers.csv")).TrimEnd().ReplaceLineEndings("\n").Split('\n');
        Assert.Equal("level,property,pasture,year,lines,whole,known,share_whole,low,high,why_none", rows[0]);
        // All, three years, and each pasture in each of them.
        Assert.Equal(1 + 1 + 3 + (3 * rows.Count(r => r.StartsWith("pasture and year", StringComparison.Ordinal) && r.Contains(",2023,", StringComparison.Ordinal))), rows.Length);
        foreach (var wrong in (string[])["0.svg", "99.svg", "1.png", "x", "..%2F..%2Fseason.db", "numbers.csv/x"]) Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.GetAsync(new Uri(Address + "/" + wrong, UriKind.Relative))).StatusCode);
        Assert.Empty(desk.Faults);
    }

    [Fact]
    public async Task A_phone_chooses_its_season_once_and_keeps_it()
    {
        await using var desk = Three();
        var asked = await RunningDesk.JsonAsync(await desk.PostAsync("pair", new JsonObject { ["code"] = "", ["name"] = "crew 1's phone", ["season"] = "" }));
        var choices = asked.GetProperty("choose").EnumerateArray().Select(c => (c.GetProperty("name").GetString(), c.GetProperty("id").GetString())).ToArray();
        Assert.Equal(["2025", "2024", "2023"], choices.Select(c => c.Item1));
        Assert.False(asked.TryGetProperty("key", out _));
        var paired = await RunningDesk.JsonAsync(await desk.PostAsync("pair", new JsonObject { ["code"] = "", ["name"] = "crew 1's phone", ["season"] = choices[1].Item2 }));
        Assert.Equal(choices[1].Item2, paired.GetProperty("season").GetString());
        desk.Client.DefaultRequestHeaders.Authorization = new("Bearer", paired.GetProperty("key").GetString());
        using var bundle = JsonDocument.Parse(await PageAsync(desk, "/field/api/bundle"));
        Assert.Equal("2024", bundle.RootElement.GetProperty("season").GetProperty("name").GetString());
        // An app from before there were several goes with the newest.
        Assert.Equal(choices[0].Item2, (await RunningDesk.JsonAsync(await desk.PostAsync("pair", new JsonObject { ["code"] = "", ["name"] = "x" }))).GetProperty("season").GetString());
        Assert.Equal(choices[2].Item2, (await RunningDesk.JsonAsync(await desk.PostAsync("pair", new JsonObject { ["code"] = "", ["name"] = "x", ["season"] = choices[2].Item2 }))).GetProperty("season").GetString());
    }

    [Fact]
    public async Task Without_a_code_no_stranger_learns_which_seasons_there_are()
    {
        await using var desk = new RunningDesk([Of("2023"), Of("2024")], isLoopbackOnly: false, null, null, 1000);
        var code = desk.Code.Next();
        var told = await desk.PostAsync("pair", new JsonObject { ["code"] = "00000000" == code ? "00000001" : "00000000", ["name"] = "x", ["season"] = "" });
        Assert.DoesNotContain("2023", await told.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.False(told.IsSuccessStatusCode);
    }

    [Theory]
    [InlineData("/", null, "/")]
    [InlineData("/season/2025", "2025", "/")]
    [InlineData("/season/2025/", "2025", "/")]
    [InlineData("/season/2025/records/visits", "2025", "/records/visits")]
    [InlineData("/season/2025//records", "2025", "//records")]
    [InlineData("/season//records", null, "/season//records")]
    [InlineData("/seasons/x", null, "/seasons/x")]
    public void An_address_is_split_in_season_and_page(string address, string? key, string path) => Assert.Equal((key, path), SeasonAddress.Split(address));

    [Fact]
    public void What_leads_away_gets_the_season_and_what_somebody_wrote_does_not()
    {
        const string Page = "<a href=\"/records\">href=&quot;/x</a><link href=\"/desk/desk.css\"><form action=\"/map\"></form><a href=\"/season/b/\"></a><a href=\"#x\"></a><div data-text=\"/map.json\" title=\"/x\"><img src=\"/photos/1\">";
        Assert.Equal(Page.Replace("\"/records", "\"/season/a/records", StringComparison.Ordinal).Replace("\"/map", "\"/season/a/map", StringComparison.Ordinal).Replace("\"/photos", "\"/season/a/photos", StringComparison.Ordinal), SeasonAddress.Prefixed(Page, "/season/a"));
    }

    private static RunningDesk Three() => new([Of("2023"), Of("2024"), Of("2025")], isLoopbackOnly: true, null, null, 400_000);

    /// <summary>The invented season under another name and year; its records get ids of that season.</summary>
    private static SeasonTables Of(string name)
    {
        var season = PlainFolder.Invented(name, 12);
        return season with { Package = season.Package with { Season = [.. season.Package.Season.Where(p => p.Name != "year"), new Tussock.Records.JsonProperty("year", "\"" + name + "\"")] } };
    }

    private static Task<string> PageAsync(RunningDesk desk, string address) => desk.Client.GetStringAsync(new Uri(address, UriKind.Relative));

    private static string Plain(string page) => Changing().Replace(page, "");

    private static async Task ReadyAsync(RunningDesk desk, string season)
    {
        for (var n = 0; n < 600; n++)
        {
            using var state = JsonDocument.Parse(await PageAsync(desk, $"/season/{season}/desk/state"));
            if (state.RootElement.GetProperty("position").GetInt64() == state.RootElement.GetProperty("answer").GetInt64()) return;
            await PageAsync(desk, $"/season/{season}/quick");
            await Task.Delay(50);
        }

        Assert.Fail("the answer never came");
    }

    [GeneratedRegex("href=\"(?<way>[^\"]+/together/[0-9]+[.]svg)\"")]
    private static partial Regex Picture();

    [GeneratedRegex("(?:<a href|href|src|action|data-text)=\"(?<to>/[^\"]*)\"")]
    private static partial Regex Way();

    /// <summary>Tokens against forgery, and the position that the whole file stands at.</summary>
    [GeneratedRegex("value=\"CfDJ8[^\"]*\"|data-(position|answer)=\"[0-9]+\"|change [0-9,]+")]
    private static partial Regex Changing();
}
