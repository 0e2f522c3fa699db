using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using Tussock.Records;

namespace Tussock.Desk;

/// <summary>What is found out once for a table however many look at it: which columns hold anything, and its order by a column. May be shared between threads.</summary>
public sealed class TableOrder
{
    private static readonly ConditionalWeakTable<RecordTable, TableOrder> Known = [];
    private readonly RecordTable table;
    private readonly ConcurrentDictionary<(int Column, bool Descending), Lazy<int[]>> orders = new();

    private TableOrder(RecordTable table)
    {
        this.table = table;
        Filled = [.. Enumerable.Range(0, table.Columns.Length).Where(i => table.Columns[i] != "id" && (table.Kind.Key.Contains(table.Columns[i]) || table.Rows.Any(r => i < r.Cells.Length && r.Cells[i].Length > 0)))];
    }

    /// <summary>Columns with a filled cell, and those of the key; positions in the table, without the id.</summary>
    public ImmutableArray<int> Filled { get; }

    /// <summary>That of a table.</summary>
    public static TableOrder Of(RecordTable table) => Known.GetValue(table, t => new TableOrder(t));

    /// <summary>Rows in order of a column: numbers by their size, anything else as text behind them; rows without a value come last; equal ones as in the table.</summary>
    public int[] By(int column, bool isDescending) => orders.GetOrAdd((column, isDescending), _ => new Lazy<int[]>(() => Sorted(column, isDescending))).Value;

    private int[] Sorted(int column, bool isDescending)
    {
        var keys = new (string Text, double? Number)[table.Rows.Length];
        var numbers = new Dictionary<string, double?>(StringComparer.Ordinal);
        for (var i = 0; i < keys.Length; i++)
        {
            var text = column < table.Rows[i].Cells.Length ? table.Rows[i].Cells[column] : "";
            if (!numbers.TryGetValue(text, out var number)) numbers.Add(text, number = Cell.Number(text));
            keys[i] = (text, number);
        }

        var order = new int[keys.Length];
        for (var i = 0; i < order.Length; i++) order[i] = i;
        Array.Sort(order, (a, b) => Compared(keys[a], keys[b], isDescending) is var by && by != 0 ? by : a.CompareTo(b));
        return order;
    }

    private static int Compared((string Text, double? Number) a, (string Text, double? Number) b, bool isDescending)
    {
        if (a.Text.Length == 0 || b.Text.Length == 0) return (a.Text.Length == 0).CompareTo(b.Text.Length == 0);
        var none = isDescending ? double.NegativeInfinity : double.PositiveInfinity;
        var by = (a.Number ?? none).CompareTo(b.Number ?? none);
        if (by == 0) by = string.CompareOrdinal(a.Text, b.Text);
        return isDescending ? -by : by;
    }
}
