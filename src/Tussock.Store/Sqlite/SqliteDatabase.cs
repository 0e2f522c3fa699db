using System.Data.Common;
using System.Globalization;
using Microsoft.Data.Sqlite;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>An open data file.</summary>
internal sealed class SqliteDatabase : Database
{
    // SQLITE_READONLY_CANTINIT, which the library has no name for.
    private const int ReadOnlyCantInit = 8 | (5 << 8);

    private readonly SqliteConnection connection;
    private readonly Action<string>? before;
    private readonly bool isWriter;

    private SqliteDatabase(SqliteConnection connection, bool isWriter, Action<string>? before)
        : base(connection, before) => (this.connection, this.isWriter, this.before) = (connection, isWriter, before);

    /// <summary>Opens to read: no byte of the file is changed.</summary>
    internal static SqliteDatabase Read(string path, Action<string>? before = null) => Opened(path, SqliteOpenMode.ReadOnly, before);

    /// <summary>Opens to write. While it is open the file has a write-ahead log, so that readers go on reading; closed, it is one file again.</summary>
    internal static SqliteDatabase Write(string path, Action<string>? before = null)
    {
        var database = Opened(path, SqliteOpenMode.ReadWriteCreate, before);
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
        using var database = Opened(path, SqliteOpenMode.ReadWrite, null);
        database.Number("SELECT COUNT(*) FROM sqlite_master");
    }

    internal override DbTransaction Begin(bool isReadOnly = false)
    {
        Tell("BEGIN");
        return connection.BeginTransaction(deferred: isReadOnly);
    }

    internal override Statement Statement(string sql) => new SqliteStatement(connection.Handle!, sql, before);

    internal override IReadOnlyList<string> Damage()
    {
        var damage = new List<string>();
        using var row = Query("PRAGMA integrity_check");
        while (row.Read()) if (row.GetString(0) != "ok") damage.Add(row.GetString(0));
        return damage;
    }

    internal override void GoOnNumbering(string table, string column)
    {
        // SQLite goes on behind the greatest number that was ever written.
    }

    protected override string NameOf(int parameter) => "$" + parameter.ToString(CultureInfo.InvariantCulture);

    protected override void Close()
    {
        if (isWriter && connection.State == System.Data.ConnectionState.Open) LeaveOneFile();
    }

    private static SqliteDatabase Opened(string path, SqliteOpenMode mode, Action<string>? before)
    {
        var text = new SqliteConnectionStringBuilder { DataSource = Path.GetFullPath(path), Mode = mode, Pooling = false, DefaultTimeout = BusySeconds }.ToString();
        var database = new SqliteDatabase(new SqliteConnection(text), mode != SqliteOpenMode.ReadOnly, before);
        database.Open();
        return database;
    }

    private void LeaveOneFile()
    {
        using var command = connection.CreateCommand();
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
