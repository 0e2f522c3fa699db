using System.CommandLine;
using System.Globalization;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock restore</c>: checks a backup and makes a data file and its photos of it.</summary>
internal static class RestoreCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var backup = new Argument<string>("file") { Description = screen.Words.Say("help.restore.file"), HelpName = "FILE" };
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.restore.data"), HelpName = "DATA" };
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.restore.overwrite") };
        var command = new Command("restore", screen.Words.Say("help.restore")) { backup, data, overwrite };
        command.SetAction(parsed =>
        {
            var done = DataFile.Restore(parsed.GetValue(backup)!, parsed.GetValue(data)!, parsed.GetValue(overwrite), DateTimeOffset.UtcNow, cancel);
            if (!done.IsDone) return screen.Refuse(done.Problems);
            var contents = done.Contents;
            var at = contents.MadeAt.UtcDateTime;
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.restored", ("file", DataFile.NameOf(parsed.GetValue(data)!)), ("on", DateOnly.FromDateTime(at)), ("time", at.ToString("HH:mm", CultureInfo.InvariantCulture)), ("seasons", contents.Seasons.Length), ("changes", contents.Position), ("photos", contents.Photos.Length))));
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.restored_seasons", ("names", contents.Seasons.ToArray()))));
            if (contents.PhotosElsewhere > 0) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.backup_elsewhere", ("count", contents.PhotosElsewhere))));
            if (done.Kept is { } kept) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.restored_kept", ("file", kept))));
            foreach (var note in done.Problems) screen.Err.WriteLine(screen.Line(note));
            return Exit.Done;
        });
        return command;
    }
}
