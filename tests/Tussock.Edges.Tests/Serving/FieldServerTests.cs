// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Net.Http.Headers;
using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Hosting;
using Tussock.App.Serving;
using Tussock.Edges.Tests.Commands;
using Tussock.Journal;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

public sealed class FieldServerTests
{
    private static readonly Guid Visit = new("01900000-0000-7000-8000-00000000aaaa");

    [Fact]
    public async Task A_bundle_has_every_key_of_its_contract_and_the_heads_of_every_value()
    {
        await using var desk = new RunningDesk();
        await desk.PairAsync();
        var answer = await desk.Client.GetAsync(new Uri("/field/api/bundle", UriKind.Relative));
        var bundle = await RunningDesk.JsonAsync(answer);

        Assert.Equal(["contract", "position", "made_at", "exact_places", "season", "languages", "words", "records", "people", "declination", "ways", "checks", "searches", "order", "ended", "signs", "practice", "culprits", "phrases", "cautions", "limits"], bundle.EnumerateObject().Select(p => p.Name));
        Assert.Equal(["id", "name", "year", "species", "time_zone", "trial_days", "check_days", "check_window_days", "cover_classes", "loss_rule", "renew_eggs", "egg_kind", "search_rule_steps", "eggs_per_nest", "clump_rule", "clump_rule_words", "benchmarks"], bundle.GetProperty("season").EnumerateObject().Select(p => p.Name));
        Assert.Equal(12, bundle.GetProperty("records").GetProperty("nests").GetArrayLength());
        var nest = bundle.GetProperty("records").GetProperty("nests")[0];
        Assert.All(nest.GetProperty("fields").EnumerateObject(), f => Assert.InRange(f.Value[1].GetInt32(), 0, nest.GetProperty("changes").GetArrayLength() - 1));
        Assert.DoesNotContain("#row", nest.GetProperty("fields").EnumerateObject().Select(f => f.Name));
        Assert.NotEmpty(bundle.GetProperty("checks").EnumerateArray());
        Assert.All(bundle.GetProperty("ended").EnumerateArray(), e => Assert.Contains("only pick up the washer", e.GetProperty("say").GetProperty("en").GetString(), StringComparison.Ordinal));
        Assert.StartsWith("\"" + bundle.GetProperty("position").GetInt64(), answer.Headers.ETag!.Tag, StringComparison.Ordinal);

        var again = new HttpRequestMessage(HttpMethod.Get, "/field/api/bundle");
        again.Headers.IfNoneMatch.Add(answer.Headers.ETag);
        Assert.Equal(HttpStatusCode.NotModified, (await desk.Client.SendAsync(again)).StatusCode);
    }

    [Fact]
    public async Task Changes_sent_twice_and_out_of_order_are_there_once()
    {
        await using var desk = new RunningDesk();
        await desk.PairAsync();
        var create = desk.Change(1, "create", Visit, "finding", "intact");
        var set = desk.Change(2, "set", Visit, "finding", "depredated", "d", [RunningDesk.Id(1)]);

        Assert.Equal([RunningDesk.Id(2)], Ids(await RunningDesk.JsonAsync(await desk.SyncAsync(set)), "accepted"));
        Assert.Equal(["visits"], desk.File.Waiting("small"));
        var whole = await RunningDesk.JsonAsync(await desk.SyncAsync(create, set, create));
        Assert.Equal([RunningDesk.Id(1), RunningDesk.Id(2), RunningDesk.Id(1)], Ids(whole, "accepted"));
        var record = Fold.Record(desk.File.Changes(Visit));
        Assert.Equal(2, desk.File.Changes(Visit).Length);
        Assert.Equal(("depredated", 1), (record.Field("finding")!.Value, record.Field("finding")!.Heads.Length));
        Assert.Empty(desk.File.Waiting("small"));
        Assert.Empty(desk.File.Check());
    }

