using System.Collections.Immutable;
using System.Reflection;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace Tussock.Store.Tables;

/// <summary>The migrations of a kind of database that this program knows.</summary>
internal static class Applied
{
    /// <summary>All of them, oldest first.</summary>
    internal static ImmutableArray<string> Known<T>()
        where T : DbContext => Migrations<T>.All;

    /// <summary>Those that are not among the applied ones; nothing was opened or changed to know it. Null: there are some that this program does not know.</summary>
    internal static ImmutableArray<string>? Pending<T>(IReadOnlyCollection<string> applied)
        where T : DbContext => applied.Except(Known<T>(), StringComparer.Ordinal).Any() ? null : [.. Known<T>().Except(applied, StringComparer.Ordinal)];

    private static class Migrations<T>
        where T : DbContext
    {
        internal static readonly ImmutableArray<string> All =
        [
            .. typeof(T).Assembly.GetTypes().Where(t => t.GetCustomAttribute<DbContextAttribute>()?.ContextType == typeof(T))
                .Select(t => t.GetCustomAttribute<MigrationAttribute>()?.Id).OfType<string>().Order(StringComparer.Ordinal),
        ];
    }
}
