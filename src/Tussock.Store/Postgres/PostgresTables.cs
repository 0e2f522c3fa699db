using System.Diagnostics.CodeAnalysis;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Npgsql;
using Tussock.Store.Tables;

namespace Tussock.Store.Postgres;

/// <summary>The tables in a PostgreSQL database: schema and migrations.</summary>
internal sealed class PostgresTables(DbContextOptions<PostgresTables> options) : DbContext(options)
{
    internal static PostgresTables On(NpgsqlConnection connection) => new(new DbContextOptionsBuilder<PostgresTables>().UseNpgsql(connection).Options);

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        Mapping.Map(modelBuilder);

        // An index entry has room for some 2,700 bytes here, and a key may be as long as a cell of somebody's table.
        foreach (var type in modelBuilder.Model.GetEntityTypes().Where(t => t.ClrType == typeof(RecordEntry)))
        {
            foreach (var index in type.GetIndexes().ToList()) type.RemoveIndex(index);
            type.AddIndex(type.FindProperty(nameof(RecordEntry.Season))!);
        }

        // Texts are ordered and compared byte by byte, as in a data file: never as the server's language would.
        foreach (var property in modelBuilder.Model.GetEntityTypes().SelectMany(t => t.GetProperties()).Where(p => p.ClrType == typeof(string))) property.SetCollation("C");
    }
}

/// <summary>Makes the context for the tool that writes migrations; no server is asked.</summary>
[SuppressMessage("Performance", "CA1812", Justification = "Made by the migrations tool.")]
internal sealed class PostgresTablesForTools : IDesignTimeDbContextFactory<PostgresTables>
{
    public PostgresTables CreateDbContext(string[] args) => new(new DbContextOptionsBuilder<PostgresTables>().UseNpgsql("Host=localhost;Database=none").Options);
}
