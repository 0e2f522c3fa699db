// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using Tussock.App.Serving.People;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What somebody may send who means harm, or whose program is broken.</summary>
public sealed partial class HostileTests
{
    private const string Script = "<script>alert('x')</script>\"'><img src=x onerror=alert(1)>&lt;";

    [Fact]
    public async Task Ten_thousand_malformed_requests_are_answered_and_none_is_a_fault()
    {
        await using var desk = new RunningDesk();
        var record = desk.File.States("small").Records.First(r => r.Kind == "visits").Id;
        var page = await desk.Client.GetAsync(new Uri("/record/" + record, UriKind.Relative));
        var cookie = string.Join("; ", page.Headers.GetValues("Set-Cookie").Select(c => c.Split(';')[0]));
        var token = Token().Match(await page.Content.ReadAsStringAsync()).Groups["it"].Value;
        var made = new Malformed(20_260_514, desk.Address.Port, record, cookie, token);
        var (answered, statuses) = (0, new Dictionary<string, int>(StringComparer.Ordinal));
        for (var n = 0; n < 10_000; n += 8)
        {
            var requests = Enumerable.Range(0, 8).Select(_ => made.Next()).ToArray();
            var several = await Task.WhenAll(requests.Select(r => SendAsync(desk.Address.Port, r)));
            for (var k = 0; k < several.Length; k++)
            {
                // 505: no such version of HTTP, said by the web server itself.
                Assert.False(several[k].StartsWith('5') && several[k] != "505", (n + k) + ": " + several[k] + "\n" + Encoding.Latin1.GetString(requests[k], 0, Math.Min(requests[k].Length, 600)));
                statuses[several[k]] = statuses.GetValueOrDefault(several[k]) + 1;
                if (several[k].Length > 0) answered++;
            }

            if (!desk.Faults.IsEmpty) Assert.Fail(string.Join("\n", desk.Faults.Select(Tussock.Words.Catalogue.English.Say)) + "\n" + string.Join("\n\n", requests.Zip(several, (r, answer) => answer + " " + Encoding.Latin1.GetString(r, 0, Math.Min(r.Length, 400)))));
        }

        var told = string.Join(", ", statuses.OrderByDescending(s => s.Value).Select(s => s.Key + ": " + s.Value));
        Assert.True(answered > 8500, told);
        Assert.True(statuses.GetValueOrDefault("200") > 500 && statuses.GetValueOrDefault("400") > 1000 && statuses.GetValueOrDefault("303") > 100, told);
        Assert.Empty(desk.File.Check());
        Assert.Equal(HttpStatusCode.OK, (await desk.Client.GetAsync(new Uri("/worklist", UriKind.Relative))).StatusCode);
    }

