using System.Collections.Immutable;
using System.IO.Compression;
using System.Text.Json;
using Tussock.Exchange.Reading;
using Tussock.Fieldwork.Cameras;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>Records of cameras from a package, and all that is wrong with it.</summary>
/// <param name="Records">The records; null when anything stops an import.</param>
/// <param name="Problems">What was found, by file and line.</param>
public sealed record CameraPackageReading(CameraRecords? Records, ImmutableArray<Problem> Problems);

/// <summary>Reads packages of the open standard Camera Trap Data Package (Camtrap DP) 1.0: a folder or a zip with <c>datapackage.json</c>, deployments, media and observations.</summary>
/// <remarks>Every cell is held against the standard's Table Schemas, which the program carries; nothing is fetched. Times become local times of the season.</remarks>
public static class CameraPackageReader
{
    /// <summary>The description of a package.</summary>
    internal const string Description = "datapackage.json";

    /// <summary>The standard's tables.</summary>
    internal static readonly ImmutableArray<string> TableNames = ["deployments", "media", "observations"];

    private const int DescriptionBytes = 16 << 20;
    private const int MostProblems = 200;

    /// <summary>Whether a source is a package of cameras: a zip with a description, or a folder whose description lists deployments and no season.</summary>
    public static bool Is(string path)
    {
        var isZip = Path.GetExtension(path).Equals(".zip", StringComparison.OrdinalIgnoreCase) && File.Exists(path);
        if (!isZip && !Directory.Exists(path) && Path.GetFileName(path) != Description) return false;
        try
        {
            if (isZip)
            {
                using var zip = ZipFile.OpenRead(path);
                return zip.Entries.Any(e => e.Name == Description);
            }

            using var files = PackageFiles.Open(path);
            if (files.Bytes(Description, DescriptionBytes) is not { } bytes) return false;
            using var json = JsonDocument.Parse(bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? bytes.AsMemory(3) : bytes);
            return json.RootElement.ValueKind == JsonValueKind.Object && !json.RootElement.TryGetProperty("season", out _) && json.RootElement.TryGetProperty("resources", out var resources)
                && resources.ValueKind == JsonValueKind.Array && resources.EnumerateArray().Any(r => r.ValueKind == JsonValueKind.Object && r.TryGetProperty("name", out var name) && name.ValueKind == JsonValueKind.String && name.GetString() == "deployments")
                && !resources.EnumerateArray().Any(r => r.ValueKind == JsonValueKind.Object && r.TryGetProperty("name", out var name) && name.ValueKind == JsonValueKind.String && name.GetString() == "nests");
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException or JsonException or InvalidDataException)
        {
            // A zip that can't be opened is refused by our reader in words; a description that is none is one of the season folder's for all we know.
            return isZip;
        }
    }

    /// <summary>Reads a package.</summary>
    /// <param name="path">Folder, description or zip.</param>
    /// <param name="zone">Time zone of the season.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static CameraPackageReading Read(string path, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        var problems = new List<Problem>();
        var name = Path.GetFileName(Path.TrimEndingDirectorySeparator(path));
        var findings = new FileFindings(Description, MostProblems, problems, "camera_package");
        CameraRecords? records = null;
        try
        {
            using var files = PackageFiles.Open(path);
            if (files.Bytes(Description, DescriptionBytes) is not { } bytes) findings.Stop("no_description", null, null);
            else if (PackageDescription.Read(bytes, name, new FileFindings(Description, MostProblems, problems), findings) is { } description) records = Tables(description, files, zone, problems, findings, cancel);
        }
        catch (Exception wrong) when (wrong is InvalidDataException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            // No zip that can be read, or bytes that can't be had: one sentence, nothing was taken in.
            new FileFindings(name, MostProblems, problems, "camera_package").Stop("unreadable", null, null, ("file", name));
        }

        var isStopped = problems.Exists(p => p.Severity == Severity.Stop);
        return new CameraPackageReading(isStopped ? null : records, [.. problems]);
    }

    /// <summary>Bytes of the pictures of a package that lie in it.</summary>
    /// <param name="path">Folder, description or zip.</param>
    /// <param name="wanted">Paths as the package writes them.</param>
    /// <param name="most">Bytes that a picture may have.</param>
    /// <param name="take">Told of each picture that is there and not too long.</param>
    /// <returns>How many wanted pictures are not here: elsewhere, missing, or too long.</returns>
    public static int Pictures(string path, IReadOnlyCollection<string> wanted, int most, Action<string, byte[]> take)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        ArgumentNullException.ThrowIfNull(take);
        using var files = PackageFiles.Open(path);
        var absent = 0;
        foreach (var file in wanted)
        {
            var bytes = SeasonFolder.FolderPath.Refusal(file) is null ? files.Bytes(SeasonFolder.FolderPath.Plain(file), most) : null;
            if (bytes is null) absent++;
            else take(file, bytes);
        }

        return absent;
    }

    private static CameraRecords? Tables(PackageDescription description, PackageFiles files, TimeZoneInfo zone, List<Problem> problems, FileFindings findings, CancellationToken cancel)
    {
        if (!description.Tables.ContainsKey("deployments")) findings.Stop("no_deployments", null, "resources");
        var tables = TableNames.Select(n => new PackageTable(n, problems)).ToArray();
        foreach (var table in tables) if (description.Tables.GetValueOrDefault(table.Name) is { } listed) table.Read(listed, files, cancel);
        return new PackageRecords(description, tables[0], tables[1], tables[2], zone, problems).Made();
    }
}