    [Fact]
    public async Task A_change_in_the_place_of_another_is_refused_and_stays_on_the_phone()
    {
        await using var desk = new RunningDesk();
        await desk.PairAsync();
        var first = desk.Change(1, "create", Visit, "finding", "intact");
        await desk.SyncAsync(first);
        var otherContent = desk.Change(1, "create", Visit, "finding", "depredated");
        var otherId = desk.Change(2, "create", Visit, "finding", "intact");
        otherId["device_seq"] = 1;
        var otherSeason = desk.Change(3, "create", Visit, "finding", "intact");
        otherSeason["season"] = Visit.ToString();
        var description = desk.Change(4, "set", desk.Season.Id, "season.name", "\"x\"");
        description["kind"] = "season";
        var unknown = desk.Change(5, "create", new Guid("01900000-0000-7000-8000-00000000bbbb"), "colour", "blue");
        unknown["kind"] = "kites; DROP TABLE change";

        var answer = await RunningDesk.JsonAsync(await desk.SyncAsync(otherContent, otherId, otherSeason, description, unknown, new JsonObject { ["id"] = RunningDesk.Id(9) }));
        Assert.Equal([RunningDesk.Id(5)], Ids(answer, "accepted"));
        Assert.Equal([RunningDesk.Id(1), RunningDesk.Id(2), RunningDesk.Id(3), RunningDesk.Id(4), RunningDesk.Id(9)], answer.GetProperty("refused").EnumerateArray().Select(r => r.GetProperty("id").GetString()));
        Assert.Equal([true, true, true, true, false], answer.GetProperty("refused").EnumerateArray().Select(r => r.GetProperty("keep").GetBoolean()));
        Assert.Equal("intact", Fold.Record(desk.File.Changes(Visit)).Field("finding")!.Value);
        Assert.Empty(desk.File.Check());
    }

    [Fact]
    public async Task Pairing_needs_the_code_once_and_five_wrong_ones_close_it()
    {
        using var own = NetworkDesk.SelfMade();
        await using var desk = new RunningDesk(isLoopbackOnly: false, k => k.Listen(IPAddress.Loopback, 0, o => o.UseHttps(own)));
        using var client = new HttpClient(new SocketsHttpHandler { SslOptions = new SslClientAuthenticationOptions { RemoteCertificateValidationCallback = (_, shown, _, _) => shown?.GetCertHashString() == own.Thumbprint } }) { BaseAddress = desk.Address };
        async Task<HttpStatusCode> Try(string code) => (await client.PostAsync(new Uri("/field/api/pair", UriKind.Relative), new StringContent("{\"code\":\"" + code + "\",\"name\":\"x\"}", Encoding.UTF8, "application/json"))).StatusCode;

        Assert.Equal(HttpStatusCode.Forbidden, await Try(""));
        var code = desk.Code.Next();
        Assert.Equal(HttpStatusCode.OK, await Try(code[..4] + " " + code[4..]));
        Assert.Equal(HttpStatusCode.Forbidden, await Try(code));
        for (var i = 0; i < 4; i++) Assert.Equal(HttpStatusCode.Forbidden, await Try("no"));
        Assert.Equal(HttpStatusCode.TooManyRequests, await Try("no"));
        Assert.Equal(HttpStatusCode.OK, await Try(desk.Code.Next()));
    }

    [Fact]
    public async Task A_phone_that_was_shut_out_or_never_paired_gets_nothing()
    {
        await using var desk = new RunningDesk();
        Assert.Equal(HttpStatusCode.Unauthorized, (await desk.SyncAsync()).StatusCode);
        var paired = await desk.PairAsync();
        Assert.Equal(HttpStatusCode.OK, (await desk.SyncAsync()).StatusCode);
        Assert.True(desk.File.ShutOut(paired.GetProperty("device").GetGuid(), DateTimeOffset.UtcNow));
        var answer = await desk.SyncAsync(desk.Change(1, "create", Visit, "finding", "intact"));
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Contains("shut out", (await RunningDesk.JsonAsync(answer)).GetProperty("why").GetString(), StringComparison.Ordinal);
        Assert.Empty(desk.File.Changes(Visit));
    }

