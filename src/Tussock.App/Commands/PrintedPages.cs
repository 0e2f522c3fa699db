using System.Collections.Immutable;
using Tussock.Reports;
using Tussock.Reports.Print;

namespace Tussock.App.Commands;

/// <summary>Pages as files: HTML always, PDF where a browser is installed.</summary>
internal static class PrintedPages
{
    /// <summary>Writes the pages and names each file; says how to print them where no browser can.</summary>
    /// <returns>Whether the PDF files are there.</returns>
    internal static bool Write(ImmutableArray<ReportPage> pages, string to, Paper paper, Screen screen, CancellationToken cancel)
    {
        foreach (var page in pages) screen.Out.WriteLine(ReportFiles.Write(to, page));
        if (InstalledBrowser.Find() is not { } browser)
        {
            screen.Err.WriteLine(screen.Words.Say("report.pdf_no_browser"));
            return false;
        }

        try
        {
            PrintAsync(pages, to, paper, screen, browser, cancel).GetAwaiter().GetResult();
            return true;
        }
        catch (BrowserException fault)
        {
            // A browser that fails is the machine's business; the HTML is there and can be printed by hand.
            screen.Err.WriteLine(screen.Words.Say(Phrase.Of("report.pdf_failed", ("message", fault.Message))));
            return false;
        }
    }

    private static async Task PrintAsync(ImmutableArray<ReportPage> pages, string to, Paper paper, Screen screen, string browser, CancellationToken cancel)
    {
        using var progress = new Progress(screen, "report.printing");
        using var printer = await PdfPrinter.StartAsync(browser, cancel);
        for (var i = 0; i < pages.Length; i++)
        {
            screen.Out.WriteLine(ReportFiles.Write(to, pages[i].Name + ".pdf", await printer.PrintAsync(pages[i], paper, cancel)));
            progress.Report((i + 1.0) / pages.Length);
        }
    }
}
