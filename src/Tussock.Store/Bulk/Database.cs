using System.Diagnostics.CodeAnalysis;
using Microsoft.Data.Sqlite;

namespace Tussock.Store.Bulk;

/// <summary>One open connection; every statement of the store passes here, so that a test can make any one of them fail.</summary>
internal sealed class Database : IDisposable
{
    private const int BusySeconds = 5;

    // SQLITE_READONLY_CANTINIT, which the library has no name for.
    private const int ReadOnlyCantInit = 8 | (5 << 8);

    private readonly List<SqliteCommand> commands = [];
    private readonly Action<string>? before;
    private readonly bool isWriter;

    private Database(string path, SqliteOpenMode mode, Action<string>? before)
    {
        this.before = before;
        isWriter = mode != SqliteOpenMode.ReadOnly;
        Connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = Path.GetFullPath(path), Mode = mode, Pooling = false, DefaultTimeout = BusySeconds }.ToString());
    }

    internal SqliteConnection Connection { get; }

    /// <summary>Opens to read: no byte of the file is changed.</summary>
    internal static Database Read(string path, Action<string>? before = null) => new Database(path, SqliteOpenMode.ReadOnly, before).Opened();

    /// <summary>Opens to write. While it is open the file has a write-ahead log, so that readers go on reading; closed, it is one file again.</summary>
    internal static Database Write(string path, Action<string>? before = null)
    {
        var database = new Database(path, SqliteOpenMode.ReadWriteCreate, before).Opened();
        try
        {
            database.Execute("PRAGMA journal_mode = WAL");
            database.Execute("PRAGMA cache_size = -131072");
            return database;
        }
        catch
        {
            // The connection would stay open; the failure itself goes on to whoever asked.
            database.Dispose();
            throw;
        }
    }

    /// <summary>Whether a file can't be read because a killed writer left something to roll back.</summary>
    internal static bool NeedsRecovery(SqliteException failure) =>
        failure.SqliteExtendedErrorCode is SQLitePCL.raw.SQLITE_READONLY_ROLLBACK or SQLitePCL.raw.SQLITE_READONLY_RECOVERY or ReadOnlyCantInit;

    /// <summary>Rolls back what a killed writer left, by opening the file to write and closing it again.</summary>
    internal static void Recover(string path)
    {
        using var database = new Database(path, SqliteOpenMode.ReadWrite, null).Opened();
        database.Number("SELECT COUNT(*) FROM sqlite_master");
    }

    internal SqliteTransaction Begin(bool isReadOnly = false)
    {
        before?.Invoke("BEGIN");
        return Connection.BeginTransaction(deferred: isReadOnly);
    }

    internal void Commit(SqliteTransaction transaction)
    {
        before?.Invoke("COMMIT");
        transaction.Commit();
    }

    internal void Execute(string sql) => Run(Prepared(sql));

    internal long Number(string sql, params ReadOnlySpan<object> values)
    {
        var command = Prepared(sql, values);
        before?.Invoke(command.CommandText);
        return Convert.ToInt64(command.ExecuteScalar() ?? 0L);
    }

    /// <summary>A command with parameters $0, $1 … that lives as long as the connection.</summary>
    [SuppressMessage("Security", "CA2100", Justification = "All statements are constants of this folder; names of tables come from the list of kinds.")]
    internal SqliteCommand Prepared(string sql, params ReadOnlySpan<object> values)
    {
        var command = Connection.CreateCommand();
        command.CommandText = sql;
        commands.Add(command);
        for (var i = 0; i < values.Length; i++) command.Parameters.AddWithValue("$" + i, values[i]);
        return command;
    }

    /// <summary>A write to be run for many rows; whoever asks for it closes it.</summary>
    internal Statement Statement(string sql) => new(Connection.Handle!, sql, before);

    internal int Run(SqliteCommand command)
    {
        before?.Invoke(command.CommandText);
        return command.ExecuteNonQuery();
    }

    internal SqliteDataReader Query(string sql, params ReadOnlySpan<object> values)
    {
        var command = Prepared(sql, values);
        before?.Invoke(command.CommandText);
        return command.ExecuteReader();
    }

    public void Dispose()
    {
        foreach (var command in commands) command.Dispose();
        if (isWriter && Connection.State == System.Data.ConnectionState.Open) LeaveOneFile();
        Connection.Dispose();
    }

    private Database Opened()
    {
        try
        {
            before?.Invoke("OPEN");
            Connection.Open();
            return this;
        }
        catch
        {
            // Nothing was opened that anybody else could close.
            Connection.Dispose();
            throw;
        }
    }

    private void LeaveOneFile()
    {
        using var command = Connection.CreateCommand();
        command.CommandText = "PRAGMA journal_mode = DELETE";
        command.CommandTimeout = 1;
        try
        {
            command.ExecuteNonQuery();
        }
        catch (SqliteException)
        {
            // Somebody else still reads: the log stays beside the file, and the next writer folds it in.
        }
    }
}
