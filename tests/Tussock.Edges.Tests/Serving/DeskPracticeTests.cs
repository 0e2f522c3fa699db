// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.Planning.Practice;
using Tussock.Verdicts;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A whole study practised at the desk: nothing of it touches the season's records, and the browser alone remembers it.</summary>
public sealed partial class DeskPracticeTests : IAsyncDisposable
{
    private static readonly PracticeSeason Season = PracticeSeason.Of(new PracticeDesign(5, 4), 7);
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_design_is_walked_concluded_about_and_opened_and_the_first_conclusion_stands()
    {
        var position = desk.File.Position;
        var walked = await desk.Client.GetAsync(new Uri("/plan/practice?transects=5&nests=4&first_check=14&belts=yes", UriKind.Relative));
        Assert.Equal(HttpStatusCode.SeeOther, walked.StatusCode);
        Assert.StartsWith("/plan/practice?code=5-4-14B-", walked.Headers.Location!.OriginalString, StringComparison.Ordinal);

        var at = "/plan/practice?code=" + Season.Code;
        var before = await PageAsync(at);
        Assert.Contains("What do you conclude?", before, StringComparison.Ordinal);
        Assert.DoesNotContain(Numbers.Percent(Season.Truth.Survival, 1), before, StringComparison.Ordinal);

        var opened = await PostAsync("/plan/practice/open", ("code", Season.Code), ("says", "unlikely"), ("percent", "70"), ("clumps", "not_settled"), ("clumps_percent", "40"));
        Assert.Equal((HttpStatusCode.SeeOther, at), (opened.StatusCode, opened.Headers.Location!.OriginalString));
        await PostAsync("/plan/practice/open", ("code", Season.Code), ("says", "likely"), ("percent", "100"), ("clumps", "likely"), ("clumps_percent", "100"));
        var after = await PageAsync(at);
        var core = PracticeOpened.Of(Season, new Conclusion(CallKind.Unlikely, 70), new Conclusion(CallKind.None, 40));
        foreach (var said in PracticeSentences.Opened(core).Concat(PracticeSentences.Errors(core, core.Rates())).Concat(PracticeSentences.Tally(PracticeTally.Of([core])!))) Assert.Contains(Catalogue.English.Say(said), after, StringComparison.Ordinal);
        Assert.Contains("<svg", await PageAsync(at + "&curves=yes"), StringComparison.Ordinal);

        await PostAsync("/plan/practice/forget");
        Assert.DoesNotContain("Your seasons so far", await PageAsync("/plan/practice"), StringComparison.Ordinal);
        Assert.Equal(position, desk.File.Position);
        Assert.Empty(desk.Faults);
    }

    [Theory]
    [InlineData("says=&percent=70&clumps=likely&clumps_percent=60", "Say for each question")]
    [InlineData("says=likely&percent=70&clumps=&clumps_percent=60", "Say for each question")]
    [InlineData("says=likely&percent=seventy&clumps=likely&clumps_percent=60", "“seventy” is no percent")]
    [InlineData("says=likely&percent=30&clumps=likely&clumps_percent=60", "less than even")]
    [InlineData("says=likely&percent=70&clumps=likely&clumps_percent=<script>", "“<script>” is no percent")]
    public async Task What_is_no_conclusion_comes_back_with_what_is_wrong(string typed, string told)
    {
        var answer = await PostAsync("/plan/practice/open", [("code", Season.Code), .. typed.Split('&').Select(p => (p.Split('=')[0], p.Split('=')[1]))]);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var shown = await desk.Client.GetAsync(answer.Headers.Location);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, shown.StatusCode);
        var page = await shown.Content.ReadAsStringAsync();
        Assert.Contains(told, WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("The truth: ", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/plan/practice?transects=31&nests=4&first_check=14", HttpStatusCode.UnprocessableEntity, "from 1 to 30")]
    [InlineData("/plan/practice?code=5-4-14B-0000", HttpStatusCode.NotFound, "is no code")]
    [InlineData("/plan/practice?code=", HttpStatusCode.NotFound, "is no code")]
    public async Task What_is_no_design_and_no_code_is_told(string address, HttpStatusCode status, string told)
    {
        var answer = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
        Assert.Equal(status, answer.StatusCode);
        Assert.Contains(told, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync()), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("x")]
    [InlineData("5-4-14B-AAAA.u70_._.._...")]
    [InlineData("6-8-14B-BX0G0MNA754YZ.q70")]
    public async Task A_browser_that_remembers_nonsense_is_taken_for_one_that_remembers_nothing(string kept)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/plan/practice");
        request.Headers.Add("Cookie", "practised=" + kept);
        var answer = await desk.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.DoesNotContain("Your seasons so far", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private async Task<string> PageAsync(string address) => WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri(address, UriKind.Relative)));

    private async Task<HttpResponseMessage> PostAsync(string address, params (string Name, string Value)[] fields)
    {
        var token = Token().Match(await desk.Client.GetStringAsync(new Uri("/quick", UriKind.Relative)));
        return await desk.Client.PostAsync(new Uri(address, UriKind.Relative), new FormUrlEncodedContent(fields.Append((token.Groups["name"].Value, WebUtility.HtmlDecode(token.Groups["value"].Value))).ToDictionary(f => f.Item1, f => f.Item2)));
    }

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
