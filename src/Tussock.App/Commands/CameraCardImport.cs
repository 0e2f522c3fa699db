using System.Collections.Immutable;
using System.Globalization;
using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.Photos;
using Tussock.Fieldwork;
using Tussock.Fieldwork.Cameras;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA CARD --camera 2-5</c>: the pictures of one camera, grouped by time into events of which somebody has yet to name the animal.</summary>
internal static class CameraCardImport
{
    /// <summary>Name under which what comes from cards is known.</summary>
    private const string Name = "card";

    internal static int Run(Screen screen, MapImportRequest request, CameraRequest how, string nest, CancellationToken cancel)
    {
        if (!PhotoImport.Is(request.Source)) return screen.Refuse([new Problem("card", Severity.Stop, new Place(request.Source), Phrase.Of("cameras.no_card"), Phrase.Of("cameras.no_card_todo"))]);
        return CameraImport.Run(screen, request, how, (season, zone) => Read(screen, request.Source, season, zone, nest, cancel), (wanted, take) => Bytes(request.Source, wanted, take), cancel);
    }

    private static CameraPackageReading Read(Screen screen, string source, Season season, TimeZoneInfo zone, string nest, CancellationToken cancel)
    {
        string[] files;
        try
        {
            files = [.. PhotoImport.Pictures(source).Take(PhotoImport.Most + 1).Order(StringComparer.Ordinal)];
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // A card that was pulled out, or no leave to look: a sentence, and nothing was taken in.
            return Stopped(source, "photos.unreadable");
        }

        if (files.Length > PhotoImport.Most) return Stopped(source, "photos.too_many", ("count", files.Length), ("most", PhotoImport.Most));
        if (new CameraMatching(season, Name, ImmutableDictionary<string, string>.Empty).Named(nest) is not { } there) return Stopped(source, "cameras.card_nest", ("nest", TableCheck.Shown(nest)));
        var pictures = new List<CameraPicture>();
        foreach (var path in files)
        {
            cancel.ThrowIfCancellationRequested();
            if (Picture(screen, path, Path.GetRelativePath(source, path).Replace('\\', '/'), zone) is { } picture && !pictures.Exists(p => p.Hash == picture.Hash)) pictures.Add(picture);
        }

        if (pictures.Count == 0) return Stopped(source, "cameras.card_empty");
        var sorted = pictures.OrderBy(p => p.At).ThenBy(p => p.File, StringComparer.Ordinal).ToArray();
        var key = string.Create(CultureInfo.InvariantCulture, $"{there.Transect.Name}-{there.Number} {sorted[0].At:yyyy-MM-ddTHH:mm:ss}");
        var camera = new PlacedCamera { Key = key, Source = new Place(source), Decided = nest, From = sorted[0].At, To = sorted[^1].At };
        return new CameraPackageReading(new CameraRecords(Name, [camera], [.. sorted.Select(p => p with { Camera = key })], [.. sorted.Select(p => new Sighting { Key = p.Key, Camera = key, Picture = p.Key, From = p.At, To = p.At, Shown = ShownKind.NotLooked })]), []);
    }

    private static CameraPicture? Picture(Screen screen, string path, string name, TimeZoneInfo zone)
    {
        if (PhotoImport.Bytes(path, name, screen) is not { } bytes) return null;
        var kind = PhotoExif.KindOf(bytes);
        var exif = PhotoExif.Read(bytes);
        if (kind == PhotoKind.Other || exif.TakenAt is not { } taken)
        {
            screen.Err.WriteLine(screen.Words.Say(Phrase.Of(kind == PhotoKind.Other ? "photos.no_picture" : "cameras.no_time", ("file", name))));
            return null;
        }

        var hash = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes));
        var at = exif.Offset is { } offset ? TimeZoneInfo.ConvertTime(new DateTimeOffset(taken, offset), zone).DateTime : taken;
        return new CameraPicture(hash, "", at, name, PhotoImport.TypeOf(kind), hash);
    }

    private static int Bytes(string source, IReadOnlyCollection<string> wanted, Action<string, byte[]> take)
    {
        var absent = 0;
        foreach (var name in wanted)
        {
            try
            {
                take(name, File.ReadAllBytes(Path.Combine(source, name)));
            }
            catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
            {
                // It was read a moment ago: a card pulled out. Counted; its record stays without bytes.
                absent++;
            }
        }

        return absent;
    }

    private static CameraPackageReading Stopped(string source, string key, params ReadOnlySpan<(string, object)> arguments) =>
        new(null, [new Problem("card", Severity.Stop, new Place(source), Phrase.Of(key, arguments), Phrase.Of(key + "_todo"))]);
}