    [Fact]
    public async Task Other_hosts_pages_and_forms_are_refused()
    {
        await using var desk = new RunningDesk(true, null, "ranch.test");
        await desk.PairAsync();
        async Task<HttpStatusCode> Get(string path, Action<HttpRequestMessage> with)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, path);
            with(request);
            return (await desk.Client.SendAsync(request)).StatusCode;
        }

        Assert.Equal(HttpStatusCode.MisdirectedRequest, await Get("/field/", r => r.Headers.Host = "evil.test"));
        Assert.Equal(HttpStatusCode.Forbidden, await Get("/field/", r => r.Headers.Host = "ranch.test"));
        Assert.Equal(HttpStatusCode.Forbidden, await Get("/field/api/bundle", r => r.Headers.Add("Origin", "https://evil.test")));
        Assert.Equal(HttpStatusCode.OK, await Get("/field/api/bundle", r => r.Headers.Add("Origin", desk.Address.GetLeftPart(UriPartial.Authority))));
        Assert.Equal(HttpStatusCode.OK, await Get("/", _ => { }));
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, (await desk.Client.PostAsync(new Uri("/field/api/sync", UriKind.Relative), new StringContent("{}", Encoding.UTF8, "text/plain"))).StatusCode);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await desk.Client.PostAsync(new Uri("/field/api/sync", UriKind.Relative), new StringContent(new string(' ', 3_000_000), Encoding.UTF8, "application/json"))).StatusCode);
        foreach (var path in (string[])["/field/../season.db", "/field/%2e%2e/season.db", "/field/..%2fseason.db", "/field//index.html", "/field/index.html%00", "/season.db", "/field/api/media/../../season.db"]) Assert.Contains(await Get(path, _ => { }), (HttpStatusCode[])[HttpStatusCode.NotFound, HttpStatusCode.BadRequest]);
    }

    [Fact]
    public async Task A_photo_goes_on_where_it_broke_off_and_a_damaged_one_starts_again()
    {
        await using var desk = new RunningDesk();
        await desk.PairAsync();
        var photo = RandomNumberGenerator.GetBytes(200_000);
        var hash = Convert.ToHexStringLower(SHA256.HashData(photo));
        async Task<(HttpStatusCode, string)> Patch(byte[] bytes, int from, int to, string? name = null)
        {
            using var request = new HttpRequestMessage(HttpMethod.Patch, "/field/api/media/" + (name ?? hash)) { Content = new ByteArrayContent(bytes[from..to]) };
            request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
            request.Headers.Add("Upload-Offset", from.ToString(System.Globalization.CultureInfo.InvariantCulture));
            request.Headers.Add("Upload-Length", bytes.Length.ToString(System.Globalization.CultureInfo.InvariantCulture));
            var answer = await desk.Client.SendAsync(request);
            return (answer.StatusCode, answer.Headers.TryGetValues("Upload-Offset", out var offset) ? offset.Single() : "");
        }

        async Task<HttpStatusCode> Head() => (await desk.Client.SendAsync(new HttpRequestMessage(HttpMethod.Head, "/field/api/media/" + hash))).StatusCode;
        Assert.Equal(HttpStatusCode.NotFound, await Head());
        Assert.Equal((HttpStatusCode.NoContent, "70000"), await Patch(photo, 0, 70_000));
        Assert.Equal((HttpStatusCode.Conflict, "70000"), await Patch(photo, 0, 70_000));
        Assert.Equal((HttpStatusCode.NoContent, "200000"), await Patch(photo, 70_000, 200_000));
        Assert.Equal(HttpStatusCode.OK, await Head());
        Assert.Equal(photo, await File.ReadAllBytesAsync(Path.Combine(desk.Folder, "season.db.media", hash)));
        Assert.Equal((HttpStatusCode.UnprocessableEntity, "0"), await Patch(photo, 0, 200_000, new string('0', 64)));
        Assert.Equal(HttpStatusCode.ServiceUnavailable, (await Patch(new byte[11_000_000], 0, 10, new string('1', 64))).Item1);
        Assert.Equal([hash], Directory.EnumerateFiles(Path.Combine(desk.Folder, "season.db.media")).Select(Path.GetFileName));
    }

    [Fact]
    public async Task Malformed_requests_are_answered_and_never_break_the_desk()
    {
        await using var desk = new RunningDesk();
        await desk.PairAsync();
        var random = new Random(5);
        var good = new JsonObject { ["device"] = "d", ["position"] = 0, ["changes"] = new JsonArray(desk.Change(1, "create", Visit, "finding", "intact")) }.ToJsonString();
        for (var n = 0; n < 5000; n++)
        {
            var bytes = Encoding.UTF8.GetBytes(good);
            for (var k = random.Next(1, 6); k > 0; k--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
            using var content = new ByteArrayContent(bytes[..random.Next(bytes.Length + 1)]);
            content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
            using var answer = await desk.Client.PostAsync(new Uri(n % 5 == 0 ? "/field/api/pair" : "/field/api/sync", UriKind.Relative), content);
            Assert.True((int)answer.StatusCode < 500, n + ": " + answer.StatusCode);
        }

        Assert.Empty(desk.File.Check());
        Assert.Equal(HttpStatusCode.OK, (await desk.Client.GetAsync(new Uri("/field/api/bundle", UriKind.Relative))).StatusCode);
    }

    [Fact]
    public async Task A_client_that_has_the_local_root_trusts_the_desk_under_its_name_and_no_other()
    {
        using var scratch = new ScratchFolder();
        var now = DateTimeOffset.UtcNow;
        var authority = LocalAuthority.Beside(scratch.At("x.db"), ["ranch.test", "localhost"], now);
        var server = authority.Server(["ranch.test", "localhost"], [IPAddress.Loopback], now);
        Assert.True(authority.IsNew);
        Assert.False(LocalAuthority.Beside(scratch.At("x.db"), ["ranch.test"], now).IsNew);
        Assert.Equal(server.Thumbprint, LocalAuthority.Beside(scratch.At("x.db"), ["ranch.test"], now).Server(["ranch.test"], [IPAddress.Loopback], now).Thumbprint);
        Assert.NotEqual(server.Thumbprint, authority.Server(["ranch.test", "localhost"], [IPAddress.Loopback], now.AddDays(360)).Thumbprint);
        Assert.True((server.NotAfter - server.NotBefore).TotalDays <= 397);
        if (!OperatingSystem.IsWindows())
        {
            foreach (var file in Directory.EnumerateFiles(scratch.At("x.db.tls"))) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        }


        await using var desk = new RunningDesk(false, k => k.Listen(IPAddress.Loopback, 0, o => o.UseHttps(server)), "ranch.test");
        Assert.Equal(HttpStatusCode.OK, await Fetch(desk, authority.Root, "ranch.test"));
        Assert.Equal(HttpStatusCode.OK, await Fetch(desk, authority.Root, "127.0.0.1"));
        await Assert.ThrowsAsync<HttpRequestException>(() => Fetch(desk, authority.Root, "other.test"));
        var outside = authority.Server(["bank.test"], [IPAddress.Loopback], now);
        await using var impostor = new RunningDesk(false, k => k.Listen(IPAddress.Loopback, 0, o => o.UseHttps(outside)), "bank.test");
        await Assert.ThrowsAsync<HttpRequestException>(() => Fetch(impostor, authority.Root, "bank.test"));
    }

    [Fact]
    public void An_older_data_file_is_copied_and_upgraded_by_whoever_writes_and_refused_by_whoever_reads()
    {
        using var scratch = new ScratchFolder();
        File.Copy(Path.Combine(Corpus.Folder("older"), "first.db"), scratch.At("a.db"));
        Assert.Equal("older", Assert.Throws<DataFileException>(() => DataFile.OpenToRead(scratch.At("a.db"))).Problem.Rule);
        DataFile.OpenToWrite(scratch.At("a.db")).BringUpToDate(DateTimeOffset.UnixEpoch);
        Assert.Empty(DataFile.OpenToRead(scratch.At("a.db")).Phones());
        Assert.Empty(DataFile.OpenToRead(scratch.At("a.db")).Check());
        Assert.Equal(File.ReadAllBytes(Path.Combine(Corpus.Folder("older"), "first.db")).Length, File.ReadAllBytes(scratch.At("a.db.before-upgrade-19700101-000000")).Length);
    }

    private static async Task<HttpStatusCode> Fetch(RunningDesk desk, X509Certificate2 root, string host)
    {
        var policy = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        policy.CustomTrustStore.Add(root);
        using var client = new HttpClient(new SocketsHttpHandler
        {
            SslOptions = new SslClientAuthenticationOptions { CertificateChainPolicy = policy },
            ConnectCallback = async (_, stop) =>
            {
                var socket = new System.Net.Sockets.Socket(System.Net.Sockets.SocketType.Stream, System.Net.Sockets.ProtocolType.Tcp);
                await socket.ConnectAsync(IPAddress.Loopback, desk.Address.Port, stop);
                return new System.Net.Sockets.NetworkStream(socket, ownsSocket: true);
            },
        });
        return (await client.GetAsync(new Uri("https://" + host + ":" + desk.Address.Port + "/field/"))).StatusCode;
    }

    private static IEnumerable<string?> Ids(System.Text.Json.JsonElement answer, string list) => answer.GetProperty(list).EnumerateArray().Select(i => i.GetString());
}
