using System.Reflection;
using Microsoft.EntityFrameworkCore.Migrations;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>What a path holds, found without changing a byte.</summary>
internal static class FileState
{
    private static readonly string[] Known = [.. typeof(FileState).Assembly.GetTypes().Select(t => t.GetCustomAttribute<MigrationAttribute>()?.Id).OfType<string>().Order(StringComparer.Ordinal)];

    /// <summary>Refuses what can't be a data file by its name alone.</summary>
    /// <exception cref="DataFileException">It is a folder or a connection string.</exception>
    internal static void CheckName(string path)
    {
        if (path.StartsWith("postgres://", StringComparison.OrdinalIgnoreCase) || path.StartsWith("postgresql://", StringComparison.OrdinalIgnoreCase)
            || (path.Contains("Host=", StringComparison.OrdinalIgnoreCase) && path.Contains(';', StringComparison.Ordinal)))
        {
            // Nothing of a connection string is repeated: it may hold a password.
            throw DataFileException.Of("server", "DATA");
        }

        if (Directory.Exists(path)) throw DataFileException.Of("is_a_folder", path);
    }

    /// <summary>Whether there is nothing yet: no file, or an empty one.</summary>
    internal static bool IsNothing(string path) => !File.Exists(path) || new FileInfo(path).Length == 0;

    /// <summary>Whether migrations are pending.</summary>
    /// <exception cref="DataFileException">It is not a data file, or a newer one.</exception>
    internal static bool IsOlder(Database database, string path)
    {
        if (database.Number("SELECT COUNT(*) FROM sqlite_master WHERE type = 'table' AND name IN ('__EFMigrationsHistory', 'file_device')") != 2) throw DataFileException.Of("not_a_data_file", path);
        var applied = new List<string>();
        using var row = database.Query("SELECT \"MigrationId\" FROM \"__EFMigrationsHistory\"");
        while (row.Read()) applied.Add(row.GetString(0));
        if (applied.Except(Known).Any()) throw DataFileException.Of("newer", path);
        return Known.Except(applied).Any();
    }
}
