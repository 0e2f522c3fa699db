using System.Collections.Immutable;
using System.IO.Compression;
using Tussock.Store.Media;

namespace Tussock.Store.Backup;

/// <summary>What became of a backup.</summary>
/// <param name="Contents">What it holds.</param>
/// <param name="Damaged">Photos that were left out: their bytes are no longer what their name says.</param>
public sealed record BackupOutcome(BackupContents Contents, ImmutableArray<string> Damaged);

/// <summary>Writes a backup: one zip with the data file as it stood at one moment, the photos and the kept reports as they are, and the list of all.</summary>
internal static class BackupWriting
{
    /// <summary>Writes a backup to a stream that may be one-way.</summary>
    /// <param name="copy">A consistent copy of the data file that nobody else writes to.</param>
    /// <param name="photos">Where the photos lie.</param>
    /// <param name="reports">Folder of the kept reports; null where there is none.</param>
    /// <param name="target">Where it goes.</param>
    /// <param name="made">When, and by which version.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static BackupOutcome Write(string copy, MediaStore photos, string? reports, Stream target, (DateTimeOffset At, string Version) made, CancellationToken cancellation)
    {
        var kept = ImmutableArray.CreateBuilder<BackedUpFile>();
        var damaged = ImmutableArray.CreateBuilder<string>();
        var file = DataFile.OpenToRead(copy);
        using var zip = new ZipArchive(target, ZipArchiveMode.Create, leaveOpen: true);
        var data = Put(zip, BackupContents.DataName, copy, CompressionLevel.Fastest, made.At, cancellation);
        foreach (var (hash, path) in photos.All())
        {
            // Photos are packed already. What turns out to be damaged is in the zip by then; only what the list names counts.
            var found = Put(zip, BackupContents.PhotoFolder + hash, path, CompressionLevel.NoCompression, made.At, cancellation);
            if (found.Hash == hash) kept.Add(found);
            else damaged.Add(hash);
        }

        var papers = ImmutableArray.CreateBuilder<BackedUpReport>();
        foreach (var name in reports is null ? [] : KeptReports.Names(reports)) papers.Add(new BackedUpReport(name, Put(zip, BackupContents.ReportFolder + name, Path.Combine(reports!, name), CompressionLevel.Fastest, made.At, cancellation)));

        var here = kept.Select(p => p.Hash).ToHashSet(StringComparer.Ordinal);
        var contents = new BackupContents
        {
            MadeAt = made.At, Version = made.Version, Seasons = [.. file.Seasons().Select(s => s.Name)], Position = file.Position,
            File = data, Photos = kept.ToImmutable(), Reports = papers.ToImmutable(), PhotosElsewhere = file.PhotosNamed().Count(n => !here.Contains(n)),
        };
        using (var list = Entry(zip, BackupContents.List, CompressionLevel.Fastest, made.At)) contents.Write(list);
        return new BackupOutcome(contents, damaged.ToImmutable());
    }

    private static BackedUpFile Put(ZipArchive zip, string name, string path, CompressionLevel level, DateTimeOffset at, CancellationToken cancellation)
    {
        using var source = File.OpenRead(path);
        using var entry = Entry(zip, name, level, at);
        return HashedCopy.Copy(source, entry, long.MaxValue, cancellation);
    }

    private static Stream Entry(ZipArchive zip, string name, CompressionLevel level, DateTimeOffset at)
    {
        var entry = zip.CreateEntry(name, level);
        if (at.Year is >= 1980 and < 2108) entry.LastWriteTime = at;
        return entry.Open();
    }
}
