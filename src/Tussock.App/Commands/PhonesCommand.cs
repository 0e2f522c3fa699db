using System.CommandLine;
using System.Globalization;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock phones</c>: lists the phones that were paired, and shuts one out.</summary>
internal static class PhonesCommand
{
    internal static Command Make(Screen screen)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA" };
        var shutOut = new Option<Guid?>("--shut-out") { Description = screen.Words.Say("help.phones.shut_out"), HelpName = "ID" };
        var command = new Command("phones", screen.Words.Say("help.phones")) { data, shutOut };
        command.SetAction(parsed =>
        {
            var path = parsed.GetValue(data)!;
            var file = DataFile.OpenToRead(path);
            if (parsed.GetValue(shutOut) is { } device)
            {
                if (file.Phones().All(p => p.Device != device)) return screen.Refuse(Phrase.Of("phones.none_such"));
                DataFile.OpenToWrite(path).ShutOut(device, DateTimeOffset.UtcNow);
            }

            foreach (var phone in file.Phones()) screen.Out.WriteLine(Line(screen, phone));
            if (file.Phones().IsEmpty) screen.Out.WriteLine(screen.Words.Say("phones.none"));
            return Exit.Done;
        });
        return command;
    }

    private static string Line(Screen screen, PairedPhone phone)
    {
        var line = phone.Device + "  " + screen.Words.Say(Phrase.Of("phones.paired", ("phone", phone.Name), ("at", At(phone.PairedAt))));
        if (phone.LastSeen is { } seen) line += ", " + screen.Words.Say(Phrase.Of("phones.seen", ("at", At(seen))));
        return phone.ShutOutAt is { } shut ? line + ", " + screen.Words.Say(Phrase.Of("phones.shut_out", ("at", At(shut)))) : line;
    }

    private static string At(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) + " UTC";
}
