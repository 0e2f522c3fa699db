using Microsoft.Data.Sqlite;
using SQLitePCL;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>A write straight on SQLite, at once: a command object a row would take most of the time of an import.</summary>
internal sealed class SqliteStatement(sqlite3 connection, string sql, Action<string>? before) : Statement
{
    private readonly sqlite3_stmt statement = Prepare(connection, sql);
    private int at;

    internal override Statement Number(long? value) => Bound(value is { } number ? raw.sqlite3_bind_int64(statement, ++at, number) : raw.sqlite3_bind_null(statement, ++at));

    internal override Statement Flag(bool value) => Number(value ? 1 : 0);

    internal override Statement Text(string value) => Bound(raw.sqlite3_bind_text(statement, ++at, value));

    internal override Statement Text(ReadOnlySpan<byte> utf8) => Bound(raw.sqlite3_bind_text(statement, ++at, utf8));

    internal override Statement Bytes(ReadOnlySpan<byte> value) => Bound(raw.sqlite3_bind_blob(statement, ++at, value));

    internal override void Run()
    {
        before?.Invoke(sql);
        at = 0;
        var result = raw.sqlite3_step(statement);
        raw.sqlite3_reset(statement);
        if (result != raw.SQLITE_DONE) SqliteException.ThrowExceptionForRC(result, connection);
    }

    public override void Dispose() => statement.Dispose();

    private static sqlite3_stmt Prepare(sqlite3 connection, string sql)
    {
        SqliteException.ThrowExceptionForRC(raw.sqlite3_prepare_v2(connection, sql, out var statement), connection);
        return statement;
    }

    private SqliteStatement Bound(int result)
    {
        SqliteException.ThrowExceptionForRC(result, connection);
        return this;
    }
}
