using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using Tussock.Store.Tables;

namespace Tussock.Store.Bulk;

/// <summary>Which migrations an open database still lacks, found without changing a byte.</summary>
internal static class AppliedMigrations
{
    /// <summary>Those that are pending, oldest first.</summary>
    /// <exception cref="DataFileException">There are some that only a newer program knows.</exception>
    internal static ImmutableArray<string> Pending<T>(Database database, string name)
        where T : DbContext
    {
        var applied = new List<string>();
        using var row = database.Query("SELECT \"MigrationId\" FROM \"__EFMigrationsHistory\"");
        while (row.Read()) applied.Add(row.GetString(0));
        return Applied.Pending<T>(applied) ?? throw DataFileException.About("newer", name);
    }
}
