using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using Tussock.Records;

namespace Tussock.Desk;

/// <summary>What is found out once for a table however many look at it: which columns hold anything, their different texts, and the order by each. May be shared between threads.</summary>
/// <remarks>What was found out for the version before is taken over for the rows that are the same.</remarks>
public sealed class TableOrder
{
    private static readonly ConditionalWeakTable<RecordTable, TableOrder> Known = [];
    private static readonly ConditionalWeakTable<RecordKind, TableOrder> Latest = [];
    private readonly RecordTable table;
    private readonly TextsOfColumn[] texts;
    private readonly ConcurrentDictionary<(int Column, bool Descending), Lazy<int[]>> orders = new();

    private TableOrder(RecordTable table, TableOrder? before)
    {
        this.table = table;
        var same = before is not null && before.table.Columns.SequenceEqual(table.Columns) ? before : null;
        texts = [.. Enumerable.Range(0, table.Columns.Length).Select(c => table.Columns[c] == "id" ? TextsOfColumn.None : TextsOfColumn.Of(table.Rows, c, same?.table.Rows ?? [], same?.texts[c]))];
        Filled = [.. Enumerable.Range(0, table.Columns.Length).Where(i => table.Columns[i] != "id" && (table.Kind.Key.Contains(table.Columns[i]) || texts[i].IsFilled))];
    }

    /// <summary>Columns with a filled cell, and those of the key; positions in the table, without the id.</summary>
    public ImmutableArray<int> Filled { get; }

    /// <summary>That of a table.</summary>
    public static TableOrder Of(RecordTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        if (Known.TryGetValue(table, out var known)) return known;
        var made = Known.GetValue(table, t => new TableOrder(t, Latest.TryGetValue(t.Kind, out var before) ? before : null));
        Latest.AddOrUpdate(table.Kind, made);
        return made;
    }

    /// <summary>Rows in order of a column: numbers by their size, anything else as text behind them; rows without a value come last; equal ones as in the table.</summary>
    public int[] By(int column, bool isDescending) => orders.GetOrAdd((column, isDescending), _ => new Lazy<int[]>(() => texts[column].Order(isDescending))).Value;

    /// <summary>Rows with a text in some shown cell, whatever its capitals; in the order given, or as in the table.</summary>
    public int[] With(string text, int[]? order)
    {
        var fitting = Filled.Select(c => (texts[c].Codes, Fits: texts[c].Values.Select(v => v.Contains(text, StringComparison.OrdinalIgnoreCase)).ToArray())).Where(c => c.Fits.Contains(true)).ToArray();
        var found = new List<int>();
        for (var i = 0; i < table.Rows.Length; i++)
        {
            var row = order?[i] ?? i;
            foreach (var (codes, fits) in fitting)
            {
                if (!fits[codes[row]]) continue;
                found.Add(row);
                break;
            }
        }

        return [.. found];
    }

    /// <summary>The different texts of a column, and which of them each row has: most columns hold few.</summary>
    /// <param name="Values">The texts; some may be no row's any more.</param>
    /// <param name="Codes">By row, the place of its text among them.</param>
    private sealed record TextsOfColumn(List<string> Values, int[] Codes)
    {
        internal static TextsOfColumn None { get; } = new([], []);

        internal bool IsFilled => Codes.Any(c => Values[c].Length > 0);

        internal static TextsOfColumn Of(ImmutableArray<RecordRow> rows, int column, ImmutableArray<RecordRow> before, TextsOfColumn? known)
        {
            // Texts that no row has any more are dropped now and then, so that they don't pile up.
            if (known is not null && known.Values.Count > rows.Length + 1000) known = null;
            var values = known is null ? [] : known.Values.ToList();
            Dictionary<string, int>? at = null;
            var codes = new int[rows.Length];
            for (var i = 0; i < rows.Length; i++)
            {
                if (known is not null && i < before.Length && ReferenceEquals(rows[i], before[i]))
                {
                    codes[i] = known.Codes[i];
                    continue;
                }

                at ??= values.Select((v, n) => (v, n)).ToDictionary(v => v.v, v => v.n, StringComparer.Ordinal);
                var text = column < rows[i].Cells.Length ? rows[i].Cells[column] : "";
                if (!at.TryGetValue(text, out codes[i]))
                {
                    at.Add(text, codes[i] = values.Count);
                    values.Add(text);
                }
            }

            return new TextsOfColumn(values, codes);
        }

        internal int[] Order(bool isDescending)
        {
            var sorted = Values.Select((text, code) => (Text: text, Code: code, Number: Cell.Number(text))).ToArray();
            Array.Sort(sorted, (a, b) => Compared((a.Text, a.Number), (b.Text, b.Number), isDescending));
            var starts = new int[Values.Count + 1];
            var rank = new int[Values.Count];
            for (var r = 0; r < sorted.Length; r++) rank[sorted[r].Code] = r;
            foreach (var code in Codes) starts[rank[code] + 1]++;
            for (var r = 1; r < starts.Length; r++) starts[r] += starts[r - 1];
            var order = new int[Codes.Length];
            for (var row = 0; row < Codes.Length; row++) order[starts[rank[Codes[row]]]++] = row;
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
}
