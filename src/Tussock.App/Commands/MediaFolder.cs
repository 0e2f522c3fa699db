using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Store.Media;

namespace Tussock.App.Commands;

/// <summary>The folder <c>media</c> of a season folder: a photo a file, named by its SHA-256.</summary>
internal static class MediaFolder
{
    private const string Name = "media";

    /// <summary>Takes in the photos of a season folder that is imported; what is there already costs nothing.</summary>
    internal static int TakeIn(Screen screen, string source, string data, CancellationToken cancel)
    {
        var folder = Path.Combine(Path.GetFileName(source) == "datapackage.json" ? Path.GetDirectoryName(source) ?? "" : source, Name);
        if (!Directory.Exists(folder)) return Exit.Done;
        var store = new MediaStore(data);
        foreach (var file in new DirectoryInfo(folder).EnumerateFiles().Where(f => MediaStore.IsHash(f.Name) && f.Length <= FieldBundle.MediaBytes))
        {
            cancel.ThrowIfCancellationRequested();
            if (store.Keep(File.ReadAllBytes(file.FullName)) is null) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("photos.no_room", ("file", file.Name))));
        }

        return Exit.Done;
    }

    /// <summary>Writes the photos that the season's records name beside an exported folder.</summary>
    internal static void HandOut(SeasonTables tables, string data, string folder, CancellationToken cancel)
    {
        if (tables.Table(RecordKind.Media) is not { } table) return;
        var store = new MediaStore(data);
        var at = table.IndexOf("media");
        foreach (var row in table.Rows)
        {
            cancel.ThrowIfCancellationRequested();
            store.CopyTo(row.Cells[at], Path.Combine(folder, Name, row.Cells[at]));
        }
    }
}
