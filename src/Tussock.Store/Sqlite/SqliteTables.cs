using System.Diagnostics.CodeAnalysis;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Tussock.Store.Tables;

namespace Tussock.Store.Sqlite;

/// <summary>The tables in a SQLite file: schema and migrations.</summary>
internal sealed class SqliteTables(DbContextOptions<SqliteTables> options) : DbContext(options)
{
    internal static SqliteTables On(SqliteConnection connection) => new(new DbContextOptionsBuilder<SqliteTables>().UseSqlite(connection).Options);

    protected override void OnModelCreating(ModelBuilder modelBuilder) => Mapping.Map(modelBuilder);
}

/// <summary>Makes the context for the tool that writes migrations; the file is never opened.</summary>
[SuppressMessage("Performance", "CA1812", Justification = "Made by the migrations tool.")]
internal sealed class SqliteTablesForTools : IDesignTimeDbContextFactory<SqliteTables>
{
    public SqliteTables CreateDbContext(string[] args) => new(new DbContextOptionsBuilder<SqliteTables>().UseSqlite("Data Source=:memory:").Options);
}
