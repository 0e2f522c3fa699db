using System.Data.Common;
using System.Diagnostics.CodeAnalysis;

namespace Tussock.Store.Bulk;

/// <summary>One open connection, to a file or to a server; every statement of the store passes here, so that a test can make any one of them fail.</summary>
/// <param name="connection">The connection, which is closed with this.</param>
/// <param name="before">Called with the text of every statement before it runs.</param>
internal abstract class Database(DbConnection connection, Action<string>? before) : IDisposable
{
    private readonly List<DbCommand> commands = [];

    internal DbConnection Connection => connection;

    /// <summary>Seconds that a writer waits for another before it gives up.</summary>
    protected const int BusySeconds = 5;

    /// <summary>Begins a transaction: one that writes is alone, one that only reads sees one state.</summary>
    internal abstract DbTransaction Begin(bool isReadOnly = false);

    /// <summary>A write to be run for many rows; whoever asks for it closes it.</summary>
    internal abstract Statement Statement(string sql);

    /// <summary>What the database itself finds damaged.</summary>
    internal abstract IReadOnlyList<string> Damage();

    /// <summary>After rows with numbers of their own were written into a table that numbers its rows.</summary>
    internal abstract void GoOnNumbering(string table, string column);

    internal void Commit(DbTransaction transaction)
    {
        Settle();
        before?.Invoke("COMMIT");
        transaction.Commit();
    }

    internal void Execute(string sql) => Run(Prepared(sql));

    internal long Number(string sql, params ReadOnlySpan<object> values) => Convert.ToInt64(Scalar(Prepared(sql, values)) ?? 0L);

    /// <summary>A command with parameters $0, $1 … that lives as long as the connection.</summary>
    [SuppressMessage("Security", "CA2100", Justification = "All statements are constants of this folder; names of tables come from the list of kinds.")]
    internal DbCommand Prepared(string sql, params ReadOnlySpan<object> values)
    {
        var command = connection.CreateCommand();
        command.CommandText = Spelled(sql);
        commands.Add(command);
        for (var i = 0; i < values.Length; i++)
        {
            var parameter = command.CreateParameter();
            parameter.ParameterName = NameOf(i);
            parameter.Value = values[i];
            command.Parameters.Add(parameter);
        }

        return command;
    }

    internal int Run(DbCommand command)
    {
        Settle();
        before?.Invoke(command.CommandText);
        return command.ExecuteNonQuery();
    }

    internal object? Scalar(DbCommand command)
    {
        Settle();
        before?.Invoke(command.CommandText);
        return command.ExecuteScalar();
    }

    internal DbDataReader Query(DbCommand command)
    {
        Settle();
        before?.Invoke(command.CommandText);
        return command.ExecuteReader();
    }

    internal DbDataReader Query(string sql, params ReadOnlySpan<object> values) => Query(Prepared(sql, values));

    public void Dispose()
    {
        foreach (var command in commands) command.Dispose();
        Close();
        connection.Dispose();
    }

    /// <summary>Told before a step that no statement makes.</summary>
    protected void Tell(string step) => before?.Invoke(step);

    /// <summary>A statement as this database spells it.</summary>
    protected virtual string Spelled(string sql) => sql;

    /// <summary>Name of the parameter with an order number.</summary>
    protected abstract string NameOf(int parameter);

    /// <summary>Writes what was gathered.</summary>
    protected virtual void Settle()
    {
    }

    /// <summary>What is left to do before the connection is closed.</summary>
    protected virtual void Close()
    {
    }

    /// <summary>Opens the connection, or closes all.</summary>
    protected void Open()
    {
        try
        {
            Tell("OPEN");
            connection.Open();
        }
        catch
        {
            // Nothing was opened that anybody else could close.
            connection.Dispose();
            throw;
        }
    }
}
