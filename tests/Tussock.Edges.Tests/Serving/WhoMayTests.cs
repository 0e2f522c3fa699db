// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.RegularExpressions;
using Tussock.App.Serving.People;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Every address of the desk, tried by everybody. A new row in the table of the desk fails here until somebody has written down what it must answer to whom.</summary>
public sealed partial class WhoMayTests : IAsyncLifetime
{
    /// <summary>What must come of it, for: a stranger, the landowner of another property, the landowner, a reviewer, crew, the lead. D: shown the door; N: no such page; M: told that they may not; I: let in.</summary>
    private static readonly (string Row, string Expected)[] Table =
    [
        ("GET /", "DIIIII"),
        ("GET /desk/state", "DIIIII"),
        ("GET /desk/{}", "IIIIII"),
        ("POST /language", "IIIIII"),
        ("POST /units", "IIIIII"),
        ("GET /worklist", "DNNIII"),
        ("GET /map", "DNNIII"),
        ("GET /map.json", "DNNIII"),
        ("GET /map/search.json", "DNNIII"),
        ("POST /map/files", "DNNMII"),
        ("POST /map/take", "DNNMII"),
        ("GET /boundary/{}", "DNNIII"),
        ("POST /boundary/{}", "DNNMII"),
        ("GET /records/{}", "DNNIII"),
        ("GET /record/{}", "DNNIII"),
        ("POST /record/{}", "DNNMII"),
        ("POST /record/{}/undo", "DNNMII"),
        ("POST /record/{}/void", "DNNMII"),
        ("GET /photos/{}", "DNNIII"),
        ("GET /photos/{}/small", "DNNIII"),
        ("GET /photos/{}/large", "DNNIII"),
        ("GET /enter", "DNNMII"),
        ("GET /enter/{}", "DNNMII"),
        ("POST /enter/{}", "DNNMII"),
        ("POST /enter/{}/decide", "DNNMII"),
        ("GET /results", "DNNIII"),
        ("GET /results/{}", "DNNIII"),
        ("GET /results/{}/{}", "DNNIII"),
        ("GET /why/{}", "DNNIII"),
        ("GET /why/pasture/{}", "DNNIII"),
        ("GET /reports", "DNNIII"),
        ("GET /reports/compare", "DNNIII"),
        ("POST /reports/make", "DNNMII"),
        ("GET /reports/{}/{}", "DNNIII"),
        ("GET /years", "DNNIII"),
        ("GET /years/actions", "DNNIII"),
        ("GET /years/network", "DNNIII"),
        ("GET /years/paper", "DNNIII"),
        ("GET /years/together", "DNNIII"),
        ("GET /years/together/{}", "DNNIII"),
        ("GET /backup", "DNNMMI"),
        ("POST /backup", "DNNMMI"),
        ("GET /old", "DNNMII"),
        ("POST /old/read", "DNNMII"),
        ("POST /old/look", "DNNMII"),
        ("POST /old/take", "DNNMII"),
        ("GET /quick", "DNNIII"),
        ("GET /plan", "DNNIII"),
        ("GET /plan/{}", "DNNIII"),
        ("POST /plan/lines", "DNNMII"),
        ("POST /plan/practice/open", "DNNIII"),
        ("POST /plan/practice/forget", "DNNIII"),
        ("GET /cases", "DNNMMI"),
        ("POST /cases", "DNNMMI"),
        ("GET /sheets", "DNNIII"),
        ("GET /sheets/{}", "DNNIII"),
        ("GET /own/{}", "DNIMMM"),
        ("GET /sign-in", "IIIIII"),
        ("POST /sign-in", "IIIIII"),
        ("POST /sign-in/passkey", "IIIIII"),
        ("POST /sign-in/passkey/ask", "IIIIII"),
        ("POST /sign-out", "DIIIII"),
        ("GET /password", "DIIIII"),
        ("POST /password", "DIIIII"),
        ("POST /password/passkey", "DIIIII"),
        ("POST /password/passkey/ask", "DIIIII"),
        ("POST /password/passkey/forget", "DIIIII"),
        ("GET /people", "DNNMMI"),
        ("POST /people/add", "DNNMMI"),
        ("POST /people/change", "DNNMMI"),
        ("POST /people/remove", "DNNMMI"),
        ("POST /people/password", "DNNMMI"),
    ];

    private readonly NetworkDesk desk = new();
    /// <summary>What stands where a route has any part, by the beginning of the route.</summary>
    private readonly Dictionary<string, string> samples = new(StringComparer.Ordinal);
    private HttpClient[] visitors = [];

