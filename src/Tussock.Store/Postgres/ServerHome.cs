using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql;
using Tussock.Store.Bulk;
using Tussock.Store.Sqlite;

namespace Tussock.Store.Postgres;

/// <summary>Data in a PostgreSQL database, on a server that several programs use at once.</summary>
internal sealed class ServerHome : Home
{
    /// <summary>Names the folder for what lies beside the data of a server.</summary>
    internal const string FolderVariable = "TUSSOCK_FOLDER";

    private readonly string connectionString;
    private readonly string databaseName;

    private ServerHome(NpgsqlConnectionStringBuilder settings) => (connectionString, databaseName, Name) = (settings.ConnectionString, settings.Database!, ServerAddress.Label(settings));

    internal override string Name { get; }

    /// <summary>A folder that is not there counts as none: a disk that is not mounted must not be written past.</summary>
    internal override string? Beside => Environment.GetEnvironmentVariable(FolderVariable) is { Length: > 0 } folder && Directory.Exists(folder) ? Path.Combine(Path.GetFullPath(folder), Uri.EscapeDataString(databaseName)) : null;

    internal override bool IsNothing => false;

    internal static ServerHome Reached(string data) => new(ServerAddress.Read(data));

    internal override void MustExist()
    {
        // Whether there is a database only the server can say, and the first reading asks it.
    }

    internal override bool IsTaken()
    {
        using var database = Read();
        return StateOf(database) != HomeState.Nothing;
    }

    internal override Database Read() => PostgresDatabase.Opened(connectionString);

    internal override Database Write(DateTimeOffset now, Action<string>? before) => PostgresDatabase.Opened(connectionString, before);

    internal override HomeState StateOf(Database database)
    {
        bool hasHistory, hasDevice;
        // Read from the catalogue itself: a look-up by name may remember, through the wait for another writer, that there was no such table.
        using (var row = database.Query("SELECT COALESCE(bool_or(relname = '__EFMigrationsHistory'), false), COALESCE(bool_or(relname = 'file_device'), false) FROM pg_class WHERE relname IN ('__EFMigrationsHistory', 'file_device') AND pg_table_is_visible(oid)"))
        {
            row.Read();
            (hasHistory, hasDevice) = (row.GetBoolean(0), row.GetBoolean(1));
        }

        if (!hasHistory && !hasDevice) return HomeState.Nothing;
        if (!hasHistory || !hasDevice) throw DataFileException.About("server_other", Name);
        return AppliedMigrations.Pending<PostgresTables>(database, Name).IsEmpty ? HomeState.Current : HomeState.Older;
    }

    internal override void BringUpToDate(Database database, DateTimeOffset now, Action<string>? before)
    {
        using var transaction = database.Begin();
        BringUpToDate(database, now);
        database.Commit(transaction);
    }

    internal override void CopyTo(Database database, string target)
    {
        if (File.Exists(target)) throw DataFileException.Of("copy_exists", target);
        var draft = target + "." + Guid.NewGuid().ToString("N") + ".new";
        try
        {
            using (var file = DataFileMaking.MakeTables(draft, null))
            using (var tables = SqliteTables.On((Microsoft.Data.Sqlite.SqliteConnection)file.Connection))
            using (var reading = database.Begin(isReadOnly: true))
            using (var writing = file.Begin())
            {
                TableCopy.Run(tables.Model, database, file, default);
                file.Commit(writing);
            }

            File.Move(draft, target);
        }
        finally
        {
            foreach (var end in (string[])["", "-wal", "-shm", "-journal"]) File.Delete(draft + end);
        }
    }

    internal override string? Replace(string file, DateTimeOffset now, Action<string>? before)
    {
        using var database = PostgresDatabase.Opened(connectionString, before);
        before?.Invoke("KEEP");
        var former = StateOf(database) == HomeState.Nothing ? null : CopyBeside(database, ".before-restore-", now);
        before?.Invoke("NAME");
        using var transaction = database.Begin();
        BringUpToDate(database, now);
        using (var source = SqliteDatabase.Read(file))
        using (var tables = SqliteTables.On((Microsoft.Data.Sqlite.SqliteConnection)source.Connection))
        using (var reading = source.Begin(isReadOnly: true))
        {
            TableCopy.Empty(tables.Model, database);
            TableCopy.Run(tables.Model, source, database, default);
        }

        database.Commit(transaction);
        File.Delete(file);
        return former;
    }

    internal override DataFileException? Meaning(DbException failure) => failure is NpgsqlException server ? ServerFailure.Meaning(server, Name) : null;

    /// <summary>Inside the writer's transaction, under its lock: all of it, or nothing. Somebody else may have done it while this one waited.</summary>
    private void BringUpToDate(Database database, DateTimeOffset now)
    {
        var state = StateOf(database);
        if (state == HomeState.Current) return;
        using var tables = PostgresTables.On((NpgsqlConnection)database.Connection);
        var applied = state == HomeState.Nothing ? [] : Tables.Applied.Known<PostgresTables>().Except(AppliedMigrations.Pending<PostgresTables>(database, Name), StringComparer.Ordinal);
        database.Execute(tables.GetService<IMigrator>().GenerateScript(applied.LastOrDefault() ?? Migration.InitialDatabase, null, MigrationsSqlGenerationOptions.NoTransactions));
        if (state == HomeState.Nothing) OwnDevice.Name(database, now);
    }

    private string CopyBeside(Database database, string ending, DateTimeOffset now)
    {
        var copy = At(Stamped(ending, now));
        CopyTo(database, copy);
        return copy;
    }
}
