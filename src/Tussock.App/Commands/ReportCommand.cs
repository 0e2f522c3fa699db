using System.Collections.Immutable;
using System.CommandLine;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock report</c>: landowner pages and technical report as files.</summary>
internal static class ReportCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.Season(screen);
        var folder = new Option<string>("--out") { Description = screen.Words.Say("help.report.out"), HelpName = "FOLDER", Required = true };
        var halfway = new Option<bool>("--halfway") { Description = screen.Words.Say("help.report.halfway") };
        var pdf = new Option<bool>("--pdf") { Description = screen.Words.Say("help.report.pdf") };
        var seed = SharedOptions.Seed(screen);
        var at = SharedOptions.At(screen);
        var command = new Command("report", screen.Words.Say("help.report")) { data, folder, season, halfway, pdf, seed, at };
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.Season(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            var making = new ReportMaking(SharedOptions.Version, parsed.GetValue(seed), DateOnly.FromDateTime((parsed.GetValue(at) ?? DateTimeOffset.UtcNow).UtcDateTime), Position(parsed.GetValue(data)!));
            SeasonResults results;
            using (var progress = new Progress(screen, "app.computing"))
            {
                results = SeasonResults.Of(read, new ResultsOptions { Seed = making.Seed, Cancel = cancel, Progress = progress.Report });
            }

            var pages = parsed.GetValue(halfway) ? HalfwayNotes.Of(results, making, screen.Words) : Final(results, making, screen, cancel);
            var to = parsed.GetValue(folder)!;
            foreach (var page in pages) screen.Out.WriteLine(ReportFiles.Write(to, page));
            return Print(pages, to, screen, cancel) || !parsed.GetValue(pdf) ? Exit.Done : Exit.AtFault;
        });
        return command;
    }

    private static ImmutableArray<ReportPage> Final(SeasonResults results, ReportMaking making, Screen screen, CancellationToken cancel)
    {
        var numbers = ReportNumbers.Of(results, cancel);
        return LandownerPages.Of(numbers, making, screen.Words).Add(TechnicalReport.Of(numbers, making, screen.Words));
    }

    /// <summary>Prints the pages where a browser is installed; else says how to print them.</summary>
    private static bool Print(ImmutableArray<ReportPage> pages, string to, Screen screen, CancellationToken cancel)
    {
        if (InstalledBrowser.Find() is not { } browser)
        {
            screen.Err.WriteLine(screen.Words.Say("report.pdf_no_browser"));
            return false;
        }

        try
        {
            PrintAsync(pages, to, screen, browser, cancel).GetAwaiter().GetResult();
            return true;
        }
        catch (BrowserException fault)
        {
            // A browser that fails is the machine's business; the HTML is there and can be printed by hand.
            screen.Err.WriteLine(screen.Words.Say(Phrase.Of("report.pdf_failed", ("message", fault.Message))));
            return false;
        }
    }

    private static async Task PrintAsync(ImmutableArray<ReportPage> pages, string to, Screen screen, string browser, CancellationToken cancel)
    {
        using var progress = new Progress(screen, "report.printing");
        using var printer = await PdfPrinter.StartAsync(browser, cancel);
        for (var i = 0; i < pages.Length; i++)
        {
            screen.Out.WriteLine(ReportFiles.Write(to, pages[i].Name + ".pdf", await printer.PrintAsync(pages[i], Paper.Letter, cancel)));
            progress.Report((i + 1.0) / pages.Length);
        }
    }

    /// <summary>The last change of a data file, so that a reader can have the same report again; null for a folder or the built-in season.</summary>
    private static long? Position(string data) => SeasonSource.IsFolder(data) || !File.Exists(data) ? null : DataFile.OpenToRead(data).Position;
}
