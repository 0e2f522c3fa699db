using System.Diagnostics;
using Tussock.Reports;
using Tussock.Reports.Print;
using Xunit;


namespace Tussock.Browser.Tests.Reports;

/// <summary>The printer by itself: small pages whose PDF is read by other programs.</summary>
// One printer at a time: a test counts processes.
[Collection("browser")]
public sealed class PdfPrinterTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_page_becomes_a_tagged_PDF_with_an_outline_and_numbered_pages()
    {
        using var printer = await PdfPrinter.StartAsync(TheBrowser(), Cancel);
        var pdf = await printer.PrintAsync(Page("<h1>First</h1><p>Some words.</p><h2 style=\"break-before:page\">Second</h2>"), Paper.Letter, Cancel);
        var folder = Directory.CreateTempSubdirectory("tussock-pdf-");
        try
        {
            var file = Path.Combine(folder.FullName, "a.pdf");
            await File.WriteAllBytesAsync(file, pdf, Cancel);
            var told = Run("pdfinfo", file);
            Assert.Contains("Tagged:          yes", told, StringComparison.Ordinal);
            Assert.Contains("Pages:           2", told, StringComparison.Ordinal);
            var text = Run("pdftotext", "-layout", file, "-");
            Assert.Contains("the foot", text, StringComparison.Ordinal);
            Assert.Matches(@"2\s*/\s*2", text);
            Assert.Contains("/Outlines", System.Text.Encoding.Latin1.GetString(pdf), StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task One_browser_prints_several_pages_and_leaves_no_process_behind()
    {
        using (var printer = await PdfPrinter.StartAsync(TheBrowser(), Cancel))
        {
            foreach (var words in (string[])["one", "two", "three"]) Assert.NotEmpty(await printer.PrintAsync(Page("<p>" + words + "</p>"), Paper.Letter, Cancel));
        }

        Assert.Equal(0, Running());
    }

    [Fact]
    public async Task A_program_that_is_no_browser_is_a_fault_that_is_said()
    {
        var fault = await Assert.ThrowsAsync<BrowserException>(() => PdfPrinter.StartAsync("/bin/false", Cancel));
        Assert.NotEmpty(fault.Message);
    }

    private static string TheBrowser() => InstalledBrowser.Find() ?? throw new InvalidOperationException("These tests need a browser of the Chromium family");

    private static ReportPage Page(string body) => new("page", "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>t</title><style>@page{size:letter;margin:15mm}</style></head><body>" + body + "</body></html>", "the foot");

    /// <summary>Browsers that a printer started, known by the name of their profile's folder; other people's browsers are left out.</summary>
    private static int Running()
    {
        var count = 0;
        foreach (var folder in Directory.GetDirectories("/proc").Where(f => char.IsAsciiDigit(Path.GetFileName(f)[0])))
        {
            try
            {
                if (File.ReadAllText(Path.Combine(folder, "cmdline")).Contains("tussock-print-", StringComparison.Ordinal)) count++;
            }
            catch (IOException)
            {
                // The process ended while it was looked at.
            }
        }

        return count;
    }

    private static string Run(string program, params string[] words)
    {
        using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardOutput = true, UseShellExecute = false })!;
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return text;
    }
}
