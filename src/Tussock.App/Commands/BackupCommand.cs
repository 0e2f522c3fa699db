using System.CommandLine;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock backup</c>: the data file as it stands and its photos, in one zip.</summary>
internal static class BackupCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.backup.data"), HelpName = "DATA" };
        var target = new Argument<string>("file") { Description = screen.Words.Say("help.backup.file"), HelpName = "FILE" };
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.backup.overwrite") };
        var command = new Command("backup", screen.Words.Say("help.backup")) { data, target, overwrite };
        command.SetAction(parsed =>
        {
            var made = DataFile.OpenToRead(parsed.GetValue(data)!).BackUp(parsed.GetValue(target)!, parsed.GetValue(overwrite), DateTimeOffset.UtcNow, SharedOptions.Version, cancel);
            var contents = made.Contents;
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.backup_done", ("file", parsed.GetValue(target)!), ("seasons", contents.Seasons.Length), ("changes", contents.Position), ("photos", contents.Photos.Length))));
            screen.Out.WriteLine(screen.Words.Say("app.backup_exact"));
            if (contents.PhotosElsewhere > 0) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("app.backup_elsewhere", ("count", contents.PhotosElsewhere))));
            foreach (var hash in made.Damaged) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("app.backup_damaged", ("hash", hash))));
            return made.Damaged.IsEmpty ? Exit.Done : Exit.AtFault;
        });
        return command;
    }
}
