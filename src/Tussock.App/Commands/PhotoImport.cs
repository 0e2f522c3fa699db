using System.Collections.Immutable;
using System.Globalization;
using Tussock.Exchange.Photos;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA FOLDER-OF-PHOTOS</c>: pictures of a card into the data, each once by its content, matched to nests where that is clear.</summary>
internal sealed class PhotoImport
{
    /// <summary>Pictures that one run takes.</summary>
    internal const int Most = 5_000;

    private static readonly string[] Endings = [".jpg", ".jpeg", ".png", ".heic", ".heif"];

    private readonly Screen screen;
    private readonly PhotoMatching matching;
    private readonly TimeZoneInfo? zone;
    private readonly HashSet<string> known;
    private readonly Guid season;
    private readonly MediaStore? store;
    private readonly List<Draft> drafts = [];
    private int matched, there, withoutOffset;

    private PhotoImport(Screen screen, Season read, Guid season, MediaStore? store)
    {
        (this.screen, this.season, this.store) = (screen, season, store);
        matching = new PhotoMatching(read);
        zone = SeasonDay.Zone(read.Settings);
        known = [.. read.Tables.Table(RecordKind.Media) is { } table ? table.Rows.Select(r => r.Cells[table.IndexOf("media")]) : []];
    }

    /// <summary>Whether a source is a folder of pictures: no season folder, and a picture somewhere in it.</summary>
    internal static bool Is(string source) => Directory.Exists(source) && !File.Exists(Path.Combine(source, "datapackage.json")) && Pictures(source).Any();

    internal static int Run(Screen screen, string data, string source, string? season, string? by, bool isPreview, CancellationToken cancel)
    {
        string[] files;
        try
        {
            files = [.. Pictures(source).Take(Most + 1).Order(StringComparer.Ordinal)];
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // A card that was pulled out, or no leave to look: a sentence, and nothing was taken in.
            return screen.Refuse([new Problem("unreadable", Severity.Stop, new Place(source), Phrase.Of("photos.unreadable"), Phrase.Of("photos.unreadable_todo"))]);
        }

        if (files.Length > Most) return screen.Refuse([new Problem("too_many", Severity.Stop, new Place(source), Phrase.Of("photos.too_many", ("count", files.Length), ("most", Most)), Phrase.Of("photos.too_many_todo"))]);
        var (read, problems) = SeasonSource.Season(data, season, cancel);
        if (read is null) return screen.Refuse(problems);
        // Only reading says that there is no such file; writing would make one.
        var file = isPreview ? DataFile.OpenToRead(data) : DataFile.OpenToWrite(data);
        var import = new PhotoImport(screen, read, file.Seasons().First(s => s.Name == read.Settings.Name).Id, isPreview ? null : new MediaStore(data));
        foreach (var path in files)
        {
            cancel.ThrowIfCancellationRequested();
            import.Take(path, Path.GetRelativePath(source, path).Replace('\\', '/'));
        }

        if (!isPreview && import.drafts.Count > 0) file.Write(import.season, import.drafts, SharedOptions.Who(by), DateTimeOffset.Now);
        import.Say(isPreview);
        return Exit.Done;
    }

    /// <summary>Paths of the pictures in a folder, folders inside it too, links left alone.</summary>
    internal static IEnumerable<string> Pictures(string folder) =>
        Directory.EnumerateFiles(folder, "*", new EnumerationOptions { RecurseSubdirectories = true, MaxRecursionDepth = 8, AttributesToSkip = FileAttributes.ReparsePoint })
            .Where(f => Endings.Contains(Path.GetExtension(f).ToLowerInvariant()));

