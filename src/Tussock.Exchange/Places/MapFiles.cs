using System.Collections.Immutable;
using System.IO.Compression;
using System.Text;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Reading;
using Tussock.Exchange.Shapefile;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>Files of places on a disk: which format a file has, reading it, writing one whole or not at all.</summary>
public static class MapFiles
{
    private const string Zip = ".zip";

    /// <summary>Whether a path names a file of places: by its ending, a zip by what is in it.</summary>
    public static bool Is(string path) => Ending(path) switch
    {
        ".gpx" or ".kml" or ".kmz" or ".geojson" or ".shp" => true,
        ".json" => File.Exists(path) && Path.GetFileName(path) != "datapackage.json",
        Zip => File.Exists(path) && HoldsShapes(path),
        _ => false,
    };

    /// <summary>Reads a file of places.</summary>
    public static MapReading Read(string path)
    {
        var name = Path.GetFileName(path);
        var findings = new MapFindings(name);
        if (!File.Exists(path)) findings.Stop(null, Phrase.Of("maps.no_file", ("path", TableCheck.Shown(path))), Phrase.Of("maps.no_file_todo"));
        else if (new FileInfo(path).Length > MapFindings.MostBytes) findings.Stop(null, Phrase.Of("maps.too_long", ("most", MapFindings.MostBytes >> 20)), Phrase.Of("maps.too_many_todo"));
        else return ReadThere(path, name);
        return findings.Reading();
    }

    /// <summary>Writes a file; what stands under its name is only replaced when that is asked for.</summary>
    /// <returns>Why nothing was written; empty when it was.</returns>
    public static ImmutableArray<Problem> Write(string path, bool overwrite, Action<Stream> write) => Put([(path, write)], overwrite);

    /// <summary>Writes shapefiles into a folder, which is made when it is not there. Former shapefiles of the same names go, so that no exact set stays beside coarsened ones; other files are left alone.</summary>
    /// <returns>Why nothing was written; empty when all were.</returns>
    public static ImmutableArray<Problem> WriteShapes(string folder, bool overwrite, MapDocument map)
    {
        var files = ShapefileWriter.Files(map);
        var former = !Directory.Exists(folder) ? [] : Directory.GetFiles(folder).Where(f => ShapefileWriter.Sets.Contains(Path.GetFileName(f).Split('.')[0])).ToArray();
        if (!overwrite && former.Length > 0) return [There(former[0])];
        var wrong = Put([.. files.Select(f => (Path.Combine(folder, f.Name), (Action<Stream>)(s => s.Write(f.Bytes.Span))))], overwrite);
        if (!wrong.IsEmpty) return wrong;
        foreach (var file in former) if (!files.Any(f => f.Name == Path.GetFileName(file))) File.Delete(file);
        return [];
    }

    /// <summary>Writes files into a folder, which is made when it is not there: all or none.</summary>
    /// <returns>Why nothing was written; empty when all were.</returns>
    public static ImmutableArray<Problem> WriteAll(string folder, bool overwrite, IEnumerable<(string Name, byte[] Bytes)> files) =>
        Put([.. files.Select(f => (Path.Combine(folder, f.Name), (Action<Stream>)(s => s.Write(f.Bytes))))], overwrite);

    private static MapReading ReadThere(string path, string name)
    {
        if (Ending(path) == ".shp") return ShapefileReader.Read(File.ReadAllBytes(path), Beside(path, ".dbf"), Text(Beside(path, ".prj")), Text(Beside(path, ".cpg")) ?? "", name);
        if (Ending(path) is ".json" or ".geojson") return GeoJsonReader.Read(File.ReadAllBytes(path), name);
        using var stream = File.OpenRead(path);
        return Ending(path) switch
        {
            ".gpx" => GpxReader.Read(stream, name),
            ".kml" => KmlReader.Read(stream, name),
            ".kmz" => KmlReader.ReadPacked(stream, name),
            _ => ShapefileReader.ReadPacked(stream, name),
        };
    }

    /// <summary>The file beside a shapefile, in either spelling of its ending; null where there is none or it is too long.</summary>
    private static byte[]? Beside(string shp, string ending)
    {
        var path = new[] { ending, ending.ToUpperInvariant() }.Select(e => Path.ChangeExtension(shp, e)).FirstOrDefault(File.Exists);
        if (path is null) return null;
        using var stream = File.OpenRead(path);
        return PackedFiles.Bytes(stream, MapFindings.MostBytes);
    }

    private static string? Text(byte[]? bytes) => bytes is null ? null : Encoding.Latin1.GetString(bytes);

    private static bool HoldsShapes(string path)
    {
        try
        {
            using var zip = ZipFile.OpenRead(path);
            return zip.Entries.Any(e => e.FullName.EndsWith(".shp", StringComparison.OrdinalIgnoreCase));
        }
        catch (Exception wrong) when (wrong is IOException or InvalidDataException)
        {
            // No zip of ours, then: whoever reads other zips has to say what is wrong with it.
            return false;
        }
    }

    private static ImmutableArray<Problem> Put(IReadOnlyList<(string Path, Action<Stream> Write)> files, bool overwrite)
    {
        var there = overwrite ? [] : files.Where(f => Path.Exists(f.Path)).Select(f => There(f.Path)).ToImmutableArray();
        if (!there.IsEmpty) return there;
        var beside = "." + Guid.NewGuid().ToString("N")[..8] + ".new";
        try
        {
            foreach (var (path, write) in files)
            {
                if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder) Directory.CreateDirectory(folder);
                using var stream = new FileStream(path + beside, FileMode.CreateNew, FileAccess.Write, FileShare.None);
                write(stream);
                stream.Flush(flushToDisk: true);
            }

            foreach (var (path, _) in files) File.Move(path + beside, path, overwrite);
            return [];
        }
        finally
        {
            foreach (var (path, _) in files) if (File.Exists(path + beside)) File.Delete(path + beside);
        }
    }

    private static Problem There(string path) => new("places", Severity.Stop, new Place(path), Phrase.Of("maps.there"), Phrase.Of("maps.there_todo"));

    private static string Ending(string path) => Path.GetExtension(path).ToLowerInvariant();
}
