using System.CommandLine;
using Tussock.Exchange.SeasonFolder;
using Tussock.Simulation;

namespace Tussock.App.Commands;

/// <summary><c>tussock demo</c>: writes an invented season as a season folder.</summary>
internal static class DemoCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var folder = new Argument<string>("folder") { Description = screen.Words.Say("help.demo.folder"), HelpName = "FOLDER" };
        var seed = SharedOptions.Seed(screen);
        var command = new Command("demo", screen.Words.Say("help.demo")) { folder, seed };
        command.SetAction(parsed =>
        {
            var to = parsed.GetValue(folder)!;
            var problems = SeasonFolderWriter.Write(DemoSeason.Write(parsed.GetValue(seed)), to, overwrite: false, cancel);
            if (!problems.IsEmpty) return screen.Refuse(problems);
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.demo_written", ("folder", to))));
            return Exit.Done;
        });
        return command;
    }
}
