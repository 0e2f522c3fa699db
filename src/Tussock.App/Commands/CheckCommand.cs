using System.CommandLine;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock check</c>: refolds the journal, compares it with the tables, and checks the file.</summary>
internal static class CheckCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA" };
        var command = new Command("check", screen.Words.Say("help.check")) { data };
        command.SetAction(parsed =>
        {
            var file = DataFile.OpenToRead(parsed.GetValue(data)!);
            var problems = file.Check(null, cancel);
            if (!problems.IsEmpty) return screen.Refuse(problems);
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.check_ok", ("seasons", file.Seasons().Length), ("changes", file.Position))));
            return Exit.Done;
        });
        return command;
    }
}
