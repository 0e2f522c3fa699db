using System.Diagnostics.CodeAnalysis;
using Npgsql;
using NpgsqlTypes;
using Tussock.Store.Bulk;

namespace Tussock.Store.Postgres;

/// <summary>A write on a server. Rows to be put in are gathered and sent some thousand at once, a column as one array: a way to the server and back a row would take most of the time of an import. Anything else is done at once, after what was gathered.</summary>
internal sealed class GatheredRows : Statement
{
    private const int Most = 2000;

    private readonly NpgsqlCommand command;
    private readonly Action settle;
    private readonly Action<string>? before;
    private readonly bool isGathered;
    private readonly List<IColumn> columns = [];
    private int at, rows;

    [SuppressMessage("Security", "CA2100", Justification = "All statements are constants of the folder Bulk; names of tables come from the list of kinds.")]
    internal GatheredRows(NpgsqlConnection connection, string sql, Action settle, Action<string>? before)
    {
        (this.settle, this.before) = (settle, before);
        isGathered = sql.StartsWith("INSERT", StringComparison.Ordinal);
        command = connection.CreateCommand();
        command.CommandText = isGathered ? sql.Replace("VALUES (", "SELECT * FROM unnest(", StringComparison.Ordinal) : sql;
    }

    internal override Statement Number(long? value) => Bound(value, NpgsqlDbType.Bigint);

    internal override Statement Flag(bool value) => Bound(value, NpgsqlDbType.Boolean);

    internal override Statement Text(string value) => Bound(value, NpgsqlDbType.Text);

    internal override Statement Text(ReadOnlySpan<byte> utf8) => Text(System.Text.Encoding.UTF8.GetString(utf8));

    internal override Statement Bytes(ReadOnlySpan<byte> value) => Bound(value.ToArray(), NpgsqlDbType.Bytea);

    internal override void Run()
    {
        at = 0;
        if (!isGathered) settle();
        else before?.Invoke(command.CommandText);
        rows++;
        if (!isGathered || rows >= Most) Write();
    }

    /// <summary>Writes what was gathered.</summary>
    internal void Write()
    {
        if (rows == 0) return;
        if (command.Parameters.Count == 0) foreach (var column in columns) command.Parameters.Add(column.Parameter(isGathered));
        foreach (var (parameter, column) in command.Parameters.Zip(columns)) parameter.Value = column.Value(isGathered);
        before?.Invoke(command.CommandText);
        command.ExecuteNonQuery();
        foreach (var column in columns) column.Clear();
        rows = 0;
    }

    /// <summary>Nothing is lost by it: what was gathered is written with the commit, or must not be.</summary>
    public override void Dispose()
    {
    }

    private GatheredRows Bound<T>(T value, NpgsqlDbType type)
    {
        if (at == columns.Count) columns.Add(new Column<T>(type));
        ((Column<T>)columns[at++]).Values.Add(value);
        return this;
    }

    private interface IColumn
    {
        NpgsqlParameter Parameter(bool isArray);

        object Value(bool isArray);

        void Clear();
    }

    private sealed class Column<T>(NpgsqlDbType type) : IColumn
    {
        internal List<T> Values { get; } = [];

        public NpgsqlParameter Parameter(bool isArray) => new() { NpgsqlDbType = isArray ? NpgsqlDbType.Array | type : type };

        public object Value(bool isArray) => isArray ? Values : Values[0] ?? (object)DBNull.Value;

        public void Clear() => Values.Clear();
    }
}
