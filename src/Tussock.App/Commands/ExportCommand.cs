using System.CommandLine;
using Tussock.Exchange.SeasonFolder;

namespace Tussock.App.Commands;

/// <summary><c>tussock export</c>: DATA as a season folder, exact.</summary>
internal static class ExportCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var folder = new Argument<string>("folder") { Description = screen.Words.Say("help.export.folder"), HelpName = "FOLDER" };
        var season = SharedOptions.Season(screen);
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.export.overwrite") };
        var command = new Command("export", screen.Words.Say("help.export")) { data, folder, season, overwrite };
        command.SetAction(parsed =>
        {
            var (tables, problems) = SeasonSource.Tables(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (tables is null || problems.Any(p => p.Severity == Severity.Stop)) return screen.Refuse(problems);
            var wrong = SeasonFolderWriter.Write(tables, parsed.GetValue(folder)!, parsed.GetValue(overwrite), cancel);
            if (!wrong.IsEmpty) return screen.Refuse(wrong);
            MediaFolder.HandOut(tables, parsed.GetValue(data)!, parsed.GetValue(folder)!, cancel);
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.exported", ("folder", parsed.GetValue(folder)!))));
            return Exit.Done;
        });
        return command;
    }
}
