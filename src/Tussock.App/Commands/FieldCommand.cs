using System.CommandLine;
using Tussock.App.Serving;
using Tussock.Field;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock field</c>: the phone app as static files, for any https host, and a season's bundle to be taken in as a file.</summary>
internal static class FieldCommand
{
    private const string Bundle = "field-bundle.json";

    internal static Command Make(Screen screen)
    {
        var data = new Argument<string?>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA", Arity = ArgumentArity.ZeroOrOne };
        var folder = new Option<string>("--out") { Description = screen.Words.Say("help.field.out"), HelpName = "FOLDER", Required = true };
        var season = SharedOptions.Season(screen);
        var command = new Command("field", screen.Words.Say("help.field")) { data, folder, season };
        command.SetAction(parsed =>
        {
            var bundle = ReadOnlyMemory<byte>.Empty;
            if (parsed.GetValue(data) is { } path)
            {
                var file = DataFile.OpenToRead(path);
                var (name, wrong) = SeasonSource.Chosen(file, parsed.GetValue(season));
                if (name is null) return screen.Refuse(wrong);
                bundle = BundleShelf.Of(file, name, new PhoneCases(file, file.Media).Now(), holdsViews: true).Utf8(DateTimeOffset.UtcNow);
            }

            var to = parsed.GetValue(folder)!;
            foreach (var file in FieldFiles.All.Add(FieldFiles.List)) Write(to, file.Path, file.Bytes.Span);
            if (!bundle.IsEmpty) Write(to, Bundle, bundle.Span);
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of(bundle.IsEmpty ? "field_log.app_written" : "field_log.bundle_written", ("folder", to))));
            return Exit.Done;
        });
        return command;
    }

    private static void Write(string folder, string name, ReadOnlySpan<byte> bytes)
    {
        var path = Path.Combine(folder, Path.Combine(name.Split('/')));
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
    }
}
