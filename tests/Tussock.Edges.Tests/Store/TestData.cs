using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace Tussock.Edges.Tests.Store;

/// <summary>Where a test has its data.</summary>
public enum DataKind
{
    /// <summary>In a file.</summary>
    File,

    /// <summary>In a database of a server.</summary>
    Server,
}

/// <summary>Data of a test, in a file or on a server: gone when the test is over.</summary>
internal abstract class TestData : IDisposable
{
    /// <summary>A folder of the test's own.</summary>
    internal string Folder { get; } = Directory.CreateTempSubdirectory("tussock-data-").FullName;

    /// <summary>What is typed for DATA.</summary>
    internal abstract string Data { get; }

    /// <summary>Path to which an ending is added for what lies beside the data.</summary>
    internal abstract string Beside { get; }

    /// <summary>Everything that is stored, as one text: the same means that nothing was changed.</summary>
    internal abstract string State { get; }

    internal static TestData Of(DataKind kind) => kind == DataKind.File ? new FileData() : new ServerData();

    /// <summary>Endings of all that lies beside the data.</summary>
    internal string[] Others => [.. Directory.EnumerateFileSystemEntries(Path.GetDirectoryName(Beside)!, Path.GetFileName(Beside) + ".*").Where(f => Path.GetFileName(f) != Path.GetFileName(Beside)).Select(f => Path.GetFileName(f)[Path.GetFileName(Beside).Length..]).Order(StringComparer.Ordinal)];

    internal string At(string name) => Path.Combine(Folder, name);

    /// <summary>Other data of the same kind, with nothing in them.</summary>
    internal abstract TestData Another();

    /// <summary>Other data of the same kind, with all that is in these.</summary>
    internal abstract TestData Copied();

    /// <summary>Runs a statement behind the program's back.</summary>
    internal abstract object? Run(string sql);

    /// <summary>Holds the writer's lock as another program would, until it is disposed of.</summary>
    internal abstract IDisposable Held();

    public virtual void Dispose() => Directory.Delete(Folder, recursive: true);

    private sealed class FileData : TestData
    {
        internal override string Data => At("season.db");

        internal override string Beside => Data;

        internal override string State => File.Exists(Data) ? Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(Data))) : "";

        internal override TestData Another() => new FileData();

        internal override TestData Copied()
        {
            var copy = new FileData();
            File.Copy(Data, copy.Data);
            return copy;
        }

        internal override object? Run(string sql)
        {
            using var connection = Open();
            using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The statements are the tests' own.
            command.CommandText = sql;
#pragma warning restore CA2100
            return command.ExecuteScalar();
        }

        internal override IDisposable Held()
        {
            var connection = Open();
            connection.BeginTransaction();
            return connection;
        }

        private SqliteConnection Open()
        {
            var connection = new SqliteConnection("Data Source=" + Data + ";Pooling=False");
            connection.Open();
            return connection;
        }
    }

    private sealed class ServerData(string? like = null) : TestData
    {
        private readonly string database = ThrowawayServer.Make(like);

        internal override string Data => ThrowawayServer.Address(database);

        internal override string Beside => Path.Combine(ThrowawayServer.Beside, database);

        internal override string State
        {
            get
            {
                var state = new StringBuilder();
                var tables = ThrowawayServer.Run(database, "SELECT string_agg(quote_ident(tablename), ' ' ORDER BY tablename) FROM pg_tables WHERE schemaname = 'public'") as string ?? "";
                foreach (var table in tables.Split(' ', StringSplitOptions.RemoveEmptyEntries)) state.AppendLine(table).AppendLine(ThrowawayServer.Run(database, $"SELECT string_agg(t::text || t.xmin::text, E'\\n' ORDER BY t::text) FROM {table} t") as string);
                return state.ToString();
            }
        }

        internal override TestData Another() => new ServerData();

        internal override TestData Copied() => new ServerData(database);

        internal override object? Run(string sql) => ThrowawayServer.Run(database, sql);

        internal override IDisposable Held()
        {
            var connection = new NpgsqlConnection(Data + ";Pooling=false");
            connection.Open();
            connection.BeginTransaction();
            using var command = new NpgsqlCommand("SELECT pg_advisory_xact_lock($1)", connection) { Parameters = { new NpgsqlParameter { Value = Tussock.Store.Postgres.PostgresDatabase.JournalLock } } };
            command.ExecuteNonQuery();
            return connection;
        }

        public override void Dispose()
        {
            ThrowawayServer.Drop(database);
            foreach (var left in Directory.EnumerateFiles(ThrowawayServer.Beside, database + ".*")) File.Delete(left);
            foreach (var left in Directory.EnumerateDirectories(ThrowawayServer.Beside, database + ".*")) Directory.Delete(left, recursive: true);
            base.Dispose();
        }
    }
}
