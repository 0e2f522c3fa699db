// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk says amounts to each browser in the units that were chosen there; what is data has the unit that it always had.</summary>
public sealed partial class DeskUnitsTests : IAsyncDisposable
{
    private const string Typed = "/quick?lines=5%2F6+4%2F6+3%2F6+1%2F6&clumps=12+9+15&area=0.1+acre";
    private const string Chapter = "/results/density";
    private readonly RunningDesk desk = new(DemoSeason.Write(1), isLoopbackOnly: true, null, null);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Theory]
    [InlineData("en", "both", "120 an acre (297 a hectare)", "")]
    [InlineData("en", "us", "120 an acre, ", "a hectare")]
    [InlineData("en", "metric", "297 a hectare, ", "an acre")]
    [InlineData("es", "both", "120 por acre (297 por hectárea)", "")]
    [InlineData("es", "us", "120 por acre, ", "por hectárea")]
    [InlineData("es", "metric", "297 por hectárea, ", "por acre")]
    public async Task A_quick_answer_is_said_in_the_units_that_were_chosen(string language, string units, string said, string unsaid)
    {
        await ChooseAsync("/language", language);
        await ChooseAsync("/units", units);
        var answer = Answer().Match(WebUtility.HtmlDecode(await PageAsync(desk.Client, Typed))).Value;
        Assert.Contains(said, answer, StringComparison.Ordinal);
        if (unsaid.Length > 0) Assert.DoesNotContain(unsaid, answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en", "a hectare", "an acre", "Per hectare", "Per acre")]
    [InlineData("es", "por hectárea", "por acre", "Por hectárea", "Por acre")]
    public async Task The_chapter_of_densities_has_one_unit_in_sentences_picture_and_table(string language, string hectare, string acre, string perHectare, string perAcre)
    {
        await ChooseAsync("/language", language);
        var both = await ChapterAsync(desk.Client);
        foreach (var word in (string[])[hectare, acre, perHectare, perAcre]) Assert.Contains(word, both, StringComparison.Ordinal);
        await ChooseAsync("/units", "metric");
        var metric = await ChapterAsync(desk.Client);
        foreach (var word in (string[])[hectare, perHectare]) Assert.Contains(word, metric, StringComparison.Ordinal);
        foreach (var word in (string[])[acre, perAcre, " ft"]) Assert.DoesNotContain(word, metric, StringComparison.Ordinal);
        await ChooseAsync("/units", "us");
        var us = await ChapterAsync(desk.Client);
        foreach (var word in (string[])[acre, perAcre]) Assert.Contains(word, us, StringComparison.Ordinal);
        foreach (var word in (string[])[hectare, perHectare]) Assert.DoesNotContain(word, us, StringComparison.Ordinal);
        await ChooseAsync("/units", "both");
        Assert.Equal(both, await ChapterAsync(desk.Client));
    }

    [Fact]
    public async Task A_report_that_is_kept_says_both()
    {
        await ChapterAsync(desk.Client);
        await ChooseAsync("/units", "metric");
        var (name, value) = await TokenAsync();
        var made = await desk.Client.PostAsync(new Uri("/reports/make", UriKind.Relative), new FormUrlEncodedContent([new(name, value)]));
        Assert.Equal(HttpStatusCode.SeeOther, made.StatusCode);
        var report = Report().Match(await PageAsync(desk.Client, "/reports")).Groups["to"].Value;
        var text = WebUtility.HtmlDecode(await PageAsync(desk.Client, report));
        foreach (var word in (string[])[" an acre", " a hectare"]) Assert.Contains(word, text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_elses_page_changes_and_an_unknown_unit_changes_nothing()
    {
        using var other = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = desk.Address };
        var before = Answer().Match(await PageAsync(other, Typed)).Value;
        var chapter = await ChapterAsync(other);
        await ChooseAsync("/units", "metric");
        var metric = Answer().Match(await PageAsync(desk.Client, Typed)).Value;
        Assert.NotEqual(before, metric);
        Assert.NotEqual(chapter, await ChapterAsync(desk.Client));
        Assert.Equal(chapter, await ChapterAsync(other));
        Assert.Equal(before, Answer().Match(await PageAsync(other, Typed)).Value);
        await ChooseAsync("/units", "furlongs");
        Assert.Equal(metric, Answer().Match(await PageAsync(desk.Client, Typed)).Value);
    }

    [Fact]
    public async Task What_is_data_or_printed_has_the_same_units_whatever_was_chosen()
    {
        await ChapterAsync(desk.Client);
        var sheet = Sheet().Match(await PageAsync(desk.Client, "/sheets")).Groups["to"].Value;
        foreach (var path in (string[])["/results/density/numbers.csv", "/results/segments/numbers.csv", "/map.json", sheet])
        {
            await ChooseAsync("/units", "both");
            var before = await PageAsync(desk.Client, path);
            await ChooseAsync("/units", "metric");
            Assert.Equal(before, await PageAsync(desk.Client, path));
        }
    }

    [Fact]
    public async Task The_way_leads_back_to_the_answer_that_was_shown()
    {
        var (name, value) = await TokenAsync();
        var back = WebUtility.HtmlDecode(Back().Match(await PageAsync(desk.Client, Typed)).Groups["to"].Value);
        var answer = await desk.Client.PostAsync(new Uri("/units", UriKind.Relative), new FormUrlEncodedContent([new(name, value), new("to", "us"), new("back", back)]));
        Assert.Equal((HttpStatusCode.SeeOther, Typed), (answer.StatusCode, answer.Headers.Location!.OriginalString));
        Assert.Contains("httponly", string.Join(' ', answer.Headers.GetValues("Set-Cookie")), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("value=\"us\" aria-pressed=\"true\"", await PageAsync(desk.Client, Typed), StringComparison.Ordinal);
        Assert.Contains("name=\"back\" value=\"/worklist\"", await PageAsync(desk.Client, "/worklist?saved=yes"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_forged_form_chooses_nothing()
    {
        var answer = await desk.Client.PostAsync(new Uri("/units", UriKind.Relative), new FormUrlEncodedContent([new("to", "us"), new("back", "/")]));
        Assert.Equal((HttpStatusCode.BadRequest, false), (answer.StatusCode, answer.Headers.Contains("Set-Cookie")));
    }

    private static async Task<string> PageAsync(HttpClient client, string path) => await client.GetStringAsync(new Uri(path, UriKind.Relative));

    /// <summary>The chapter's sentences, picture and table, once they are there.</summary>
    private static async Task<string> ChapterAsync(HttpClient client)
    {
        for (var tries = 0; tries < 200; tries++)
        {
            if (Section().Match(await PageAsync(client, Chapter)) is { Success: true } found) return WebUtility.HtmlDecode(found.Value);
            await Task.Delay(100);
        }

        throw new TimeoutException("No answer came");
    }

    private async Task ChooseAsync(string path, string to)
    {
        var (name, value) = await TokenAsync();
        var answer = await desk.Client.PostAsync(new Uri(path, UriKind.Relative), new FormUrlEncodedContent([new(name, value), new("to", to), new("back", "/")]));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
    }

    private async Task<(string Name, string Value)> TokenAsync()
    {
        var token = Token().Match(await PageAsync(desk.Client, "/quick"));
        return (token.Groups["name"].Value, WebUtility.HtmlDecode(token.Groups["value"].Value));
    }

    [GeneratedRegex("<div role=\"status\">.*?</div>", RegexOptions.Singleline)]
    private static partial Regex Answer();

    [GeneratedRegex("<section class=\"chapter\">.*?<section class=\"away\"", RegexOptions.Singleline)]
    private static partial Regex Section();

    [GeneratedRegex("href=\"(?<to>/reports/[^\"?]*technical[^\"?]*)\"")]
    private static partial Regex Report();

    [GeneratedRegex("href=\"(?<to>/sheets/[^\"]+)\"")]
    private static partial Regex Sheet();

    [GeneratedRegex("name=\"back\" value=\"(?<to>[^\"]*)\"")]
    private static partial Regex Back();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
