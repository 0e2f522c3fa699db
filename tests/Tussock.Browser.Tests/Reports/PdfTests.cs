using System.Text;
using Microsoft.Playwright;
using Tussock.Reports;
using Tussock.Reports.Print;
using Xunit;

namespace Tussock.Browser.Tests.Reports;

[Collection("browser")]
public sealed class PdfTests : IAsyncLifetime
{
    private readonly string folder = Directory.CreateTempSubdirectory("pdf-").FullName;
    private PdfPrinter printer = null!;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => printer = await PdfPrinter.StartAsync(InstalledBrowser.Find()!, Stop);

    public ValueTask DisposeAsync()
    {
        printer.Dispose();
        Directory.Delete(folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task A_landowners_file_is_exactly_one_page_on_letter_and_on_a4()
    {
        foreach (var page in SixPastures.Pages.Where(p => p.Name != "technical"))
        {
            foreach (var paper in (Paper[])[Paper.Letter, Paper.A4])
            {
                var info = Poppler.Run("pdfinfo", await Printed(page, paper));
                Assert.True(Line(info, "Pages:") == "1", page.Name + ": " + Line(info, "Pages:"));
                Assert.Contains(paper == Paper.A4 ? "A4" : "letter", Line(info, "Page size:"), StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public async Task All_fonts_are_inside_and_the_file_is_tagged()
    {
        foreach (var page in SixPastures.Pages)
        {
            var file = await Printed(page, Paper.Letter);
            Assert.Equal("yes", Line(Poppler.Run("pdfinfo", file), "Tagged:"));
            var fonts = Poppler.Run("pdffonts", file).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2).ToArray();
            Assert.NotEmpty(fonts);
            Assert.All(fonts, f => Assert.Equal("yes", f.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^5]));
            Assert.All(fonts, f => Assert.Contains("SourceSans3", f, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task The_technical_report_has_bookmarks_and_page_numbers()
    {
        var file = await Printed(SixPastures.Pages.Single(p => p.Name == "technical"), Paper.Letter);
        Assert.Contains("/Outlines", Encoding.Latin1.GetString(await File.ReadAllBytesAsync(file, Stop)), StringComparison.Ordinal);
        var pages = Line(Poppler.Run("pdfinfo", file), "Pages:");
        var text = Poppler.Run("pdftotext", "-layout", file, "-");
        Assert.Contains("2 / " + pages, text, StringComparison.Ordinal);
        Assert.Contains(pages + " / " + pages, text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_foot_of_a_full_page_is_not_cut_off()
    {
        foreach (var page in SixPastures.Pages.Where(p => p.Name != "technical"))
        {
            var text = Poppler.Run("pdftotext", await Printed(page, Paper.Letter), "-");
            Assert.Contains(page.Name.EndsWith("-to-share", StringComparison.Ordinal) ? "it holds no places" : "use the file to share", text, StringComparison.Ordinal);
            Assert.Matches(@"1\s*/\s*1", text);
        }
    }

    [Fact]
    public async Task Nothing_on_a_page_overlaps_or_is_wider_than_its_place()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await PageLook.Browser(playwright);
        foreach (var sheet in SixPastures.Pages) await PageLook.NothingIsWrongAsync(browser, sheet);
    }

    [Fact]
    public async Task Body_text_is_never_below_nine_points_and_the_verdict_never_below_eighteen()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await PageLook.Browser(playwright);
        foreach (var sheet in SixPastures.Pages.Where(p => p.Name != "technical"))
        {
            var page = await browser.NewPageAsync();
            await page.SetContentAsync(sheet.Html);
            var smallest = await page.EvaluateAsync<double>("Math.min(...[...document.querySelectorAll('p,li,h1,h2')].map(e => parseFloat(getComputedStyle(e).fontSize))) * 0.75");
            Assert.True(smallest >= 8.99, sheet.Name + ": " + smallest);
            var head = await page.EvaluateAsync<double>("Math.min(...[...document.querySelectorAll('.doubt,.verdict')].map(e => parseFloat(getComputedStyle(e).fontSize))) * 0.75");
            Assert.True(head >= 17.99, sheet.Name + ": " + head);
            await page.CloseAsync();
        }
    }

    [Fact]
    public async Task A_browser_that_is_none_is_said() => await Assert.ThrowsAsync<BrowserException>(() => PdfPrinter.StartAsync("/bin/true", Stop));

    private static string Line(string info, string name) => info.Split('\n').First(l => l.StartsWith(name, StringComparison.Ordinal))[name.Length..].Trim();

    private async Task<string> Printed(ReportPage page, Paper paper)
    {
        var file = Path.Combine(folder, page.Name + (paper == Paper.A4 ? "-a4" : "") + ".pdf");
        await File.WriteAllBytesAsync(file, await printer.PrintAsync(page, paper, Stop), Stop);
        if (Environment.GetEnvironmentVariable("TUSSOCK_KEEP_PAGES") is { Length: > 0 } kept) File.Copy(file, Path.Combine(kept, Path.GetFileName(file)), overwrite: true);
        return file;
    }
}