    private void Take(string path, string name)
    {
        if (Bytes(path, name, screen) is not { } bytes) return;
        var kind = PhotoExif.KindOf(bytes);
        if (kind == PhotoKind.Other)
        {
            Tell(Phrase.Of("photos.no_picture", ("file", name)));
            return;
        }

        var hash = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes));
        // A record may have come before its bytes: a phone sends them apart.
        var isKept = store is null || store.Keep(bytes) is not null;
        if (!isKept) Tell(Phrase.Of("photos.no_room", ("file", name)));
        else if (!known.Add(hash)) there++;
        else Match(PhotoExif.Read(bytes), hash, kind, name);
    }

    /// <summary>Bytes of a picture; null, and told, when they can't be had or are too many.</summary>
    internal static byte[]? Bytes(string path, string name, Screen screen)
    {
        try
        {
            if (new FileInfo(path).Length <= FieldBundle.MediaBytes) return File.ReadAllBytes(path);
            screen.Err.WriteLine(screen.Words.Say(Phrase.Of("photos.too_big", ("file", name), ("most", FieldBundle.MediaBytes >> 20))));
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // One bad file, or a card pulled out: said, and the others are taken all the same.
            screen.Err.WriteLine(screen.Words.Say(Phrase.Of("photos.no_bytes", ("file", name))));
        }

        return null;
    }

    private void Match(PhotoExif exif, string hash, PhotoKind kind, string name)
    {
        if (exif is { TakenAt: not null, Offset: null }) withoutOffset++;
        var at = exif.TakenAt is { } clock && exif.Offset is { } offset && zone is not null ? TimeZoneInfo.ConvertTime(new DateTimeOffset(clock, offset), zone).DateTime : exif.TakenAt;
        var match = matching.Of(new PhotoSeen(Path.GetFileName(name), at, exif.At, exif.AccuracyM));
        var by = match.By.Select(b => screen.Words.Say("photos.by_" + b));
        if (match.Nest is { } nest) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("photos.matched", ("file", name), ("transect", nest.Transect.Name), ("nest", nest.Number), ("by", string.Join(", ", by)))));
        else if (match.Candidates.IsEmpty) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("photos.nowhere", ("file", name))));
        else screen.Out.WriteLine(screen.Words.Say(Phrase.Of("photos.open", ("file", name), ("nests", string.Join("; ", match.Candidates.Take(5).Select(n => screen.Words.Say(Phrase.Of("photos.nest", ("transect", n.Transect.Name), ("nest", n.Number)))))))));
        if (match.Nest is not null) matched++;
        (string Name, string Value)[] fields =
        [
            ("media", hash), ("type", TypeOf(kind)), ("transect", match.Nest?.Transect.Name ?? ""), ("nest", match.Nest is { } n2 ? Whole(n2.Number) : ""),
            ("visited_on", match.Visit?.VisitedOn is { } on ? on.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : ""), ("taken_at", at?.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture) ?? ""),
            ("lat", exif.At is { } place ? Degrees(place.Latitude) : ""), ("lon", exif.At is { } place2 ? Degrees(place2.Longitude) : ""), ("matched_by", string.Join(' ', match.By)), ("file", name),
        ];
        drafts.Add(new Draft(RecordKind.Media.Name, NaturalKey.Id(season, RecordKind.Media.Name, hash, 1), ChangeOp.Create, [.. fields.Where(f => f.Value.Length > 0).Select(f => new FieldChange(FieldName.OfColumn(f.Name), f.Value, []))], name));
    }

    private void Say(bool isPreview)
    {
        if (there > 0) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("photos.known", ("count", there))));
        if (withoutOffset > 0) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("photos.no_offset", ("count", withoutOffset))));
        if (zone is null) screen.Err.WriteLine(screen.Words.Say("photos.no_zone"));
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of(isPreview ? "photos.previewed" : "photos.done", ("count", drafts.Count), ("matched", matched))));
    }

    private void Tell(Phrase phrase) => screen.Err.WriteLine(screen.Words.Say(phrase));

    /// <summary>Media type of a picture.</summary>
    internal static string TypeOf(PhotoKind kind) => kind switch { PhotoKind.Jpeg => "image/jpeg", PhotoKind.Png => "image/png", _ => "image/heif" };

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Degrees(double value) => value.ToString("0.000000", CultureInfo.InvariantCulture);
}
