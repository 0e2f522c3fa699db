using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Store.Media;

namespace Tussock.Store.Backup;

/// <summary>A file inside a backup.</summary>
/// <param name="Hash">Its SHA-256 in small hexadecimal letters.</param>
/// <param name="Length">Its bytes.</param>
public readonly record struct BackedUpFile(string Hash, long Length);

/// <summary>A file of a report that was kept, inside a backup.</summary>
/// <param name="Name">Folder and file, with a stroke between.</param>
/// <param name="File">What it holds.</param>
public readonly record struct BackedUpReport(string Name, BackedUpFile File);

/// <summary>What a backup says of itself: the list that a restore holds its contents against.</summary>
public sealed record BackupContents
{
    /// <summary>The newest form of the list that this program can read.</summary>
    public const int Format = 2;

    /// <summary>The form before reports were in it.</summary>
    private const int WithoutReports = 1;

    /// <summary>Name of the list inside the backup.</summary>
    internal const string List = "backup.json";

    /// <summary>Name of the data file inside the backup.</summary>
    internal const string DataName = "data.db";

    /// <summary>Folder of the photos inside the backup; each is named by its hash.</summary>
    internal const string PhotoFolder = "media/";

    /// <summary>Folder of the kept reports inside the backup.</summary>
    internal const string ReportFolder = "reports/";

    /// <summary>When it was made.</summary>
    public required DateTimeOffset MadeAt { get; init; }

    /// <summary>Version of the program that made it.</summary>
    public required string Version { get; init; }

    /// <summary>Names of the seasons, in order.</summary>
    public required ImmutableArray<string> Seasons { get; init; }

    /// <summary>Position of the journal.</summary>
    public required long Position { get; init; }

    /// <summary>The data file.</summary>
    public required BackedUpFile File { get; init; }

    /// <summary>The photos, by hash.</summary>
    public required ImmutableArray<BackedUpFile> Photos { get; init; }

    /// <summary>Photos that records name and that were not there to be backed up: still on a phone, or gone.</summary>
    public required int PhotosElsewhere { get; init; }

    /// <summary>Files of the kept reports, by name; a backup of the first form has none.</summary>
    public ImmutableArray<BackedUpReport> Reports { get; init; } = [];

    internal void Write(Stream target)
    {
        using var w = new Utf8JsonWriter(target, new JsonWriterOptions { Indented = true });
        w.WriteStartObject();
        w.WriteNumber("format", Format);
        w.WriteString("made_at", MadeAt.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
        w.WriteString("version", Version);
        w.WriteBoolean("exact_places", true);
        w.WriteStartArray("seasons");
        foreach (var season in Seasons) w.WriteStringValue(season);
        w.WriteEndArray();
        w.WriteNumber("position", Position);
        w.WriteNumber("photos_elsewhere", PhotosElsewhere);
        w.WritePropertyName("data");
        Write(w, File);
        w.WriteStartArray("photos");
        foreach (var photo in Photos) Write(w, photo);
        w.WriteEndArray();
        w.WriteStartArray("reports");
        foreach (var report in Reports) Write(w, report.File, report.Name);
        w.WriteEndArray();
        w.WriteEndObject();
    }

    /// <summary>Reads a list; null when it is none. One of a newer form has only its form.</summary>
    internal static (int Format, BackupContents? Contents)? Read(Stream source)
    {
        try
        {
            using var json = JsonDocument.Parse(source);
            var root = json.RootElement;
            var format = root.GetProperty("format").GetInt32();
            if (format > Format) return (format, null);
            if (format < WithoutReports) return null;
            var contents = new BackupContents
            {
                MadeAt = root.GetProperty("made_at").GetDateTimeOffset(),
                Version = root.GetProperty("version").GetString() ?? "",
                Seasons = [.. root.GetProperty("seasons").EnumerateArray().Select(s => s.GetString() ?? "")],
                Position = root.GetProperty("position").GetInt64(),
                PhotosElsewhere = root.GetProperty("photos_elsewhere").GetInt32(),
                File = Read(root.GetProperty("data")),
                Photos = [.. root.GetProperty("photos").EnumerateArray().Select(Read)],
                Reports = format > WithoutReports ? [.. root.GetProperty("reports").EnumerateArray().Select(r => new BackedUpReport(r.GetProperty("name").GetString() ?? "", Read(r)))] : [],
            };
            var isSound = contents.Photos.Append(contents.File).Concat(contents.Reports.Select(r => r.File)).All(f => MediaStore.IsHash(f.Hash) && f.Length >= 0);
            return isSound && contents.Reports.All(r => KeptReports.IsName(r.Name)) && contents.Reports.DistinctBy(r => r.Name).Count() == contents.Reports.Length ? (format, contents) : null;
        }
        catch (Exception broken) when (broken is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            // Whatever it is, it is no list of ours: the caller says so.
            return null;
        }
    }

    private static void Write(Utf8JsonWriter w, BackedUpFile file, string? name = null)
    {
        w.WriteStartObject();
        if (name is not null) w.WriteString("name", name);
        w.WriteString("sha256", file.Hash);
        w.WriteNumber("bytes", file.Length);
        w.WriteEndObject();
    }

    private static BackedUpFile Read(JsonElement file) => new(file.GetProperty("sha256").GetString() ?? "", file.GetProperty("bytes").GetInt64());
}
