using System.Data.Common;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Tussock.Store.Bulk;

/// <summary>Copies all rows of all tables from one open database into the empty tables of another, of whichever kind either is.</summary>
internal static class TableCopy
{
    /// <summary>Copies, inside the transactions that are open on both sides.</summary>
    /// <param name="model">The tables that both have.</param>
    /// <param name="from">Source.</param>
    /// <param name="to">Target.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static void Run(IModel model, Database from, Database to, CancellationToken cancellation)
    {
        foreach (var type in model.GetEntityTypes())
        {
            var columns = type.GetProperties().ToArray();
            var names = string.Join(", ", columns.Select(c => "\"" + c.GetColumnName() + "\""));
            var places = string.Join(", ", columns.Select((_, i) => "$" + i.ToString(CultureInfo.InvariantCulture)));
            using var into = to.Statement("INSERT INTO \"" + type.GetTableName() + "\" (" + names + ") VALUES (" + places + ")");
            using var row = from.Query("SELECT " + names + " FROM \"" + type.GetTableName() + "\"");
            for (var count = 0; row.Read(); count++)
            {
                if ((count & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
                for (var i = 0; i < columns.Length; i++) Put(into, row, i, columns[i].ClrType);
                into.Run();
            }

            foreach (var column in columns.Where(c => c.IsPrimaryKey() && c.ValueGenerated == ValueGenerated.OnAdd && c.ClrType == typeof(long))) to.GoOnNumbering(type.GetTableName()!, column.GetColumnName());
        }
    }

    /// <summary>Empties all tables.</summary>
    internal static void Empty(IModel model, Database database)
    {
        foreach (var type in model.GetEntityTypes()) database.Execute("DELETE FROM \"" + type.GetTableName() + "\"");
    }

    private static void Put(Statement into, DbDataReader row, int column, Type type)
    {
        if (type == typeof(byte[])) into.Bytes(row.GetFieldValue<byte[]>(column));
        else if (type == typeof(string)) into.Text(row.GetString(column));
        else if (type == typeof(bool)) into.Flag(row.GetBoolean(column));
        else into.Number(row.IsDBNull(column) ? null : row.GetInt64(column));
    }
}
