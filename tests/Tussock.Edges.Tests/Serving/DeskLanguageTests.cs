// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk speaks to each browser in the language that was chosen there.</summary>
public sealed partial class DeskLanguageTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Theory]
    [InlineData("/map", "/map")]
    [InlineData("//elsewhere.example/", "/")]
    [InlineData("/\\elsewhere.example/", "/")]
    [InlineData("https://elsewhere.example/", "/")]
    [InlineData("", "/")]
    public async Task A_language_is_chosen_and_the_way_leads_back_to_this_desk(string back, string to)
    {
        var answer = await ChooseAsync("es", back);
        Assert.Equal((HttpStatusCode.SeeOther, to), (answer.StatusCode, answer.Headers.Location!.OriginalString));
        Assert.Contains("httponly", string.Join(' ', answer.Headers.GetValues("Set-Cookie")), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Every_page_is_said_in_Spanish_and_in_English_again()
    {
        await ChooseAsync("es", "/");
        foreach (var path in new[] { "/", "/worklist", "/map", "/records/visits", "/enter", "/results", "/results/curve", "/years", "/years/network", "/years/actions", "/reports", "/old", "/sheets", "/quick?lines=5%2F6+4%2F6", "/plan", "/plan/lines", "/plan/days", "/plan/supplies", "/plan/practice", "/plan/practice?transects=0", "/cases", "/backup", "/nothing" })
        {
            var page = await (await desk.Client.GetAsync(new Uri(path, UriKind.Relative))).Content.ReadAsStringAsync();
            Assert.Contains("<html lang=\"es\">", page, StringComparison.Ordinal);
            Assert.Contains("Ir al contenido", page, StringComparison.Ordinal);
        }

        await ChooseAsync("xx", "/");
        Assert.Contains("<html lang=\"es\">", await desk.Client.GetStringAsync(new Uri("/", UriKind.Relative)), StringComparison.Ordinal);
        await ChooseAsync("en", "/");
        Assert.Contains("<html lang=\"en\">", await desk.Client.GetStringAsync(new Uri("/", UriKind.Relative)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sheets_are_printed_in_the_language_that_was_chosen()
    {
        var sheet = Sheet().Match(await desk.Client.GetStringAsync(new Uri("/sheets", UriKind.Relative))).Groups["to"].Value;
        var english = await desk.Client.GetStringAsync(new Uri(sheet, UriKind.Relative));
        await ChooseAsync("es", "/");
        var spanish = await desk.Client.GetStringAsync(new Uri(sheet, UriKind.Relative));
        Assert.Contains("lang=\"en\"", english, StringComparison.Ordinal);
        Assert.Contains("lang=\"es\"", spanish, StringComparison.Ordinal);
    }

    private async Task<HttpResponseMessage> ChooseAsync(string to, string back)
    {
        var token = Token().Match(await desk.Client.GetStringAsync(new Uri("/quick", UriKind.Relative)));
        return await desk.Client.PostAsync(new Uri("/language", UriKind.Relative), new FormUrlEncodedContent(new Dictionary<string, string> { [token.Groups["name"].Value] = WebUtility.HtmlDecode(token.Groups["value"].Value), ["to"] = to, ["back"] = back }));
    }

    [GeneratedRegex("href=\"(?<to>/sheets/[^\"]+)\"")]
    private static partial Regex Sheet();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
