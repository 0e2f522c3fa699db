using System.IO.Compression;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;

namespace Tussock.Exchange.CameraPackage;

/// <summary>The files of a package: a folder or a zip. Nothing is unpacked to a disk; paths that lead out are never followed.</summary>
internal sealed class PackageFiles : IDisposable
{
    private const int MostEntries = 500_000;
    private readonly string folder;
    private readonly ZipArchive? zip;
    private readonly Dictionary<string, ZipArchiveEntry> entries = new(StringComparer.Ordinal);

    private PackageFiles(string folder, ZipArchive? zip)
    {
        (this.folder, this.zip) = (folder, zip);
        if (zip is null) return;
        if (zip.Entries.Count > MostEntries) throw new InvalidDataException();
        var root = zip.Entries.Select(e => e.FullName).Where(n => n == CameraPackageReader.Description || n.EndsWith("/" + CameraPackageReader.Description, StringComparison.Ordinal)).MinBy(n => n.Length) ?? "";
        var prefix = root.Length > CameraPackageReader.Description.Length ? root[..^CameraPackageReader.Description.Length] : "";
        foreach (var entry in zip.Entries) if (entry.FullName.StartsWith(prefix, StringComparison.Ordinal)) entries.TryAdd(entry.FullName[prefix.Length..], entry);
    }

    /// <summary>Opens a folder, its description, or a zip.</summary>
    /// <exception cref="InvalidDataException">It is no zip that can be read.</exception>
    /// <exception cref="IOException">The bytes can't be had.</exception>
    internal static PackageFiles Open(string path)
    {
        if (Directory.Exists(path)) return new PackageFiles(Path.GetFullPath(path), null);
        if (Path.GetFileName(path) == CameraPackageReader.Description) return new PackageFiles(Path.GetDirectoryName(Path.GetFullPath(path))!, null);
        var opened = ZipFile.OpenRead(path);
        try
        {
            return new PackageFiles("", opened);
        }
        catch
        {
            opened.Dispose();
            throw;
        }
    }

    /// <summary>Whether a file is there; its path must not be refused by <see cref="FolderPath.Refusal"/>.</summary>
    internal bool Has(string path) => zip is not null ? entries.ContainsKey(path) : FolderPath.IsInside(folder, path) && File.Exists(Path.Combine(folder, path));

    /// <summary>Opens a file that is there.</summary>
    internal Stream Reading(string path) => zip is not null ? entries[path].Open() : new FileStream(Path.Combine(folder, path), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);

    /// <summary>All bytes of a file; null when it is not there or longer than allowed.</summary>
    internal byte[]? Bytes(string path, int most)
    {
        if (!Has(path)) return null;
        using var stream = Reading(path);
        return PackedFiles.Bytes(stream, most);
    }

    public void Dispose() => zip?.Dispose();
}
