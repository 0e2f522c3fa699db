// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Reports are made whole, kept as they were, and compared by what they said.</summary>
public sealed partial class DeskReportsTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_report_is_made_kept_read_and_saved()
    {
        Assert.Equal(HttpStatusCode.SeeOther, (await MakeAsync()).StatusCode);
        var page = await desk.Client.GetStringAsync(new Uri("/reports", UriKind.Relative));
        var files = Files().Matches(page).Select(m => m.Groups["to"].Value).Distinct(StringComparer.Ordinal).ToArray();

        Assert.Contains(files, f => f.EndsWith("/technical.html", StringComparison.Ordinal));
        Assert.Contains(files, f => f.Contains("to-share", StringComparison.Ordinal));
        foreach (var file in files)
        {
            using var read = await desk.Client.GetAsync(new Uri(file, UriKind.Relative));
            Assert.Contains("default-src 'none'", string.Join(' ', read.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
            Assert.Null(read.Content.Headers.ContentDisposition);
            using var saved = await desk.Client.GetAsync(new Uri(file + "?save=yes", UriKind.Relative));
            Assert.Equal("attachment", saved.Content.Headers.ContentDisposition!.DispositionType);
            Assert.Equal(await read.Content.ReadAsByteArrayAsync(), await saved.Content.ReadAsByteArrayAsync());
        }

        Assert.DoesNotContain(Directory.GetDirectories(desk.Folder, "*.part", SearchOption.AllDirectories), _ => true);
    }

    [Fact]
    public async Task A_kept_report_stays_what_it_was_and_two_are_compared()
    {
        await MakeAsync();
        var visit = desk.File.States("small").Records.Where(r => r.Kind == "visits" && r.Field("finding")?.Value == "intact").OrderByDescending(r => r.Field("visited_on")?.Value, StringComparer.Ordinal).First();
        desk.File.Write(desk.Season.Id, [new Journal.Draft("visits", visit.Id, Journal.ChangeOp.Set, [new Journal.FieldChange("finding", "depredated", visit.Field("finding")!.HeadIds), new Journal.FieldChange("eggs_intact", "0", visit.Field("eggs_intact")!.HeadIds)])], "crew 1", DateTimeOffset.UtcNow);
        await MakeAsync();
        var keys = Keys().Matches(await desk.Client.GetStringAsync(new Uri("/reports", UriKind.Relative))).Select(m => m.Groups["key"].Value).Distinct(StringComparer.Ordinal).ToArray();
        Assert.Equal(2, keys.Length);

        var compared = await desk.Client.GetStringAsync(new Uri($"/reports/compare?first={keys[1]}&second={keys[0]}", UriKind.Relative));
        Assert.Contains("class=\"late\"", compared, StringComparison.Ordinal);
        var same = await desk.Client.GetStringAsync(new Uri($"/reports/compare?first={keys[0]}&second={keys[0]}", UriKind.Relative));
        Assert.DoesNotContain("class=\"late\"", same, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/reports/compare?first=..&second=..")]
    [InlineData("/reports/..%2f..%2fsmall.db/technical.html")]
    [InlineData("/reports/nothing/technical.html")]
    [InlineData("/reports/nothing/made.json")]
    public async Task What_is_no_report_is_not_found(string address)
    {
        await MakeAsync();
        Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.GetAsync(new Uri(address, UriKind.Relative))).StatusCode);
    }

    [Fact]
    public async Task Strange_folders_are_passed_over()
    {
        await MakeAsync();
        var folder = Directory.GetDirectories(desk.Folder, "*.reports").Single();
        Directory.CreateDirectory(Path.Combine(folder, "mine"));
        await File.WriteAllTextAsync(Path.Combine(Directory.CreateDirectory(Path.Combine(folder, "broken")).FullName, "made.json"), "{");
        Assert.Equal(HttpStatusCode.OK, (await desk.Client.GetAsync(new Uri("/reports", UriKind.Relative))).StatusCode);
    }

    private async Task<HttpResponseMessage> MakeAsync()
    {
        for (var turn = 0; ; turn++)
        {
            var page = await desk.Client.GetStringAsync(new Uri("/reports", UriKind.Relative));
            if (page.Contains("being computed", StringComparison.Ordinal) && turn < 1200)
            {
                await Task.Delay(50);
                continue;
            }

            var token = Token().Match(page);
            return await desk.Client.PostAsync(new Uri("/reports/make", UriKind.Relative), new FormUrlEncodedContent(new Dictionary<string, string> { [token.Groups["name"].Value] = WebUtility.HtmlDecode(token.Groups["value"].Value) }));
        }
    }

    [GeneratedRegex("href=\"(?<to>/reports/[^\"?]+\\.html)\"")]
    private static partial Regex Files();

    [GeneratedRegex("/reports/(?<key>[0-9-]+)/technical")]
    private static partial Regex Keys();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