    public async ValueTask InitializeAsync()
    {
        var clients = new List<HttpClient> { desk.Stranger() };
        foreach (var name in NetworkDesk.Names) clients.Add(await desk.SignedInAsync(name));
        visitors = [.. clients];
        await NetworkDesk.ReadyAsync(visitors[2], "/");
        var records = desk.File.States(desk.Desk.Season.Name).Records;
        using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(64, 48));
        using var image = surface.Snapshot();
        using var png = image.Encode();
        var lead = visitors[5];
        await NetworkDesk.ReadyAsync(lead, "/");
        for (var n = 0; n < 2; n++) Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(lead, "/reports/make", await NetworkDesk.TokenAsync(lead, "/reports"))).StatusCode);
        var reports = await lead.GetStringAsync(new Uri("/reports", UriKind.Relative));
        var (pasture, visit, photo) = (records.First(r => r.Kind == "pastures").Id, records.First(r => r.Kind == "visits").Id, desk.Desk.Media.Keep(png.AsSpan())!);
        samples["/desk/{}"] = "/desk/desk.css";
        samples["/boundary/{}"] = "/boundary/" + pasture;
        samples["/records/{}"] = "/records/nests";
        samples["/plan/{}"] = "/plan/lines";
        samples["/record/{}"] = "/record/" + visit;
        samples["/photos/{}"] = "/photos/" + photo;
        samples["/results/{}/{}"] = "/results/curve/numbers.csv";
        samples["/results/{}"] = "/results/curve";
        samples["/why/pasture/{}"] = "/why/pasture/" + pasture;
        samples["/why/{}"] = "/why/counted-share";
        samples["/reports/{}/{}"] = ReportName().Match(reports).Groups["it"].Value;
        samples["/reports/compare"] = "/reports/compare?first=" + samples["/reports/{}/{}"].Split('/')[2] + "&second=" + samples["/reports/{}/{}"].Split('/')[2];
        samples["/years/paper"] = "/years/paper?property=Two%20Windmills";
        samples["/years/together/{}"] = "/years/together/numbers.csv";
        samples["/sheets/{}"] = SheetName().Match(await lead.GetStringAsync(new Uri("/sheets", UriKind.Relative))).Groups["it"].Value;
        samples["/enter/{}"] = "/enter/" + records.First(r => r.Kind == "transects").Id + "?check=14";
        samples["/enter/{}/decide"] = samples["/enter/{}"].Replace("?", "/decide?", StringComparison.Ordinal);
        samples["/own/{}"] = "/own/landowner-two-windmills";
    }

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public void The_table_of_this_test_has_every_row_of_the_desk() => Assert.Equal(WhoMay.Rows.Select(r => r.Method + " " + r.Route), Table.Select(t => t.Row));

    [Fact]
    public async Task Every_address_answers_everybody_as_the_table_says()
    {
        var wrong = new List<string>();
        // Signing out comes last: nobody would be signed in after it.
        foreach (var (row, expected) in Table.OrderBy(t => t.Row == "POST /sign-out"))
        {
            for (var v = 0; v < visitors.Length; v++)
            {
                var (answer, body) = await AskAsync(visitors[v], row);
                var found = Class(answer, body, row);
                if (found != expected[v]) wrong.Add($"{row} for {(v == 0 ? "a stranger" : NetworkDesk.Names[v - 1])}: expected {expected[v]}, found {found} ({(int)answer.StatusCode})");
                if (!answer.Headers.TryGetValues("Content-Security-Policy", out var policy) || policy.Single().Contains("unsafe-eval", StringComparison.Ordinal)) wrong.Add(row + " has no policy");
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.Empty(desk.Desk.Faults);
    }

    [Fact]
    public async Task An_address_without_a_row_is_nobodys()
    {
        string[] rows = ["GET /records", "GET /map//", "GET /Map", "GET /map/files", "GET /record/{}/void", "POST /", "PUT /map", "DELETE /record/{}", "OPTIONS /map.json", "PATCH /people", "GET /entry", "GET /.tls/root.pfx", "GET /season.db", "GET /people/add"];
        foreach (var row in rows)
        {
            foreach (var visitor in visitors)
            {
                var (answer, body) = await AskAsync(visitor, row);
                Assert.Equal((row, visitor == visitors[0] ? 'D' : 'N'), (row, Class(answer, body, row)));
            }
        }
    }

    [Fact]
    public async Task No_spelling_of_an_address_gets_a_stranger_or_a_landowner_in()
    {
        string[] addresses =
        [
            "/desk/../map.json", "/desk/%2e%2e/map.json", "/desk/..%2fmap.json", "/desk/%2e%2e%2fmap.json", "/desk/desk.css/../../map.json", "/desk//../map.json", "/desk/..\\map.json", "/%6dap.json", "/map%2ejson", "/map.json/", "/map.json?x=/desk/desk.css", "/map.json#/desk/desk.css", "/sign-in/../map.json", "/field/../map.json", "/field/%2e%2e/map.json", "/desk/../../season.db", "/photos/../season.db", "//map.json", "/map//search.json",
        ];
        foreach (var address in addresses)
        {
            foreach (var visitor in visitors.Take(3))
            {
                var answer = await visitor.GetAsync(new Uri(desk.Desk.Address.ToString().TrimEnd('/') + address, new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true }));
                var body = await answer.Content.ReadAsStringAsync();
                Assert.True(answer.StatusCode is HttpStatusCode.SeeOther or HttpStatusCode.NotFound or HttpStatusCode.BadRequest or HttpStatusCode.Unauthorized, address + ": " + answer.StatusCode);
                Assert.DoesNotContain("\"nests\"", body, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public async Task Every_way_that_a_page_shows_the_lead_leads_somewhere()
    {
        var lead = visitors[5];
        var (seen, open) = (new HashSet<string>(StringComparer.Ordinal) { "/" }, new Queue<string>(["/"]));
        var kinds = new Dictionary<string, int>(StringComparer.Ordinal);
        while (open.TryDequeue(out var address))
        {
            var answer = await NetworkDesk.GetAsync(lead, address);
            var body = await answer.Content.ReadAsStringAsync();
            Assert.True(answer.StatusCode == HttpStatusCode.OK, address + ": " + (int)answer.StatusCode);
            foreach (Match way in Way().Matches(body))
            {
                var to = WebUtility.HtmlDecode(way.Groups["to"].Value).Split('#')[0];
                var isForm = way.Groups["method"].Value == "post";
                var row = WhoMay.Named(isForm ? "POST" : "GET", to.Split('?')[0]);
                Assert.True(row != "–" || to.StartsWith("/field/", StringComparison.Ordinal), address + " shows " + to);
                kinds[row] = kinds.GetValueOrDefault(row) + 1;
                if (!isForm && way.Groups["method"].Length == 0 && row != "–" && kinds[row] <= 15 && seen.Add(to)) open.Enqueue(to);
            }
        }

        Assert.True(seen.Count > 30, seen.Count.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    [Fact]
    public async Task A_form_that_none_of_a_persons_own_pages_made_does_nothing()
    {
        var others = await NetworkDesk.TokenAsync(visitors[4], "/password");
        var (position, people, book) = (desk.File.Position, desk.File.People(), desk.File.Book(100).Length);
        foreach (var (method, route, _) in WhoMay.Rows.Where(r => r.Method == "POST" && r.Route != "/sign-in"))
        {
            foreach (var token in (string[])["", "forged", others, others[..^3] + "AAA"])
            {
                var answer = await NetworkDesk.PostAsync(visitors[5], Address(route), token, ("name", "new"), ("role", "lead"), ("password", NetworkDesk.Password), ("id", desk.File.People()[0].Id.ToString()), ("v.note", "forged"), ("void", "yes"));
                Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
            }

            using var fromElsewhere = new HttpRequestMessage(HttpMethod.Post, Address(route)) { Content = new FormUrlEncodedContent([]) };
            fromElsewhere.Headers.Add("Origin", "https://elsewhere.test");
            Assert.Equal(HttpStatusCode.Forbidden, (await visitors[5].SendAsync(fromElsewhere)).StatusCode);
        }

        Assert.Equal((position, book), (desk.File.Position, desk.File.Book(100).Length));
        Assert.Equal(people.Select(p => (p.Name, p.Role)), desk.File.People().Select(p => (p.Name, p.Role)));
    }

    [Fact]
    public async Task What_somebody_changes_stands_under_the_name_that_signed_in_and_a_reviewer_is_shown_no_buttons()
    {
        var record = Guid.Parse(samples["/record/{}"]["/record/".Length..]);
        var page = await visitors[4].GetStringAsync(new Uri("/record/" + record, UriKind.Relative));
        Assert.Contains("class=\"main\"", page, StringComparison.Ordinal);
        var answer = await NetworkDesk.PostAsync(visitors[4], "/record/" + record + "/void", await NetworkDesk.TokenAsync(visitors[4], "/password"), ("void", "yes"));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Equal("crew 1", desk.File.Changes(record)[^1].By);
        foreach (var address in new[] { "/record/" + record, "/map", samples["/boundary/{}"] })
        {
            var shown = await visitors[3].GetStringAsync(new Uri(address, UriKind.Relative));
            Assert.Equal(3, Forms().Count(shown) - (address.StartsWith("/record/", StringComparison.Ordinal) || address.StartsWith("/boundary/", StringComparison.Ordinal) ? 1 : 0));
            Assert.DoesNotContain("class=\"main\"", shown, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Nobody_but_the_lead_says_on_a_record_that_a_photo_may_be_shown_to_people_who_practise()
    {
        var id = Guid.CreateVersion7();
        desk.File.Write(desk.Desk.Season.Id, [new Tussock.Journal.Draft("media", id, Tussock.Journal.ChangeOp.Create, [new("media", "a", []), new("note", "x", [])])], "crew 1", DateTimeOffset.UtcNow);
        async Task<HttpStatusCode> Say(HttpClient who, string column) => (await NetworkDesk.PostAsync(who, "/record/" + id, await NetworkDesk.TokenAsync(who, "/password"), ("v." + column, "yes"), ("w." + column, ""), ("h." + column, ""))).StatusCode;
        Assert.Equal(HttpStatusCode.Forbidden, await Say(visitors[4], "practice"));
        Assert.Equal(HttpStatusCode.SeeOther, await Say(visitors[4], "comment"));
        Assert.Equal(HttpStatusCode.SeeOther, await Say(visitors[5], "practice"));
        Assert.Equal("yes", Tussock.Journal.Fold.Record(desk.File.Changes(id)).Field("practice")!.Value);

        // What the lead has chosen is that photo, at that nest: nobody else puts another in its place, or takes it out and in again.
        foreach (var column in new[] { "comment", "media", "matched_by" }) Assert.Equal(HttpStatusCode.Forbidden, await Say(visitors[4], column));
        async Task<HttpStatusCode> Void(HttpClient who, string how) => (await NetworkDesk.PostAsync(who, "/record/" + id + "/void", await NetworkDesk.TokenAsync(who, "/password"), ("void", how))).StatusCode;
        Assert.Equal(HttpStatusCode.SeeOther, await Void(visitors[4], "yes"));
        Assert.Equal(HttpStatusCode.Forbidden, await Void(visitors[4], "no"));
        Assert.Equal(HttpStatusCode.SeeOther, await Void(visitors[5], "no"));
    }

    private string Address(string route)
    {
        var beginning = samples.Keys.Where(k => route.StartsWith(k, StringComparison.Ordinal)).MaxBy(k => k.Length);
        return beginning is null ? route : samples[beginning] + route[beginning.Length..];
    }

    private async Task<(HttpResponseMessage Answer, string Body)> AskAsync(HttpClient visitor, string row)
    {
        var (method, route) = (row.Split(' ')[0], Address(row.Split(' ')[1]));
        using var request = new HttpRequestMessage(new HttpMethod(method), route);
        if (method is not ("GET" or "HEAD"))
        {
            var token = await NetworkDesk.TokenAsync(visitor, visitor == visitors[0] ? "/sign-in" : "/password");
            request.Content = new FormUrlEncodedContent([new("__RequestVerificationToken", token)]);
        }

        var answer = await visitor.SendAsync(request);
        return (answer, await answer.Content.ReadAsStringAsync());
    }

    private static char Class(HttpResponseMessage answer, string body, string row) => answer.StatusCode switch
    {
        HttpStatusCode.Unauthorized => 'D',
        HttpStatusCode.SeeOther when row.StartsWith("GET", StringComparison.Ordinal) && answer.Headers.Location?.ToString() == "/sign-in" => 'D',
        HttpStatusCode.NotFound => 'N',
        HttpStatusCode.Forbidden when body.Contains(WebUtility.HtmlEncode(Catalogue.English.Say("people.may_not")), StringComparison.Ordinal) => 'M',
        < HttpStatusCode.InternalServerError => 'I',
        _ => '!',
    };

    [GeneratedRegex("href=\"(?<it>/sheets/[^\"]+)\"")]
    private static partial Regex SheetName();

    [GeneratedRegex("href=\"(?<it>/reports/[0-9][^\"]+[.]html)\"")]
    private static partial Regex ReportName();

    [GeneratedRegex("(?:href|src|<form method=\"(?<method>[a-z]+)\" action)=\"(?<to>/[^\"]*)\"")]
    private static partial Regex Way();

    [GeneratedRegex("<form ")]
    private static partial Regex Forms();
}
