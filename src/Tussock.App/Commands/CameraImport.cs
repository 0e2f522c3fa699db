using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.Photos;
using Tussock.Exchange.SeasonFolder;
using Tussock.Fieldwork;
using Tussock.Fieldwork.Cameras;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA PACKAGE</c>: what cameras recorded into a season that is there; told before it is done, everything or nothing.</summary>
internal sealed class CameraImport
{
    private const int MostListed = 200;

    private readonly Screen screen;
    private readonly MapImportRequest request;
    private readonly CameraRequest how;
    private readonly PictureReading pictures;
    private readonly CancellationToken cancel;

    private CameraImport(Screen screen, MapImportRequest request, CameraRequest how, PictureReading pictures, CancellationToken cancel) =>
        (this.screen, this.request, this.how, this.pictures, this.cancel) = (screen, request, how, pictures, cancel);

    internal static bool Is(string source) => CameraPackageReader.Is(source);

    /// <summary>Takes a package in.</summary>
    internal static int Run(Screen screen, MapImportRequest request, CameraRequest how, CancellationToken cancel) => Run(screen, request, how,
        (_, zone) => CameraPackageReader.Read(request.Source, zone, cancel), (wanted, take) => CameraPackageReader.Pictures(request.Source, wanted, FieldBundle.MediaBytes, take), cancel);

    /// <summary>Takes in what a source of records from cameras holds.</summary>
    /// <param name="screen">Where things are said.</param>
    /// <param name="request">What and into what.</param>
    /// <param name="how">How.</param>
    /// <param name="read">Reads the records, times by the season's zone.</param>
    /// <param name="pictures">Reads the bytes of pictures.</param>
    /// <param name="cancel">Ends it.</param>
    internal static int Run(Screen screen, MapImportRequest request, CameraRequest how, Func<Season, TimeZoneInfo, CameraPackageReading> read, PictureReading pictures, CancellationToken cancel) =>
        new CameraImport(screen, request, how with { Choices = how.Choices with { Overrules = request.Apply } }, pictures, cancel).Run(read);

