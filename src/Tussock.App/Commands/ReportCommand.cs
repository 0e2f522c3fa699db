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
        var season = SharedOptions.SeasonOrAll(screen);
        var folder = new Option<string>("--out") { Description = screen.Words.Say("help.report.out"), HelpName = "FOLDER", Required = true };
        var halfway = new Option<bool>("--halfway") { Description = screen.Words.Say("help.report.halfway") };
        var pdf = new Option<bool>("--pdf") { Description = screen.Words.Say("help.report.pdf") };
        var seed = SharedOptions.Seed(screen);
        var at = SharedOptions.At(screen);
        var command = new Command("report", screen.Words.Say("help.report")) { data, folder, season, halfway, pdf, seed, at };
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.SeasonOrAll(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            var making = new ReportMaking(SharedOptions.Version, parsed.GetValue(seed), SeasonDay.Of(read.Settings, parsed.GetValue(at)), Position(parsed.GetValue(data)!));
            SeasonResults results;
            using (var progress = new Progress(screen, "app.computing"))
            {
                results = SeasonResults.Of(read, new ResultsOptions { Seed = making.Seed, Cancel = cancel, Progress = progress.Report });
            }

            var pages = parsed.GetValue(halfway) ? HalfwayNotes.Of(results, making, screen.Words) : Final(results, making, screen, cancel);
            return PrintedPages.Write(pages, parsed.GetValue(folder)!, Paper.Letter, screen, cancel) || !parsed.GetValue(pdf) ? Exit.Done : Exit.AtFault;
        });
        return command;
    }

    private static ImmutableArray<ReportPage> Final(SeasonResults results, ReportMaking making, Screen screen, CancellationToken cancel)
    {
        var numbers = ReportNumbers.Of(results, cancel);
        return LandownerPages.Of(numbers, making, screen.Words).Add(TechnicalReport.Of(numbers, making, screen.Words));
    }

    /// <summary>The last change of a data file, so that a reader can have the same report again; null for a folder or the built-in season.</summary>
    internal static long? Position(string data) => SeasonSource.IsFolder(data) || !DataFile.IsThere(data) ? null : DataFile.OpenToRead(data).Position;
}
