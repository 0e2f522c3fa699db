using System.CommandLine;
using System.Text;
using Tussock.Provisions;
using Tussock.Reports;
using Tussock.Reports.Print;
using Tussock.Reports.Sheets;

namespace Tussock.App.Commands;

/// <summary><c>tussock sheets</c>: field sheets as files.</summary>
internal static class SheetsCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.Season(screen);
        var folder = new Option<string>("--out") { Description = screen.Words.Say("help.sheets.out"), HelpName = "FOLDER" };
        var app = new Option<Uri?>("--app")
        {
            Description = screen.Words.Say("help.sheets.app"),
            HelpName = "ADDRESS",
            CustomParser = result =>
            {
                if (result.Tokens.Count == 1 && Uri.TryCreate(result.Tokens[0].Value, UriKind.Absolute, out var address) && address.Scheme is "https" or "http") return address;
                result.AddError(screen.Words.Say("help.sheets.app_wrong"));
                return null;
            },
        };
        var paper = new Option<string>("--paper") { Description = screen.Words.Say("help.sheets.paper"), HelpName = "letter|a4", DefaultValueFactory = _ => "letter" };
        paper.AcceptOnlyFromAmong("letter", "a4");
        var pdf = new Option<bool>("--pdf") { Description = screen.Words.Say("help.sheets.pdf") };
        var workbook = new Option<string>("--workbook") { Description = screen.Words.Say("help.sheets.workbook"), HelpName = "FILE.xlsx" };
        var supplies = new SupplyOptions(screen);
        var at = SharedOptions.At(screen);
        var command = new Command("sheets", screen.Words.Say("help.sheets")) { data, folder, workbook, season, supplies.Survival, supplies.Spare, supplies.Cameras, supplies.Costs, app, paper, pdf, at };
        command.Validators.Add(parsed =>
        {
            if (parsed.GetResult(folder) is null && parsed.GetResult(workbook) is null) parsed.AddError(screen.Words.Say("help.sheets.where"));
        });
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(workbook) is { } file && (WorkbookFile.Write(screen, parsed.GetValue(data)!, parsed.GetValue(season), file, cancel) is > Exit.Done and var fault)) return fault;
            if (parsed.GetValue(folder) is not { } to) return Exit.Done;
            var (read, problems) = SeasonSource.Season(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            var making = new ReportMaking(SharedOptions.Version, 1, SeasonDay.Of(read.Settings, parsed.GetValue(at)), ReportCommand.Position(parsed.GetValue(data)!));
            var pages = FieldSheets.Of(read, making, parsed.GetValue(app), screen.Words, supplies.Needs(parsed, read));
            ReportFiles.Write(to, SupplyCsv.File, Encoding.UTF8.GetBytes(SupplyCsv.Of(SupplyList.Of(read, supplies.Needs(parsed, read)), screen.Words)));
            var size = parsed.GetValue(paper) == "a4" ? Paper.A4 : Paper.Letter;
            return PrintedPages.Write(pages, to, size, screen, cancel) || !parsed.GetValue(pdf) ? Exit.Done : Exit.AtFault;
        });
        return command;
    }
}
