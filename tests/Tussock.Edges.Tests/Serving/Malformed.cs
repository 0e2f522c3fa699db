using System.Globalization;
using System.Text;
using Tussock.App.Serving.People;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Requests that no browser sends: the same ones for the same seed.</summary>
internal sealed class Malformed(int seed, int port, Guid record, string cookie, string token)
{
    private static readonly string[] Odd = ["%00", "%2e%2e%2f", "..%5c", "%", "%zz", "%c0%ae", "\u00ff", "%ff", "//", "/./", ";", "?", "#", "<script>", "'", "%27", "\\", "~", "%0d%0a", "\t", "{}", "[", "%e2%80%ae", "a%CC%81"];
    private readonly Random random = new(seed);

    internal byte[] Next()
    {
        var method = Seldom() ? Pick(random, "HEAD", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "get", "G\u00c9T", "", "CONNECT", Junk(random, 12, isHeader: true)) : Pick(random, "GET", "POST");
        var text = new StringBuilder(method).Append(' ').Append(Address(random, record)).Append(' ').Append(Seldom() ? Pick(random, "HTTP/1.0", "HTTP/2.0", "HTTP/9", "") : "HTTP/1.1").Append(Seldom() ? "\n" : "\r\n");
        text.Append("Host: ").Append(Seldom() ? Pick(random, "evil.test", "", "[::1", "localhost:99999", "localhost:x", "[::1]:1", "127.0.0.1.") : Local()).Append("\r\n");
        if (!Seldom()) text.Append("Cookie: ").Append(cookie).Append(Seldom() ? Pick(random, "; x=" + Junk(random, 40, isHeader: true), "=;=;", ";;;;") : "").Append("\r\n");
        if (Seldom()) text.Append("Origin: ").Append(Pick(random, "http://" + Local(), "null", "https://evil.test", Junk(random, 20, isHeader: true))).Append("\r\n");
        if (random.Next(4) == 0) text.Append("Accept: ").Append(Pick(random, "text/html", "*/*", Junk(random, 30, isHeader: true))).Append("\r\n");
        if (Seldom()) text.Append(Pick(random, "Authorization: Bearer " + Junk(random, 80, isHeader: true), "If-None-Match: " + Junk(random, 20, isHeader: true), "Range: bytes=99-1", "Expect: 100-continue", "Upgrade: websocket\r\nConnection: Upgrade", "X: " + new string('x', 9000), "No colon here", ": nothing", "Accept-Encoding: br, \u00ff", "Transfer-Encoding: chunked", "Content-Encoding: gzip", "Upload-Offset: -1\r\nUpload-Length: 99999999999999999999")).Append("\r\n");
        if (method is "POST" or "PUT" or "PATCH" || random.Next(8) == 0) Body(text);
        else text.Append("\r\n");
        var bytes = Encoding.Latin1.GetBytes(text.ToString());
        if (Seldom()) for (var k = random.Next(1, 5); k > 0; k--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
        return random.Next(20) == 0 ? bytes[..random.Next(1, bytes.Length + 1)] : bytes;
    }

    /// <summary>An address of the desk's table with odd things in the place of its parts, or an address that is none.</summary>
    internal static string Address(Random random, Guid record)
    {
        var route = random.Next(8) == 0 ? Pick(random, "/field/api/bundle", "/field/api/sync", "/field/api/pair", "/field/api/media/" + new string('a', 64), "/field/", "/root", "/" + Junk(random, 30, isHeader: true), "*", "http://evil.test/") : WhoMay.Rows[random.Next(WhoMay.Rows.Length)].Route;
        var part = Pick(random, record.ToString(), record.ToString(), "visits", "nests", "curve", "desk.css", new string('a', 64), Odd[random.Next(Odd.Length)], Junk(random, 20, isHeader: true), new string('9', 400), "-1", "00000000-0000-0000-0000-000000000000");
        var path = route.Replace("{}", part.Replace(' ', '_'), StringComparison.Ordinal);
        if (random.Next(10) == 0) path += Odd[random.Next(Odd.Length)];
        if (random.Next(2) == 0) return path.Replace(' ', '_');
        var query = string.Join('&', Enumerable.Range(0, random.Next(1, 5)).Select(_ => Pick(random, "text", "sort", "down", "page", "saved", "did", "lines", "clumps", "area", "line", "at", "") + Pick(random, "=", "", "==") + Pick(random, "yes", "-1", "99999999999999999999", "5%2F6+4%2F6", "1e309", "NaN", "%00", "0%2F0", "%F0%9F%92%A9", "note", "visited_on", Odd[random.Next(Odd.Length)], Junk(random, 60, isHeader: true))));
        return (path + "?" + query).Replace(' ', '+');
    }

    internal static string Pick(Random random, params ReadOnlySpan<string> of) => of[random.Next(of.Length)];

    internal static string Junk(Random random, int most, bool isHeader)
    {
        var text = new StringBuilder();
        for (var n = random.Next(1, most); n > 0; n--) text.Append(isHeader ? (char)random.Next(0x21, 0x7f) : (char)random.Next(0x00, 0x100));
        return text.ToString();
    }

    private bool Seldom() => random.Next(8) == 0;

    private string Local() => "127.0.0.1:" + port.ToString(CultureInfo.InvariantCulture);

    private void Body(StringBuilder text)
    {
        var kind = random.Next(4);
        var fields = new List<(string Name, string Value)> { ("__RequestVerificationToken", random.Next(5) == 0 ? Junk(random, 100, isHeader: true) : token) };
        for (var n = random.Next(0, 8); n > 0; n--)
        {
            var value = Pick(random, "", "yes", "intact", "2026-05-14", "-1", "1e309", "NaN", "\u0000", "\u00c3\u0028", "\ud7ff", record.ToString(), "31.4, -99.3\n31.4, -99.2\n31.5, -99.2", "lead", "=x", Junk(random, 300, isHeader: false), new string('9', 5000));
            fields.Add((Pick(random, "v.note", "v.finding", "v.visited_on", "w.note", "h.note", "s.note", "column", "heads", "void", "corners", "shown", "files", "id", "name", "role", "password", "property", "former", "v.", "v.#void", "v.id", "", Junk(random, 20, isHeader: true)), value));
        }

        var (type, body) = kind switch
        {
            0 or 1 => ("application/x-www-form-urlencoded", string.Join('&', fields.Select(f => Uri.EscapeDataString(f.Name) + "=" + (random.Next(6) == 0 ? f.Value : Uri.EscapeDataString(f.Value))))),
            2 => ("multipart/form-data; boundary=" + Pick(random, "x", "x", "x", "", "\"x", new string('b', 100)), string.Concat(fields.Select(f => "--x\r\nContent-Disposition: form-data; name=\"" + f.Name.Replace('"', '_') + "\"" + (f.Name == "files" ? "; filename=\"" + Pick(random, "a.gpx", "../a.kml", "a.zip", "\u0000", "") + "\"" : "") + "\r\n\r\n" + f.Value + "\r\n")) + Pick(random, "--x--\r\n", "--x--\r\n", "--x", "")),
            _ => (Pick(random, "application/json", "text/plain", "", "multipart/form-data", "application/x-www-form-urlencoded; charset=utf-7", "application/x-www-form-urlencoded; charset=nonsense"), Pick(random, "{}", "[", "{\"changes\":[{}]}", "{\"changes\":" + new string('[', 200), "{\"code\":\"\\ud800\",\"name\":\"x\"}", Junk(random, 500, isHeader: false))),
        };
        if (type.Length > 0) text.Append("Content-Type: ").Append(type).Append("\r\n");
        switch (random.Next(10))
        {
            case 0:
                text.Append("Content-Length: ").Append(Pick(random, "-1", "x", "99999999999999999999", "1", (body.Length + 10).ToString(CultureInfo.InvariantCulture), "0")).Append("\r\n\r\n");
                break;
            case 1:
                text.Append("Transfer-Encoding: chunked\r\n\r\n").Append(body.Length.ToString("x", CultureInfo.InvariantCulture)).Append("\r\n").Append(body).Append(Pick(random, "\r\n0\r\n\r\n", "\r\nzz\r\n", ""));
                return;
            default:
                text.Append("Content-Length: ").Append(body.Length).Append("\r\n\r\n");
                break;
        }

        text.Append(body);
    }
}
