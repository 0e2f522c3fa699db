using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Review;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock inspect</c>: what is wrong, missing, late or odd in the records, worst first.</summary>
internal static class InspectCommand
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.Season(screen);
        var json = SharedOptions.Json(screen);
        var today = new Option<DateOnly?>("--today") { Description = screen.Words.Say("help.inspect.today"), HelpName = "DATE" };
        var command = new Command("inspect", screen.Words.Say("help.inspect")) { data, season, json, today };
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.Season(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            var findings = read is null ? problems : [.. Inspector.Findings(read, parsed.GetValue(today)), .. Waiting(parsed.GetValue(data)!, read.Settings.Name)];
            if (parsed.GetValue(json)) WriteJson(screen, findings);
            else WriteText(screen, findings);
            return read is null ? Exit.AtFault : Exit.Done;
        });
        return command;
    }

    /// <summary>Records of a data file whose changes have come and whose creation has not: they are in no table, and nothing else would show them.</summary>
    private static IEnumerable<Problem> Waiting(string data, string season) => SeasonSource.IsFolder(data) || !File.Exists(data)
        ? []
        : DataFile.OpenToRead(data).Waiting(season).Select(kind => new Problem("waiting", Severity.Note, new Place(Path.GetFileName(data)), Phrase.Of("store.waiting", ("kind", kind)), Phrase.Of("store.waiting_todo")));

    private static void WriteText(Screen screen, ImmutableArray<Problem> findings)
    {
        if (findings.IsEmpty) screen.Out.WriteLine(screen.Words.Say("inspect.nothing"));
        foreach (var group in findings.GroupBy(f => f.Severity))
        {
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("inspect.severity." + Token(group.Key), ("count", group.Count()))));
            foreach (var finding in group)
            {
                screen.Out.WriteLine("  " + finding.Place + ": " + screen.Words.Say(finding.What));
                screen.Out.WriteLine("      " + screen.Words.Say(finding.ToDo));
            }
        }
    }

    private static void WriteJson(Screen screen, ImmutableArray<Problem> findings)
    {
        using var stream = new MemoryStream();
        using (var writer = new Utf8JsonWriter(stream, Indented))
        {
            writer.WriteStartObject();
            writer.WriteString("contract", "inspect/1");
            writer.WriteStartArray("findings");
            foreach (var f in findings)
            {
                writer.WriteStartObject();
                writer.WriteString("severity", Token(f.Severity));
                writer.WriteString("rule", f.Rule);
                writer.WriteString("file", f.Place.File);
                if (f.Place.Line is { } line) writer.WriteNumber("line", line);
                else writer.WriteNull("line");
                writer.WriteString("column", f.Place.Column);
                writer.WriteString("transect", f.Transect);
                if (f.Nest is { } nest) writer.WriteNumber("nest", nest);
                else writer.WriteNull("nest");
                writer.WriteString("what", screen.Words.Say(f.What));
                writer.WriteString("to_do", screen.Words.Say(f.ToDo));
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        screen.Out.WriteLine(System.Text.Encoding.UTF8.GetString(stream.ToArray()));
    }

    private static string Token(Severity severity) => severity switch
    {
        Severity.Stop => "stop",
        Severity.Contradiction => "contradiction",
        Severity.Missing => "missing",
        Severity.Late => "late",
        Severity.Odd => "odd",
        _ => "note",
    };
}
