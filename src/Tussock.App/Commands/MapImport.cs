using Tussock.Exchange.Places;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA places.gpx</c>: places from a receiver or a map into a season that is there, told line by line.</summary>
internal static class MapImport
{
    private const int MostListed = 400;

    internal static bool Is(string source) => MapFiles.Is(source);

    internal static int Run(Screen screen, MapImportRequest request, CancellationToken cancel)
    {
        // Only reading says that there is no such file; writing would make one.
        if (!SeasonSource.IsFolder(request.Data)) _ = DataFile.OpenToRead(request.Data);
        var (tables, wrong) = SeasonSource.Tables(request.Data, request.Season, cancel);
        if (tables is null || wrong.Any(p => p.Severity == Severity.Stop)) return screen.Refuse(wrong);
        var reading = MapFiles.Read(request.Source);
        if (reading.IsStopped) return screen.Refuse(reading.Problems);
        foreach (var note in reading.Problems) screen.Err.WriteLine(screen.Line(note));
        var taken = Taken(tables, reading, request.Source);
        if (!taken.Problems.IsEmpty) return screen.Refuse(taken.Problems);
        List(screen, taken);
        if (!taken.Lines.Any(l => l.IsTaken)) return screen.Refuse(Phrase.Of("maps.nothing_known"));
        if (request.IsPreview) return Said(screen, "import.previewed");
        if (!taken.IsChanged) return Said(screen, "import.nothing");
        if (taken.Replaced > 0 && !request.Apply && !screen.IsYes(e => e.Write(screen.Words.Say(Phrase.Of("maps.ask", ("count", taken.Replaced)))))) return screen.Refuse(Phrase.Of("maps.replaces", ("count", taken.Replaced)));
        return SeasonSource.IsFolder(request.Data) ? IntoFolder(screen, request.Data, taken, cancel) : IntoFile(screen, request, reading, cancel);
    }

    private static PlacesTaken Taken(SeasonTables tables, MapReading reading, string source) =>
        PlacesTaken.Of(tables, reading.Features, isGps: source.EndsWith(".gpx", StringComparison.OrdinalIgnoreCase));

    private static int IntoFolder(Screen screen, string data, PlacesTaken taken, CancellationToken cancel)
    {
        var wrong = SeasonFolderWriter.Write(taken.Tables, Directory.Exists(data) ? data : Path.GetDirectoryName(Path.GetFullPath(data))!, overwrite: true, cancel);
        return wrong.Any(p => p.Severity == Severity.Stop) ? screen.Refuse(wrong) : Said(screen, "import.done");
    }

    private static int IntoFile(Screen screen, MapImportRequest request, MapReading reading, CancellationToken cancel)
    {
        var file = DataFile.OpenToWrite(request.Data);
        var outcome = file.Edit(SeasonSource.Chosen(file, request.Season).Name!, Path.GetFileName(request.Source), t => Taken(t, reading, request.Source).Tables, request.By, DateTimeOffset.Now, cancel);
        return outcome.End switch
        {
            ImportEnd.Stopped => screen.Refuse(outcome.Plan.Problems),
            ImportEnd.NothingToDo => Said(screen, "import.nothing"),
            _ => Said(screen, "import.done"),
        };
    }

    private static void List(Screen screen, PlacesTaken taken)
    {
        var told = taken.Lines.Where(l => l.IsChange || !l.IsTaken).ToArray();
        foreach (var line in told.Take(MostListed)) screen.Out.WriteLine(line.From + ": " + screen.Words.Say(line.What));
        if (told.Length > MostListed) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.and_more", ("count", told.Length - MostListed))));
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("maps.counts", ("changed", taken.Lines.Count(l => l.IsChange)), ("same", taken.Lines.Count(l => l.IsTaken && !l.IsChange)), ("left", taken.Lines.Count(l => !l.IsTaken)))));
    }

    private static int Said(Screen screen, string key)
    {
        screen.Out.WriteLine(screen.Words.Say(key));
        return Exit.Done;
    }
}

/// <summary>What to import and how.</summary>
/// <param name="Data">Data file or season folder.</param>
/// <param name="Source">File of places.</param>
/// <param name="Season">Name of the season; null when there is only one.</param>
/// <param name="IsPreview">Whether only to say what would be done.</param>
/// <param name="Apply">Whether places that are there may be replaced.</param>
/// <param name="By">Who.</param>
internal sealed record MapImportRequest(string Data, string Source, string? Season, bool IsPreview, bool Apply, string By);
