using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Tussock.Store.Bulk;

/// <summary>A write prepared once and run for every row, straight on SQLite: a command object a row would take most of the time of an import.</summary>
internal sealed class Statement(sqlite3 connection, string sql, Action<string>? before) : IDisposable
{
    private readonly sqlite3_stmt statement = Prepare(connection, sql);
    private int at;

    internal Statement Number(long value) => Bound(raw.sqlite3_bind_int64(statement, ++at, value));

    internal Statement Text(string value) => Bound(raw.sqlite3_bind_text(statement, ++at, value));

    internal Statement Text(ReadOnlySpan<byte> utf8) => Bound(raw.sqlite3_bind_text(statement, ++at, utf8));

    internal Statement Bytes(ReadOnlySpan<byte> value) => Bound(raw.sqlite3_bind_blob(statement, ++at, value));

    internal Statement Id(Guid value)
    {
        Span<byte> bytes = stackalloc byte[16];
        value.TryWriteBytes(bytes, bigEndian: true, out _);
        return Bytes(bytes);
    }

    /// <summary>Runs it with the values bound since the last run, and says how many rows it changed.</summary>
    internal int Run()
    {
        before?.Invoke(sql);
        at = 0;
        var result = raw.sqlite3_step(statement);
        raw.sqlite3_reset(statement);
        if (result != raw.SQLITE_DONE) SqliteException.ThrowExceptionForRC(result, connection);
        return raw.sqlite3_changes(connection);
    }

    public void Dispose() => statement.Dispose();

    private static sqlite3_stmt Prepare(sqlite3 connection, string sql)
    {
        SqliteException.ThrowExceptionForRC(raw.sqlite3_prepare_v2(connection, sql, out var statement), connection);
        return statement;
    }

    private Statement Bound(int result)
    {
        SqliteException.ThrowExceptionForRC(result, connection);
        return this;
    }
}
