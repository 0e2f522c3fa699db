using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Tussock.App.Serving;
using Tussock.App.Serving.Desk;
using Tussock.App.Serving.People;
using Tussock.Desk;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Tussock.Store;
using Tussock.Store.Media;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A desk that serves an invented season inside the test, over plain http on loopback unless told otherwise.</summary>
internal sealed class RunningDesk : IAsyncDisposable
{
    private readonly StoreScratch scratch = new();
    private readonly WebApplication app;

    internal RunningDesk(bool isLoopbackOnly = true, Action<KestrelServerOptions>? listen = null, params string[] hosts)
        : this(PlainFolder.Invented("small", 12), isLoopbackOnly, listen, null, hosts)
    {
    }

    /// <param name="clock">What the desk takes for the time.</param>
    internal RunningDesk(TimeProvider clock)
        : this([PlainFolder.Invented("small", 12)], isLoopbackOnly: true, null, null, 400_000, clock)
    {
    }

    /// <param name="imagery">Pictures from above that the map may show.</param>
    internal RunningDesk(Imagery imagery)
        : this([PlainFolder.Invented("small", 12)], isLoopbackOnly: true, null, null, 400_000, null, imagery, [])
    {
    }

    /// <param name="visitsANest">1: the last check is not entered yet.</param>
    internal RunningDesk(int visitsANest)
        : this(PlainFolder.Invented("small", 12, visitsANest), isLoopbackOnly: true, null, null)
    {
    }

    internal RunningDesk(SeasonTables season, bool isLoopbackOnly, Action<KestrelServerOptions>? listen, Action<Phrase>? say, params string[] hosts)
        : this([season], isLoopbackOnly, listen, say, 400_000, null, hosts)
    {
    }

    /// <summary>A desk of several seasons, the first of which is <see cref="Season"/>.</summary>
    internal RunningDesk(IReadOnlyList<SeasonTables> seasons, bool isLoopbackOnly, Action<KestrelServerOptions>? listen, Action<Phrase>? say, int mostRows, TimeProvider? clock = null, params string[] hosts)
        : this(seasons, isLoopbackOnly, listen, say, mostRows, clock, null, hosts)
    {
    }

    private RunningDesk(IReadOnlyList<SeasonTables> seasons, bool isLoopbackOnly, Action<KestrelServerOptions>? listen, Action<Phrase>? say, int mostRows, TimeProvider? clock, Imagery? imagery, string[] hosts)
    {
        foreach (var season in seasons) DataFile.OpenToWrite(scratch.File).Import(new ImportRequest { Season = season, By = "Ann", Now = DateTimeOffset.UnixEpoch });
        File = DataFile.OpenToWrite(scratch.File);
        Season = File.Seasons().First(s => "\"" + s.Name + "\"" == seasons[0].Package.SeasonJson("name"));
        Code = new PairingCode(TimeProvider.System);
        var served = new ServedSeasons(new ServedSeason(File, Season, isLoopbackOnly, clock ?? TimeProvider.System, Catalogue.English, say ?? (_ => { }), Faults.Add) { Imagery = imagery }, isNamed: false);
        Media = new MediaStore(scratch.File, quota: 10_000_000);
        var api = new FieldApi(served, Media, Code);
        Desks = new DeskSeasons(served, Media, mostRows);
        var gate = new DeskGate(served, Desks, new PeopleSite(served, Desks.KnownAsync, new Passwords(rounds: 1000), new SignInPace(TimeProvider.System)), "crew 1");
        app = new FieldServer(served.Usual, api, new Doorkeeper(hosts.ToHashSet(StringComparer.OrdinalIgnoreCase)), new RootPage(null, Catalogue.English, ""), gate).Make(listen ?? (k => k.Listen(IPAddress.Loopback, 0)));
        app.StartAsync().GetAwaiter().GetResult();
        Address = new Uri(app.Urls.First());
        Client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Address };
    }

    /// <summary>Faults of the program that were told.</summary>
    internal System.Collections.Concurrent.ConcurrentBag<Phrase> Faults { get; } = [];

    internal DataFile File { get; }

    internal SeasonEntry Season { get; }

    internal DeskSeasons Desks { get; }

    internal PairingCode Code { get; }

    internal MediaStore Media { get; }

    internal Uri Address { get; }

    internal HttpClient Client { get; }

    internal string Folder => scratch.Folder;

    internal async Task<JsonElement> PairAsync(string code = "")
    {
        var answer = await PostAsync("pair", new JsonObject { ["code"] = code, ["name"] = "crew 1's phone" });
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var paired = await JsonAsync(answer);
        Client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", paired.GetProperty("key").GetString());
        return paired;
    }

    internal Task<HttpResponseMessage> PostAsync(string what, JsonNode message) => Client.PostAsync(new Uri("/field/api/" + what, UriKind.Relative), new StringContent(message.ToJsonString(), Encoding.UTF8, "application/json"));

    internal Task<HttpResponseMessage> SyncAsync(params IEnumerable<JsonNode> changes) =>
        PostAsync("sync", new JsonObject { ["device"] = "d", ["position"] = 0, ["changes"] = new JsonArray([.. changes.Select(c => c.DeepClone())]) });

    /// <summary>A change to a new visit.</summary>
    internal JsonObject Change(int n, string op, Guid record, string field, string value, string device = "d", params IEnumerable<JsonNode> replaces) => new()
    {
        ["id"] = Id(n), ["batch"] = Id(n), ["device"] = device, ["device_seq"] = n, ["season"] = Season.Id.ToString(), ["kind"] = "visits", ["record"] = record.ToString(), ["op"] = op,
        ["fields"] = new JsonObject { [field] = new JsonObject { ["value"] = value, ["replaces"] = new JsonArray([.. replaces.Select(r => r.DeepClone())]) } },
        ["by"] = "Ann", ["said_at"] = "2026-05-14T17:05:12.123Z", ["offset_min"] = -300, ["source"] = "field app 1", ["format"] = 1,
    };

    internal static string Id(int n) => string.Create(CultureInfo.InvariantCulture, $"01900000-0000-7000-8000-{n:x12}");

    internal static async Task<JsonElement> JsonAsync(HttpResponseMessage answer) => JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync()).RootElement.Clone();

    /// <summary>What the page of open sheets says before its list of all, once the season has been read of the newest tables.</summary>
    internal async Task<string> OpenSheetsAsync()
    {
        for (var n = 0; n < 600; n++)
        {
            var state = await JsonAsync(await Client.GetAsync(new Uri("/desk/state", UriKind.Relative)));
            if (state.GetProperty("position").GetInt64() == state.GetProperty("answer").GetInt64()) break;
            await Client.GetStringAsync(new Uri("/enter", UriKind.Relative));
            await Task.Delay(100);
        }

        var page = WebUtility.HtmlDecode(await Client.GetStringAsync(new Uri("/enter", UriKind.Relative)));
        return page.IndexOf("<details", StringComparison.Ordinal) is >= 0 and var end ? page[..end] : page;
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await app.DisposeAsync();
        scratch.Dispose();
    }
}
