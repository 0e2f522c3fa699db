namespace Tussock.Store.Backup;

/// <summary>A place for files that are used up or thrown away: beside the data, so that they are named in one step; where there is no such place, a folder of the system's that nobody else can look into.</summary>
internal sealed class PlaceForDrafts : IDisposable
{
    private readonly string start;
    private readonly DirectoryInfo? own;

    internal PlaceForDrafts(Home home)
    {
        own = home.Beside is null ? Directory.CreateTempSubdirectory("tussock-") : null;
        start = (own is null ? home.Beside! : Path.Combine(own.FullName, "data")) + "." + Guid.NewGuid().ToString("N");
    }

    /// <summary>Path with an ending; the same for the same ending.</summary>
    internal string At(string ending) => start + ending;

    public void Dispose()
    {
        var folder = new DirectoryInfo(Path.GetDirectoryName(Path.GetFullPath(start))!);
        foreach (var left in folder.EnumerateFiles(Path.GetFileName(start) + "*")) left.Delete();
        foreach (var left in folder.EnumerateDirectories(Path.GetFileName(start) + "*")) left.Delete(recursive: true);
        own?.Delete(recursive: true);
    }
}
