using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Records;
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
        var season = SharedOptions.SeasonOrAll(screen);
        var json = SharedOptions.Json(screen);
        var today = new Option<DateOnly?>("--today") { Description = screen.Words.Say("help.inspect.today"), HelpName = "DATE" };
        var command = new Command("inspect", screen.Words.Say("help.inspect")) { data, season, json, today };
        command.SetAction(parsed =>
        {
            var (path, isAll) = (parsed.GetValue(data)!, parsed.GetValue(season) == PooledYears.All);
            var (seasons, wrong) = isAll ? SeasonSource.All(path, cancel) : ([], []);
            var (isRead, findings) = isAll ? Together(seasons, wrong, path, parsed.GetValue(today)) : Of(path, parsed.GetValue(season), parsed.GetValue(today), cancel);
            if (parsed.GetValue(json)) WriteJson(screen, findings);
            else WriteText(screen, findings);
            return isRead ? Exit.Done : Exit.AtFault;
        });
        return command;
    }

    private static (bool IsRead, ImmutableArray<Problem> Findings) Of(string data, string? season, DateOnly? today, CancellationToken cancel)
    {
        var (read, problems) = SeasonSource.Season(data, season, cancel);
        return read is null ? (false, problems) : (true, [.. Inspector.Findings(read, today), .. Waiting(data, read.Settings.Name)]);
    }

    /// <summary>Every season looked through by itself, its name before its files; what speaks against comparing them comes first.</summary>
    private static (bool IsRead, ImmutableArray<Problem> Findings) Together(ImmutableArray<SeasonTables> seasons, ImmutableArray<Problem> wrong, string data, DateOnly? today)
    {
        if (SeasonPooling.Pool(seasons, out var stopped) is not { } pooled || seasons.IsEmpty) return (false, wrong.AddRange(stopped));
        var cautions = pooled.Pooled!.Cautions.Select(c => new Problem("pooling", Severity.Odd, new Place(Path.GetFileName(data)), c, Phrase.Of("pooling.caution_todo")));
        var findings = seasons.Select(t => SeasonReading.Read(t, out _)!).SelectMany(s => Inspector.Findings(s, today).Concat(Waiting(data, s.Settings.Name)).Select(f => f with { Place = f.Place with { File = s.Settings.Name + "/" + f.Place.File } }));
        return (true, [.. cautions.Concat(findings).OrderBy(f => f.Severity)]);
    }

    /// <summary>Records of a data file whose changes have come and whose creation has not: they are in no table, and nothing else would show them.</summary>
    private static IEnumerable<Problem> Waiting(string data, string season) => SeasonSource.IsFolder(data) || !DataFile.IsThere(data)
        ? []
        : DataFile.OpenToRead(data).Waiting(season).Select(kind => new Problem("waiting", Severity.Note, new Place(DataFile.NameOf(data)), Phrase.Of("store.waiting", ("kind", kind)), Phrase.Of("store.waiting_todo")));

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
