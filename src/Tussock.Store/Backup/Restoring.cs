using System.Collections.Immutable;
using System.Data.Common;
using System.IO.Compression;
using Tussock.Store.Media;

namespace Tussock.Store.Backup;

/// <summary>What became of a restore.</summary>
/// <param name="Contents">What the backup holds.</param>
/// <param name="Problems">What the check of its data file found, of which any that stops kept everything as it was.</param>
/// <param name="Kept">Where the data file lies that was there before; null when there was none.</param>
public sealed record RestoreOutcome(BackupContents Contents, ImmutableArray<Problem> Problems, string? Kept)
{
    /// <summary>Whether it was restored.</summary>
    public bool IsDone => Problems.All(p => p.Severity != Severity.Stop);
}

/// <summary>Takes a backup apart beside the place where it goes, checks all of it, and only then gives it its name.</summary>
/// <param name="backup">Path of the backup.</param>
/// <param name="home">Where it goes.</param>
/// <param name="before">Called before every step: tests make any one of them fail.</param>
/// <param name="cancellation">Stops the work; nothing is changed then.</param>
internal sealed class Restoring(string backup, Home home, Action<string>? before, CancellationToken cancellation)
{
    internal RestoreOutcome Run(bool overwrite, DateTimeOffset now)
    {
        try
        {
            var isTaken = home.IsTaken();
            if (!overwrite && isTaken) throw DataFileException.About("restore_exists", home.Name);
            if (!File.Exists(backup)) throw DataFileException.Of("backup_missing", backup);
            using var place = new PlaceForDrafts(home);
            var (draft, photos) = (place.At(".new"), MediaStore.FolderOf(place.At(".new")));
            var reports = KeptReports.FolderOf(place.At(".new"));
            var contents = TakeApart(draft, photos, reports);
            // Where there is no place for photos, or for what was here before, it is said before anything is changed.
            if (isTaken || contents.Photos.Length > 0 || contents.Reports.Length > 0) _ = home.At("");
            var problems = Check(contents, draft, now);
            if (problems.Any(p => p.Severity == Severity.Stop)) return new RestoreOutcome(contents, problems, null);
            return new RestoreOutcome(contents, problems, PutInPlace(contents, draft, (photos, reports), now));
        }
        catch (DbException failure)
        {
            throw home.Meaning(failure) ?? (Exception)failure;
        }
        catch (Exception broken) when (broken is InvalidDataException or EndOfStreamException)
        {
            throw DataFileException.Of("backup_unreadable", backup);
        }
    }

    private BackupContents TakeApart(string draft, string photos, string reports)
    {
        using var stream = File.OpenRead(backup);
        using var zip = new ZipArchive(stream, ZipArchiveMode.Read);
        var contents = Contents(zip);
        TakeOut(zip, BackupContents.DataName, contents.File, draft);
        if (contents.Photos.Length > 0) Directory.CreateDirectory(photos);
        foreach (var photo in contents.Photos) TakeOut(zip, BackupContents.PhotoFolder + photo.Hash, photo, Path.Combine(photos, photo.Hash));
        foreach (var report in contents.Reports)
        {
            var target = Path.Combine(reports, report.Name);
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            TakeOut(zip, BackupContents.ReportFolder + report.Name, report.File, target);
        }

        return contents;
    }

    private BackupContents Contents(ZipArchive zip)
    {
        before?.Invoke("LIST");
        using var list = (zip.GetEntry(BackupContents.List) ?? throw DataFileException.Of("backup_unreadable", backup)).Open();
        return BackupContents.Read(list) switch
        {
            { Contents: { } contents } => contents,
            { Format: > BackupContents.Format } => throw DataFileException.Of("backup_newer", backup),
            _ => throw DataFileException.Of("backup_unreadable", backup),
        };
    }

    private void TakeOut(ZipArchive zip, string name, BackedUpFile expected, string target)
    {
        before?.Invoke("TAKE " + name);
        var entry = zip.GetEntry(name) ?? throw DataFileException.Of("backup_lacks", backup, ("name", name));
        using var source = entry.Open();
        using var written = new FileStream(target, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        if (HashedCopy.Copy(source, written, expected.Length, cancellation) != expected) throw DataFileException.Of("backup_differs", backup, ("name", name));
        written.Flush(flushToDisk: true);
    }

    /// <summary>Integrity of the database, the tables against the journal, and the list against both.</summary>
    private ImmutableArray<Problem> Check(BackupContents contents, string draft, DateTimeOffset now)
    {
        before?.Invoke("CHECK");
        // One of an older version is brought up to date; the backup itself is the copy of the old one.
        DataFile.OpenToWrite(draft).BringUpToDate(now);
        var file = DataFile.OpenToRead(draft);
        var problems = file.Check(cancellation: cancellation);
        if (problems.Any(p => p.Severity == Severity.Stop)) return problems;
        if (file.Position != contents.Position || !file.Seasons().Select(s => s.Name).SequenceEqual(contents.Seasons)) throw DataFileException.Of("backup_differs", backup, ("name", BackupContents.List));
        return problems;
    }

    /// <summary>Photos and reports first, the data file last: killed anywhere in between, nothing is lost and another run ends it.</summary>
    private string? PutInPlace(BackupContents contents, string draft, (string Photos, string Reports) beside, DateTimeOffset now)
    {
        cancellation.ThrowIfCancellationRequested();
        if (contents.Photos.Length > 0) Directory.CreateDirectory(MediaStore.FolderOf(home.At("")));
        foreach (var photo in contents.Photos)
        {
            before?.Invoke("PHOTO " + photo.Hash);
            File.Move(Path.Combine(beside.Photos, photo.Hash), Path.Combine(MediaStore.FolderOf(home.At("")), photo.Hash), overwrite: true);
        }

        if (contents.Reports.Length > 0) PutReports(beside.Reports, KeptReports.FolderOf(home.At("")));
        return home.Replace(draft, now, before);
    }

    /// <summary>Whole reports, each in one step; one that is there already is the same, or was made here: it stays.</summary>
    private void PutReports(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (var report in Directory.GetDirectories(from))
        {
            before?.Invoke("REPORT " + Path.GetFileName(report));
            var target = Path.Combine(to, Path.GetFileName(report));
            if (!Directory.Exists(target)) Directory.Move(report, target);
        }
    }
}
