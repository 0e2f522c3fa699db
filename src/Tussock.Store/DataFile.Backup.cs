using System.Collections.Immutable;
using Tussock.Store.Backup;
using Tussock.Store.Bulk;
using Tussock.Store.Postgres;

namespace Tussock.Store;

/// <content>Backups: made while others write, taken back only when all of it is whole.</content>
public sealed partial class DataFile
{
    /// <summary>Writes a backup as a file: beside its name first, then named.</summary>
    /// <param name="target">Path of the backup.</param>
    /// <param name="overwrite">Whether a file that is there may be replaced.</param>
    /// <param name="now">When.</param>
    /// <param name="version">Version of the program.</param>
    /// <param name="cancellation">Stops the work; nothing is left then.</param>
    /// <exception cref="DataFileException">The data file can't be read, or there is a file of that name.</exception>
    public BackupOutcome BackUp(string target, bool overwrite, DateTimeOffset now, string version, CancellationToken cancellation = default)
    {
        if (ServerAddress.Is(target)) throw DataFileException.About("backup_to_server", "FILE");
        if (Directory.Exists(target) || (!overwrite && File.Exists(target))) throw DataFileException.Of("copy_exists", target);
        var draft = target + "." + Guid.NewGuid().ToString("N") + ".new";
        try
        {
            BackupOutcome outcome;
            using (var stream = new FileStream(draft, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None))
            {
                outcome = BackUp(stream, now, version, cancellation);
                stream.Flush(flushToDisk: true);
            }

            File.Move(draft, target, overwrite);
            return outcome;
        }
        finally
        {
            File.Delete(draft);
        }
    }

    /// <summary>Writes a backup to a stream, which may be one-way. While it is made, a copy lies beside the data, or in the folder of temporary files where there is no such place.</summary>
    /// <param name="target">Where it goes.</param>
    /// <param name="now">When.</param>
    /// <param name="version">Version of the program.</param>
    /// <param name="cancellation">Stops the work.</param>
    public BackupOutcome BackUp(Stream target, DateTimeOffset now, string version, CancellationToken cancellation = default)
    {
        using var place = new PlaceForDrafts(home);
        var copy = place.At(".copy");
        CopyTo(copy);
        return BackupWriting.Write(copy, Media, home.Beside is { } beside ? KeptReports.FolderOf(beside) : null, target, (now, version), cancellation);
    }

    /// <summary>Takes a backup back: everything in it is checked first, and nothing is changed unless all of it is whole.</summary>
    /// <param name="backup">Path of the backup.</param>
    /// <param name="target">Path of the data file, or how a server is reached; the photos come beside it.</param>
    /// <param name="overwrite">Whether a data file that is there may be replaced; it is kept beside under another name.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellation">Stops the work; nothing is changed then.</param>
    /// <exception cref="DataFileException">The backup is not whole, or there is a data file already.</exception>
    public static RestoreOutcome Restore(string backup, string target, bool overwrite, DateTimeOffset now, CancellationToken cancellation = default) => Restore(backup, target, overwrite, now, null, cancellation);

    internal static RestoreOutcome Restore(string backup, string target, bool overwrite, DateTimeOffset now, Action<string>? before, CancellationToken cancellation = default) => new Restoring(backup, Home.Of(target), before, cancellation).Run(overwrite, now);

    /// <summary>Hashes of the photos that records of any season name.</summary>
    internal ImmutableHashSet<string> PhotosNamed() => Reading(d => new SeasonLoader(d, default).PhotosNamed(), []);
}
