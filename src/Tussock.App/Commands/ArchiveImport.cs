using System.Text.Json;
using Tussock.Exchange.Archive;
using Tussock.Records;
using Tussock.Store;
using JsonProperty = Tussock.Records.JsonProperty;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA ARCHIVE</c>: the seasons of a published archive as seasons of their own. What is there is never changed: an archive may be coarsened, and its names are numbers.</summary>
internal static class ArchiveImport
{
    internal static bool Is(string source) => ArchiveReader.Is(source);

    internal static int Run(Screen screen, MapImportRequest request, CancellationToken cancel)
    {
        if (SeasonSource.IsFolder(request.Data)) return Refuse(screen, request.Data, "archive.no_folder");
        var (seasons, isCoarsened, problems) = ArchiveReader.Read(request.Source, cancel);
        if (seasons.IsEmpty) return screen.Refuse(problems);
        if (request.Season is { } name)
        {
            if (seasons.Length > 1) return Refuse(screen, request.Source, "archive.one_name", ("seasons", seasons.Length));
            seasons = [Named(seasons[0], name)];
        }

        var stored = Stored(request.Data);
        if (isCoarsened && stored.Values.Any(s => s.Archive != MarkOf(seasons[0]))) return Refuse(screen, request.Data, "archive.coarse_alone");
        if (!isCoarsened && IsBesideCoarsened(request.Data, seasons[0])) return Refuse(screen, request.Data, "archive.coarse_there");
        // Under a second name its nests would count twice.
        if (isCoarsened && seasons.Length == 1 && stored.Count > 0) seasons = [Named(seasons[0], stored.Keys.First())];
        var (fresh, refused) = (new List<SeasonTables>(), new List<Problem>());
        foreach (var season in seasons)
        {
            var read = SeasonReading.Read(season, out _)!;
            if (!stored.TryGetValue(read.Settings.Name, out var archive)) fresh.Add(season);
            else if (archive.Archive != MarkOf(season)) refused.Add(new Problem("season_there", Severity.Stop, new Place(request.Data), Phrase.Of("archive.there", ("season", read.Settings.Name)), Phrase.Of("archive.there_todo")));
            var said = fresh.Contains(season) ? Phrase.Of("archive.season_read", ("season", read.Settings.Name), ("transects", read.Transects.Length), ("nests", read.Nests.Length), ("visits", read.Visits.Length)) : Phrase.Of("archive.same", ("season", read.Settings.Name));
            if (refused.Count == 0) screen.Out.WriteLine(screen.Words.Say(said));
        }

        if (refused.Count > 0) return screen.Refuse(refused);
        if (isCoarsened) screen.Out.WriteLine(screen.Words.Say("archive.coarse_read"));
        if (request.IsPreview || fresh.Count == 0)
        {
            screen.Out.WriteLine(screen.Words.Say(fresh.Count == 0 ? "import.nothing" : "import.previewed"));
            return Exit.Done;
        }

        var file = DataFile.OpenToWrite(request.Data);
        foreach (var season in fresh)
        {
            var outcome = file.Import(new ImportRequest { Season = season, By = request.By, Now = DateTimeOffset.Now }, cancellation: cancel);
            if (outcome.End == ImportEnd.Stopped) return screen.Refuse(outcome.Plan.Problems);
        }

        screen.Out.WriteLine(screen.Words.Say("import.done"));
        return Exit.Done;
    }

    /// <summary>Whether a season would stand beside coarsened ones of another source: there numbers stand for names, and the same nests may be among them.</summary>
    internal static bool IsBesideCoarsened(string data, SeasonTables season) => Stored(data).Values.Any(s => s.IsCoarsened && s.Archive != MarkOf(season));

    /// <summary>The seasons that are there by name; nothing where there is no data file yet.</summary>
    private static Dictionary<string, SeasonEntry> Stored(string data) => DataFile.IsThere(data) ? DataFile.OpenToRead(data).Seasons().ToDictionary(s => s.Name, StringComparer.Ordinal) : [];

    private static string MarkOf(SeasonTables season) => season.Package.SeasonJson(ArchiveReader.Mark) is { } mark ? JsonSerializer.Deserialize<string>(mark) ?? "" : "";

    private static SeasonTables Named(SeasonTables season, string name) =>
        season with { Package = season.Package with { Season = [.. season.Package.Season.Select(p => p.Name == "name" ? new JsonProperty("name", JsonSerializer.Serialize(name)) : p)] } };

    private static int Refuse(Screen screen, string path, string key, params ReadOnlySpan<(string, object)> arguments) =>
        screen.Refuse([new Problem("archive", Severity.Stop, new Place(path), Phrase.Of(key, arguments), Phrase.Of(key + "_todo"))]);
}
