using System.Data;
using System.Data.Common;
using System.Globalization;
using System.Text.RegularExpressions;
using Npgsql;
using Tussock.Store.Bulk;

namespace Tussock.Store.Postgres;

/// <summary>An open connection to a database on a server.</summary>
internal sealed partial class PostgresDatabase : Database
{
    /// <summary>"tussock" for the server's book of locks: one lock a database, because the journal's positions are counted through all seasons.</summary>
    internal const long JournalLock = 0x747573736F636B;

    private readonly NpgsqlConnection connection;
    private readonly Action<string>? before;
    private readonly List<GatheredRows> gathered = [];

    private PostgresDatabase(NpgsqlConnection connection, Action<string>? before)
        : base(connection, before) => (this.connection, this.before) = (connection, before);

    internal static PostgresDatabase Opened(string connectionString, Action<string>? before = null)
    {
        var database = new PostgresDatabase(new NpgsqlConnection(connectionString), before);
        database.Open();
        return database;
    }

    internal override DbTransaction Begin(bool isReadOnly = false)
    {
        Tell("BEGIN");
        if (isReadOnly)
        {
            var reading = connection.BeginTransaction(IsolationLevel.RepeatableRead);
            Execute("SET TRANSACTION READ ONLY");
            return reading;
        }

        // Not a snapshot: it would be taken before the wait for the lock, and what the other writer wrote meanwhile would stay unseen.
        var writing = connection.BeginTransaction(IsolationLevel.ReadCommitted);
        try
        {
            Execute(FormattableString.Invariant($"SET LOCAL lock_timeout = '{BusySeconds}s'; SET LOCAL idle_in_transaction_session_timeout = '5min'; SELECT pg_advisory_xact_lock({JournalLock})"));
            return writing;
        }
        catch
        {
            // Whoever asked gets the failure, and no transaction that could be ended.
            writing.Dispose();
            throw;
        }
    }

    internal override Statement Statement(string sql)
    {
        var rows = new GatheredRows(connection, Spelled(sql), Settle, before);
        gathered.Add(rows);
        return rows;
    }

    internal override IReadOnlyList<string> Damage() => [];

    internal override void GoOnNumbering(string table, string column) =>
        Scalar(Prepared($"SELECT setval(pg_get_serial_sequence('{table}', '{column}'), COALESCE(MAX({column}), 0) + 1, false) FROM {table}"));

    /// <summary>Parameters are counted from one here.</summary>
    protected override string Spelled(string sql) => Parameter().Replace(sql, m => FormattableString.Invariant($"${int.Parse(m.Groups["place"].Value, CultureInfo.InvariantCulture) + 1}"));

    /// <summary>A parameter without a name stands where its place says.</summary>
    protected override string NameOf(int parameter) => "";

    protected override void Settle()
    {
        foreach (var rows in gathered) rows.Write();
    }

    [GeneratedRegex(@"\$(?<place>\d+)", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Parameter();
}
