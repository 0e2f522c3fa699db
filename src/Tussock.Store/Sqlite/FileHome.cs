using System.Data.Common;
using Microsoft.Data.Sqlite;
using Tussock.Store.Backup;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>Data in one file.</summary>
internal sealed class FileHome : Home
{
    private static readonly string[] SideFiles = ["-wal", "-shm", "-journal"];
    private readonly string path;

    /// <summary>Refuses what can't be a data file by its name alone.</summary>
    internal FileHome(string path)
    {
        this.path = path;
        if (Directory.Exists(path)) throw DataFileException.Of("is_a_folder", path);
    }

    internal override string Name => Path.GetFileName(path);

    internal override string Beside => path;

    /// <summary>No file, or an empty one.</summary>
    internal override bool IsNothing => !File.Exists(path) || new FileInfo(path).Length == 0;

    internal override void MustExist()
    {
        if (!File.Exists(path)) throw DataFileException.Of("no_such_file", path);
    }

    internal override bool IsTaken() => !IsNothing;

    internal override Database Read() => SqliteDatabase.Read(path);

    internal override Database Write(DateTimeOffset now, Action<string>? before)
    {
        if (IsNothing) DataFileMaking.Make(path, now, before);
        return SqliteDatabase.Write(path, before);
    }

    internal override HomeState StateOf(Database database)
    {
        if (database.Number("SELECT COUNT(*) FROM sqlite_master WHERE type = 'table' AND name IN ('__EFMigrationsHistory', 'file_device')") != 2) throw DataFileException.Of("not_a_data_file", path);
        return AppliedMigrations.Pending<SqliteTables>(database, Name).IsEmpty ? HomeState.Current : HomeState.Older;
    }

    internal override void BringUpToDate(Database database, DateTimeOffset now, Action<string>? before) => DataFileMaking.Upgrade(database, path, now);

    internal override void CopyTo(Database database, string target)
    {
        try
        {
            ConsistentCopy.Make(database, target);
        }
        catch (SqliteException failure) when (!SqliteDatabase.NeedsRecovery(failure))
        {
            throw SqliteFailure.Meaning(failure, target) ?? (Exception)failure;
        }
    }

    internal override string? Replace(string file, DateTimeOffset now, Action<string>? before)
    {
        var former = path + Stamped(".before-restore-", now);
        var isKept = !IsNothing;
        before?.Invoke("KEEP");
        if (isKept) File.Move(path, former);
        // A log that is left of the former file would be folded into the new one, which it does not belong to.
        foreach (var end in SideFiles) if (File.Exists(path + end)) File.Move(path + end, former + end);
        before?.Invoke("NAME");
        File.Move(file, path, overwrite: true);
        return isKept ? former : null;
    }

    internal override DataFileException? Meaning(DbException failure) => failure is SqliteException sqlite ? SqliteFailure.Meaning(sqlite, path) : null;

    internal override bool NeedsRepair(DbException failure) => failure is SqliteException sqlite && SqliteDatabase.NeedsRecovery(sqlite);

    internal override void Repair() => SqliteDatabase.Recover(path);
}
