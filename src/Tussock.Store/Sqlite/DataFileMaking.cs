using Microsoft.EntityFrameworkCore;
using Tussock.Store.Backup;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>Makes a data file, or brings an older one up to date.</summary>
internal static class DataFileMaking
{
    /// <summary>Makes a data file whole or not at all: it gets its name when it is ready.</summary>
    internal static void Make(string path, Guid device, DateTimeOffset now, Action<string>? before)
    {
        var draft = path + "." + device.ToString("N") + ".new";
        try
        {
            using (var database = Database.Write(draft, before))
            {
                before?.Invoke("MIGRATE");
                using (var tables = SqliteTables.On(database.Connection)) tables.Database.Migrate();
                database.Run(database.Prepared("INSERT INTO file_device (id, device, made_at) VALUES (1, $0, $1)", device.ToString(), now.ToUnixTimeMilliseconds()));
            }

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

    /// <summary>Applies pending migrations after a copy of the file has been laid beside it.</summary>
    internal static void Upgrade(Database database, string path, DateTimeOffset now)
    {
        var stamp = now.UtcDateTime.ToString("yyyyMMdd-HHmmss", System.Globalization.CultureInfo.InvariantCulture);
        ConsistentCopy.Make(database, path + ".before-upgrade-" + stamp);

        // A process that was killed while it upgraded leaves its lock; its changes were rolled back.
        database.Execute("DROP TABLE IF EXISTS \"__EFMigrationsLock\"");
        using var tables = SqliteTables.On(database.Connection);
        tables.Database.Migrate();
    }
}
