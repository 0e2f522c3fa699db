// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk's button: a backup as a download.</summary>
public sealed partial class DeskBackupTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task The_button_hands_out_a_backup_that_can_be_taken_back()
    {
        desk.Media.Keep([1, 2, 3]);
        var page = await desk.Client.GetStringAsync(new Uri("/backup", UriKind.Relative));
        Assert.Contains("places of land and nests", page, StringComparison.Ordinal);
        var token = Token().Match(page);
        var answer = await PostAsync(new() { [token.Groups["name"].Value] = token.Groups["value"].Value });

        Assert.Equal(("application/zip", "attachment", HttpStatusCode.OK), (answer.Content.Headers.ContentType!.MediaType, answer.Content.Headers.ContentDisposition!.DispositionType, answer.StatusCode));
        var zip = Path.Combine(desk.Folder, "got.zip");
        await File.WriteAllBytesAsync(zip, await answer.Content.ReadAsByteArrayAsync());
        var done = DataFile.Restore(zip, Path.Combine(desk.Folder, "back.db"), overwrite: false, DateTimeOffset.UnixEpoch);
        Assert.True(done.IsDone);
        Assert.Single(done.Contents.Photos);
        Assert.DoesNotContain(Directory.EnumerateFiles(desk.Folder), f => f.EndsWith(".copy", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_the_token_of_the_page_nothing_is_handed_out()
    {
        var answer = await PostAsync([]);
        Assert.Equal((HttpStatusCode.BadRequest, "text/html"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
    }

    /// <summary>The photos are cut off in the middle: a download that merely ended would look whole.</summary>
    [Fact]
    public async Task A_backup_that_fails_on_its_way_breaks_off()
    {
        var photo = desk.Media.PathOf(desk.Media.Keep(new byte[300_000])!)!;
        var page = await desk.Client.GetStringAsync(new Uri("/backup", UriKind.Relative));
        var token = Token().Match(page);
        using var locked = new FileStream(photo, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
        await Assert.ThrowsAnyAsync<Exception>(async () => await (await PostAsync(new() { [token.Groups["name"].Value] = token.Groups["value"].Value })).EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync());
    }

    private Task<HttpResponseMessage> PostAsync(Dictionary<string, string> form) => desk.Client.PostAsync(new Uri("/backup", UriKind.Relative), new FormUrlEncodedContent(form));

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
