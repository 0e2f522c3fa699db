using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Tussock.Journal;
using Tussock.Store.Backup;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>Makes a data file, or brings an older one up to date.</summary>
internal static class DataFileMaking
{
    /// <summary>Makes a data file whole or not at all: it gets its name when it is ready.</summary>
    internal static void Make(string path, DateTimeOffset now, Action<string>? before)
    {
        var draft = path + "." + Guid.NewGuid().ToString("N") + ".new";
        try
        {
            using (var database = MakeTables(draft, before)) OwnDevice.Name(database, now);
            before?.Invoke("NAME");
            File.Move(draft, path, overwrite: File.Exists(path) && new FileInfo(path).Length == 0);
        }
        catch (IOException) when (File.Exists(path) && new FileInfo(path).Length > 0)
        {
            // Somebody else made the same file a moment ago: that one is as good.
        }
        finally
        {
            foreach (var end in (string[])["", "-wal", "-shm", "-journal"]) File.Delete(draft + end);
        }
    }

    /// <summary>Makes a file with empty tables, in which nothing has a name yet, and leaves it open.</summary>
    internal static SqliteDatabase MakeTables(string path, Action<string>? before)
    {
        var database = SqliteDatabase.Write(path, before);
        try
        {
            before?.Invoke("MIGRATE");
            Migrate(database);
            return database;
        }
        catch
        {
            // The connection would stay open; the failure itself goes on to whoever asked.
            database.Dispose();
            throw;
        }
    }

    /// <summary>Applies pending migrations after a copy of the file has been laid beside it.</summary>
    internal static void Upgrade(Database database, string path, DateTimeOffset now)
    {
        ConsistentCopy.Make(database, path + Home.Stamped(".before-upgrade-", now));

        // A process that was killed while it upgraded leaves its lock; its changes were rolled back.
        database.Execute("DROP TABLE IF EXISTS \"__EFMigrationsLock\"");
        Migrate(database);
    }

    private static void Migrate(Database database)
    {
        using var tables = SqliteTables.On((Microsoft.Data.Sqlite.SqliteConnection)database.Connection);
        tables.Database.Migrate();
    }
}
