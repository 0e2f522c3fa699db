using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.Places;
using Tussock.Store.Media;

namespace Tussock.App.Commands;

/// <summary><c>tussock export DATA FOLDER --as camera-package</c>: what cameras saw, as a package of the open standard; coarsened unless asked otherwise.</summary>
internal static class CameraExport
{
    /// <summary>What --as calls it.</summary>
    internal const string Form = "camera-package";

    internal static int Run(Screen screen, MapExportRequest request, CancellationToken cancel)
    {
        var (season, problems) = SeasonSource.Season(request.Data, request.Season, cancel);
        if (season is null) return screen.Refuse(problems);
        if (SeasonDay.Zone(season.Settings) is not { } zone) return Refuse(screen, request, "cameras.no_zone");
        var package = CameraPackageWriter.Of(season, request.IsExact, zone, request.At);
        foreach (var note in package.Notes) screen.Err.WriteLine(screen.Words.Say(note));
        if (package.Files.IsEmpty) return Refuse(screen, request, "cameras.export_none");
        var wrong = MapFiles.WriteAll(request.Path, request.Overwrite, package.Files);
        if (!wrong.IsEmpty) return screen.Refuse(wrong);
        var copied = SeasonSource.IsFolder(request.Data) ? 0 : Pictures(request, package, cancel);
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("cameras.written", ("folder", request.Path), ("cameras", package.Cameras), ("events", package.Events), ("pictures", copied), ("note", Phrase.Of(request.IsExact ? "cameras.written_exact" : "cameras.written_coarse")))));
        return Exit.Done;
    }

    private static int Pictures(MapExportRequest request, WrittenPackage package, CancellationToken cancel)
    {
        var store = new MediaStore(request.Data);
        var copied = 0;
        foreach (var (hash, path) in package.Pictures)
        {
            cancel.ThrowIfCancellationRequested();
            if (store.CopyTo(hash, Path.Combine(request.Path, path))) copied++;
        }

        return copied;
    }

    private static int Refuse(Screen screen, MapExportRequest request, string key) =>
        screen.Refuse([new Problem("cameras", Severity.Stop, new Place(request.Data), Phrase.Of(key), Phrase.Of(key + "_todo"))]);
}