    private int Run(Func<Season, TimeZoneInfo, CameraPackageReading> read)
    {
        // Only reading says that there is no such file; writing would make one.
        if (!SeasonSource.IsFolder(request.Data)) _ = DataFile.OpenToRead(request.Data);
        var (season, wrong) = SeasonSource.Season(request.Data, request.Season, cancel);
        if (season is null) return screen.Refuse(wrong);
        if (SeasonDay.Zone(season.Settings) is not { } zone) return screen.Refuse([new Problem("time_zone", Severity.Stop, new Place("datapackage.json", null, "season.time_zone"), Phrase.Of("cameras.no_zone"), Phrase.Of("cameras.no_zone_todo"))]);
        var reading = read(season, zone);
        if (reading.Records is not { } records) return screen.Refuse(reading.Problems);
        var matching = new CameraMatching(season, records.Name, how.Decided, how.WithinM);
        var matches = records.Cameras.Select(matching.Of).ToArray();
        List(matches.Select(m => m.What));
        if (matches.All(m => m.Nest is null)) return screen.Refuse(Phrase.Of("cameras.none_matched"));
        if (!SeasonSource.IsFolder(request.Data)) records = WithHashes(records, matches);
        var taken = SeasonCameras.Of(season, records, matches, how.Choices);
        List(taken.Notes);
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("cameras.counts", ("added", taken.Added), ("changed", taken.Changed), ("open", matches.Count(m => m.Nest is null)))));
        var removes = how.Choices.RemovesMissing && taken.Missing.Length > 0;
        if (request.IsPreview) return Said("import.previewed");
        if (!taken.IsChanged && !removes) return Said("import.nothing");
        if ((taken.Changed > 0 || removes) && !request.Apply && !screen.IsYes(e => e.Write(screen.Words.Say("import.ask")))) return screen.Refuse(Phrase.Of("import.needs_apply"));
        return SeasonSource.IsFolder(request.Data) ? IntoFolder(taken) : IntoFile(season, records, matches, taken);
    }

    /// <summary>The pictures that are here, known by their content; those that may show people are not even opened.</summary>
    private CameraRecords WithHashes(CameraRecords records, CameraMatch[] matches)
    {
        var matched = matches.Where(m => m.Nest is not null).Select(m => m.Camera.Key).ToHashSet(StringComparer.Ordinal);
        var sightings = records.Sightings.ToLookup(s => s.Camera, StringComparer.Ordinal);
        var people = records.Pictures.GroupBy(p => p.Camera, StringComparer.Ordinal).SelectMany(g => PicturesOfPeople.Of(sightings[g.Key], g)).ToHashSet(StringComparer.Ordinal);
        var wanted = records.Pictures.Where(p => p.Hash.Length == 0 && matched.Contains(p.Camera) && !people.Contains(p.Key)).Select(p => p.File).Distinct(StringComparer.Ordinal).ToArray();
        var hashes = new Dictionary<string, string>(StringComparer.Ordinal);
        var absent = pictures(wanted, (file, bytes) =>
        {
            cancel.ThrowIfCancellationRequested();
            if (PhotoExif.KindOf(bytes) != PhotoKind.Other) hashes[file] = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes));
        });
        if (people.Count > 0) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("cameras.people_left", ("count", people.Count))));
        if (absent > 0) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("cameras.pictures_absent", ("count", absent))));
        return records with { Pictures = [.. records.Pictures.Select(p => people.Contains(p.Key) || p.Hash.Length > 0 ? p : p with { Hash = hashes.GetValueOrDefault(p.File, "") })] };
    }

    /// <summary>Keeps the bytes of the pictures, each content once.</summary>
    private void Keep(CameraRecords records)
    {
        var store = new MediaStore(request.Data);
        var wanted = records.Pictures.Where(p => p.Hash.Length > 0 && store.PathOf(p.Hash) is null).Select(p => p.File).Distinct(StringComparer.Ordinal).ToArray();
        pictures(wanted, (file, bytes) =>
        {
            cancel.ThrowIfCancellationRequested();
            if (store.Keep(bytes) is null) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("photos.no_room", ("file", file))));
        });
    }

    private int IntoFolder(SeasonCameras taken)
    {
        var wrong = SeasonFolderWriter.Write(taken.Tables, Directory.Exists(request.Data) ? request.Data : Path.GetDirectoryName(Path.GetFullPath(request.Data))!, overwrite: true, cancel);
        return wrong.Any(p => p.Severity == Severity.Stop) ? screen.Refuse(wrong) : Said("import.done");
    }

    private int IntoFile(Season season, CameraRecords records, CameraMatch[] matches, SeasonCameras taken)
    {
        var file = DataFile.OpenToWrite(request.Data);
        var moved = AnswerMoved.Watch(screen, file, season.Settings.Name, cancel);
        Keep(records);
        var outcome = file.Edit(season.Settings.Name, Path.GetFileName(Path.TrimEndingDirectorySeparator(request.Source)), t => Again(t, records, matches), request.By, DateTimeOffset.Now, cancel);
        if (outcome.End == ImportEnd.Stopped) return screen.Refuse(outcome.Plan.Problems);
        if (how.Choices.RemovesMissing && taken.Missing.Length > 0) file.Write(file.Seasons().First(s => s.Name == season.Settings.Name).Id, [.. taken.Missing.Select(m => Void(file, m.Kind, m.Id))], request.By, DateTimeOffset.Now);
        moved.Say(cancel);
        return Said("import.done");
    }

    /// <summary>The same on the records as they are at the moment of writing: somebody may have written meanwhile.</summary>
    private SeasonTables Again(SeasonTables tables, CameraRecords records, CameraMatch[] matches) =>
        SeasonReading.Read(tables, out _) is { } now ? SeasonCameras.Of(now, records, matches, how.Choices with { RemovesMissing = false }).Tables : tables;

    private static Draft Void(DataFile file, string kind, Guid id) =>
        new(kind, id, ChangeOp.Void, [new FieldChange(FieldName.Void, "yes", Fold.Record(file.Changes(id)).Field(FieldName.Void)?.HeadIds ?? [])]);

    private void List(IEnumerable<Phrase> lines)
    {
        var all = lines.ToArray();
        foreach (var line in all.Take(MostListed)) screen.Out.WriteLine(screen.Words.Say(line));
        if (all.Length > MostListed) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.and_more", ("count", all.Length - MostListed))));
    }

    private int Said(string key)
    {
        screen.Out.WriteLine(screen.Words.Say(key));
        return Exit.Done;
    }
}

/// <summary>Reads the bytes of pictures by their paths in the source; how many are not there or too long.</summary>
/// <param name="wanted">Paths as the records write them.</param>
/// <param name="take">Told of each.</param>
internal delegate int PictureReading(IReadOnlyCollection<string> wanted, Action<string, byte[]> take);
