using System.Collections.Immutable;
using System.CommandLine;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Store;
using Tussock.Years;

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

            var pages = parsed.GetValue(halfway) ? HalfwayNotes.Of(results, making, screen.Words) : Final(results, YearsUpto(parsed.GetValue(data)!, read.Settings, screen, cancel), making, screen, cancel);
            return PrintedPages.Write(pages, parsed.GetValue(folder)!, Paper.Letter, screen, cancel) || !parsed.GetValue(pdf) ? Exit.Done : Exit.AtFault;
        });
        return command;
    }

    /// <summary>The land's years up to that of the report, so that the same report can be made again later; none where DATA holds one season.</summary>
    private static ImmutableArray<LandYears> YearsUpto(string data, SeasonSettings settings, Screen screen, CancellationToken cancel)
    {
        if (SeasonSource.IsFolder(data) || !DataFile.IsThere(data) || DataFile.OpenToRead(data).Seasons().Length < 2) return [];
        using var progress = new Progress(screen, "app.computing");
        return LandYears.Of(YearsSource.Read(data, withParity: false, progress.Report, cancel).Years.Where(y => string.CompareOrdinal(y.Label, SeasonPooling.Label(settings)) <= 0));
    }

    private static ImmutableArray<ReportPage> Final(SeasonResults results, ImmutableArray<LandYears> years, ReportMaking making, Screen screen, CancellationToken cancel)
    {
        var numbers = ReportNumbers.Of(results, cancel);
        return LandownerPages.Of(numbers, making, screen.Words, years).Add(TechnicalReport.Of(numbers, making, screen.Words));
    }

    /// <summary>The last change of a data file, so that a reader can have the same report again; null for a folder or the built-in season.</summary>
    internal static long? Position(string data) => SeasonSource.IsFolder(data) || !DataFile.IsThere(data) ? null : DataFile.OpenToRead(data).Position;
}
