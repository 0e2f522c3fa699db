// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Tussock.Desk;
using Tussock.Exchange.SeasonFolder;
using Tussock.Reports.Technical;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What is taken away from the results, and the reasons behind them.</summary>
public sealed partial class DeskAwayTests : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task Every_picture_of_every_chapter_is_a_whole_file()
    {
        var pictures = 0;
        foreach (var chapter in TechnicalReport.ChapterKeys.Select(TechnicalReport.Anchor))
        {
            var page = await desk.Client.GetStringAsync(new Uri("/results/" + chapter, UriKind.Relative));
            foreach (Match link in Pictures().Matches(page))
            {
                using var answer = await desk.Client.GetAsync(new Uri(link.Groups["to"].Value, UriKind.Relative));
                Assert.Equal("image/svg+xml", answer.Content.Headers.ContentType!.MediaType);
                Assert.Equal("attachment", answer.Content.Headers.ContentDisposition!.DispositionType);
                Assert.Equal("svg", XDocument.Parse(await answer.Content.ReadAsStringAsync()).Root!.Name.LocalName);
                pictures++;
            }
        }

        Assert.True(pictures > 5, "no picture was found");
    }

    [Fact]
    public async Task Every_link_of_every_method_leads_somewhere()
    {
        foreach (var method in TechnicalReport.ChapterKeys.SelectMany(k => MethodPages.Of(TechnicalReport.Anchor(k))).Distinct(StringComparer.Ordinal))
        {
            var page = await desk.Client.GetStringAsync(new Uri("/why/" + method, UriKind.Relative));
            Assert.DoesNotContain(".md\"", page, StringComparison.Ordinal);
            foreach (Match link in Methods().Matches(page)) Assert.NotNull(MethodPages.Title(link.Groups["to"].Value));
        }
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@cmd", "'@cmd")]
    [InlineData("-3.5", "-3.5")]
    [InlineData("-anything", "'-anything")]
    [InlineData("gate, north \"one\"", "\"gate, north \"\"one\"\"\"")]
    public void A_cell_that_a_spreadsheet_would_run_is_text(string cell, string written) => Assert.Equal("a\n" + written + "\n", CsvText.OfCells(["a"], [[cell]]));

    [GeneratedRegex("href=\"(?<to>/results/[a-z_0-9]+/[0-9]+\\.svg)\"")]
    private static partial Regex Pictures();

    [GeneratedRegex("href=\"/why/(?<to>[a-z-]+)\"")]
    private static partial Regex Methods();
}