    [Fact]
    public async Task A_stranger_in_the_network_who_sends_anything_gets_nothing()
    {
        await using var desk = new NetworkDesk(Tussock.Edges.Tests.Store.PlainFolder.Invented("small", 12));
        var random = new Random(9);
        var stranger = desk.Stranger(keepsCookies: false);
        for (var n = 0; n < 2000; n++)
        {
            using var request = new HttpRequestMessage(new HttpMethod(Malformed.Pick(random, "GET", "POST", "PUT", "HEAD", "PATCH", "DELETE", "QUERY")), Malformed.Address(random, Guid.NewGuid()).Replace("http://evil.test", "", StringComparison.Ordinal).TrimStart('/').Insert(0, "/"));
            request.Headers.TryAddWithoutValidation("Cookie", SignIn.Cookie + "=" + Malformed.Junk(random, 200, isHeader: true));
            if (random.Next(2) == 0) request.Headers.TryAddWithoutValidation("Accept", "*/*");
            if (request.Method.Method is not ("GET" or "HEAD")) request.Content = new ByteArrayContent(Encoding.Latin1.GetBytes(Malformed.Junk(random, 2000, isHeader: false)));
            request.Content?.Headers.TryAddWithoutValidation("Content-Type", Malformed.Pick(random, "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "multipart/form-data", "application/json", ";;"));
            using var answer = await stranger.SendAsync(request);
            var body = await answer.Content.ReadAsStringAsync();
            Assert.True((int)answer.StatusCode < 500, request.RequestUri + ": " + answer.StatusCode);
            Assert.DoesNotContain("Invented ranch", body, StringComparison.Ordinal);
            if (answer.StatusCode == HttpStatusCode.TooManyRequests) await Task.Delay(100);
        }

        Assert.Empty(desk.Desk.Faults);
    }

    [Fact]
    public async Task Files_that_are_too_big_or_swell_or_want_to_lie_elsewhere_are_refused_and_leave_nothing()
    {
        await using var desk = new RunningDesk();
        var before = Left(desk);
        var position = desk.File.Position;
        using var swelling = new MemoryStream();
        using (var zip = new ZipArchive(swelling, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var name in new[] { "doc.kml", "a.shp", "a.dbf" })
            {
                await using var entry = await zip.CreateEntry(name, CompressionLevel.Optimal).OpenAsync();
                for (var n = 0; n < 300; n++) await entry.WriteAsync(new byte[1 << 20]);
            }
        }

        using var escaping = new MemoryStream();
        using (var zip = new ZipArchive(escaping, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var name in new[] { "../../escaped.kml", "/tmp/escaped.kml", "..\\escaped.kml", "doc.kml" })
            {
                await using var entry = await zip.CreateEntry(name).OpenAsync();
                await entry.WriteAsync("<kml/>"u8.ToArray());
            }
        }

        var watch = System.Diagnostics.Stopwatch.StartNew();
        foreach (var (name, bytes) in new (string, byte[])[]
        {
            ("x.kmz", swelling.ToArray()), ("x.zip", swelling.ToArray()), ("x.kmz", escaping.ToArray()), ("x.zip", escaping.ToArray()), ("x.zip", swelling.ToArray()[..5000]), ("x.gpx", new byte[15 << 20]), ("x.gpx", new byte[17 << 20]),
            ("x.kml", Encoding.UTF8.GetBytes("<!DOCTYPE a [<!ENTITY b \"bbbbbbbbbb\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d SYSTEM \"file:///etc/passwd\">]><kml>&c;&d;</kml>")), ("x.geojson", Encoding.UTF8.GetBytes(new string('[', 100_000))),
            ("../../../escaped.gpx", "<gpx/>"u8.ToArray()), ("/tmp/escaped.gpx", "<gpx/>"u8.ToArray()), ("..\\..\\escaped.gpx", "<gpx/>"u8.ToArray()), (".", "<gpx/>"u8.ToArray()), ("..", "x"u8.ToArray()), (new string('n', 3000) + ".gpx", "<gpx/>"u8.ToArray()), ("con.gpx\0.exe", "x"u8.ToArray()), (Script + ".gpx", "<gpx/>"u8.ToArray()),
        })
        {
            var answer = await UploadAsync(desk, name, bytes);
            var body = await answer.Content.ReadAsStringAsync();
            Assert.True((int)answer.StatusCode is >= 400 and < 500 || (answer.StatusCode == HttpStatusCode.OK && !body.Contains("action=\"/map/take\"", StringComparison.Ordinal)), name + ": " + answer.StatusCode);
            Assert.DoesNotContain("root:", body, StringComparison.Ordinal);
            Assert.DoesNotContain("<script>", body, StringComparison.Ordinal);
            Assert.DoesNotContain("<img src=x", body, StringComparison.Ordinal);
        }

        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(60), watch.Elapsed.ToString());
        Assert.Equal(position, desk.File.Position);
        Assert.Equal(before, Left(desk));
        Assert.DoesNotContain(Directory.EnumerateFiles(Path.GetTempPath()), f => f.Contains("escaped", StringComparison.Ordinal));
        Assert.Empty(desk.Faults);
        Assert.Equal(HttpStatusCode.OK, (await desk.Client.GetAsync(new Uri("/map", UriKind.Relative))).StatusCode);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_script_in_every_field_is_text_on_every_page(bool isEveryColumn)
    {
        await using var desk = new RunningDesk(DemoSeason.Write(1), true, null, null);
        var season = desk.File.States(desk.Season.Name);
        var drafts = new List<Draft>();
        foreach (var kind in RecordKind.All)
        {
            if (season.Records.FirstOrDefault(r => r.Kind == kind.Name) is not { } record) continue;
            var columns = kind.Columns.Where(c => isEveryColumn || (c.Type == ColumnType.Text && !c.IsRequired && c.Name is not ("cover" or "line"))).Select(c => c.Name).Append("own_column");
            drafts.Add(new Draft(kind.Name, record.Id, ChangeOp.Set, [.. columns.Select(c => new FieldChange(FieldName.OfColumn(c), Script, record.Field(FieldName.OfColumn(c))?.HeadIds ?? []))]));
        }

        desk.File.Write(season.Id, drafts, Script, DateTimeOffset.UtcNow);
        desk.File.AddPerson(new Tussock.Store.Person(Guid.NewGuid(), Script[..60], Tussock.Store.PersonRole.Landowner, [Script], DateTimeOffset.UtcNow), "", Script);
        var (seen, open, found) = (new HashSet<string>(StringComparer.Ordinal), new Queue<string>(["/", .. drafts.Select(d => "/record/" + d.Record), "/map.json"]), 0);
        for (var n = 0; n < 100 && (await desk.Client.GetStringAsync(new Uri("/", UriKind.Relative))).Contains("being computed", StringComparison.Ordinal); n++) await Task.Delay(100);
        while (open.TryDequeue(out var address))
        {
            if (!seen.Add(address) || seen.Count > 400) continue;
            var answer = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
            Assert.True((int)answer.StatusCode is 200 or 404, address + ": " + answer.StatusCode);
            var body = await answer.Content.ReadAsStringAsync();
            if (answer.Content.Headers.ContentType?.MediaType is not ("text/html" or "application/json")) continue;
            Assert.DoesNotContain("<script>", body, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("<img src=x", body, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotMatch("=\"[^\"]*\"'><", body);
            if (body.Contains("&lt;script&gt;", StringComparison.Ordinal)) found++;
            foreach (Match way in Way().Matches(body)) open.Enqueue(WebUtility.HtmlDecode(way.Groups["to"].Value).Split('#')[0]);
        }

        Assert.True(found > (isEveryColumn ? 10 : 15), found + " of " + seen.Count + " pages show it");
        Assert.Empty(desk.Faults);
    }

    [Fact]
    public async Task A_fault_of_the_program_is_said_and_told_without_what_it_was_about()
    {
        await using var desk = new RunningDesk(Tussock.Edges.Tests.Store.PlainFolder.Invented("small", 12), true, null, p => throw new InvalidOperationException("31.40512 of Invented ranch"));
        foreach (var accept in new[] { "text/html", "application/json" })
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, "/field/api/pair") { Content = new StringContent("{\"code\":\"\",\"name\":\"31.40512\"}", Encoding.UTF8, "application/json") };
            request.Headers.Add("Accept", accept);
            var answer = await desk.Client.SendAsync(request);
            var body = await answer.Content.ReadAsStringAsync();
            Assert.Equal((HttpStatusCode.InternalServerError, accept), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
            Assert.Contains("it is the program", body, StringComparison.Ordinal);
            Assert.DoesNotContain("31.40512", body, StringComparison.Ordinal);
            Assert.Contains("default-src 'self'", answer.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        }

        Assert.Equal(2, desk.Faults.Count);
        var told = Tussock.Words.Catalogue.English.Say(desk.Faults.First());
        Assert.Contains("InvalidOperationException Tussock.", told, StringComparison.Ordinal);
        Assert.DoesNotContain("31.40512", told, StringComparison.Ordinal);
        Assert.DoesNotContain("Invented", told, StringComparison.Ordinal);
    }

    private static string[] Left(RunningDesk desk) => [.. Directory.EnumerateFileSystemEntries(desk.Folder).Select(Path.GetFileName).OfType<string>(), .. Directory.EnumerateDirectories(Path.GetTempPath(), "tussock-map-*").Select(Path.GetFileName).OfType<string>()];

    private static async Task<HttpResponseMessage> UploadAsync(RunningDesk desk, string name, byte[] bytes)
    {
        using var form = new MultipartFormDataContent();
        form.Add(new StringContent(Token().Match(await desk.Client.GetStringAsync(new Uri("/map", UriKind.Relative))).Groups["it"].Value), "__RequestVerificationToken");
        var file = new ByteArrayContent(bytes);
        file.Headers.TryAddWithoutValidation("Content-Disposition", "form-data; name=\"files\"; filename=\"" + name.Replace("\"", "%22", StringComparison.Ordinal).Replace("\0", "%00", StringComparison.Ordinal) + "\"");
        file.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        form.Add(file);
        return await desk.Client.PostAsync(new Uri("/map/files", UriKind.Relative), form);
    }

    /// <summary>Sends bytes as they are on a connection of their own.</summary>
    /// <returns>The status of the first answer; empty when the desk hung up without one.</returns>
    private static async Task<string> SendAsync(int port, byte[] request)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, port);
        var stream = client.GetStream();
        var head = new byte[12];
        try
        {
            await stream.WriteAsync(request);
            // A request that was cut off gets no answer until the desk knows that no more will come; to hang up at once would call off all others too.
            using var patience = new CancellationTokenSource(100);
            await using var hangUp = patience.Token.Register(() => client.Client.Shutdown(SocketShutdown.Send));
            for (int at = 0, count; at < head.Length; at += count) if ((count = await stream.ReadAsync(head.AsMemory(at))) == 0) return "";
        }
        catch (IOException)
        {
            return "";
        }

        return Encoding.ASCII.GetString(head, 9, 3);
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"(?<it>[^\"]+)\"")]
    private static partial Regex Token();

    [GeneratedRegex("(?:href|src|data-text)=\"(?<to>/[^\"]*)\"")]
    private static partial Regex Way();
}
