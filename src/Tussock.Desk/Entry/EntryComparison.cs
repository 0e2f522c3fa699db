using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>One cell in which two entries of a sheet differ.</summary>
/// <param name="Row">The row.</param>
/// <param name="Column">The column.</param>
/// <param name="First">What the record holds.</param>
/// <param name="Second">What the second entry says, as records spell it.</param>
public sealed record EntryDifference(EntryRow Row, EntryColumn Column, string First, string Second);

/// <summary>The first entry of a sheet, which is what the records say, beside a second one, which is written nowhere until somebody decides.</summary>
/// <param name="Sheet">The sheet.</param>
/// <param name="Rows">By row that either entry has: the record, or null, and what the second entry says.</param>
/// <param name="Differences">The cells that differ, in the order of the sheet.</param>
/// <param name="Alike">How many filled cells are alike.</param>
/// <param name="Told">What can't be read of the second entry; then nothing is compared.</param>
public sealed record EntryComparison(
    EntrySheet Sheet, ImmutableArray<(EntryRow Row, RecordState? Record, ImmutableDictionary<string, string> Second)> Rows, ImmutableArray<EntryDifference> Differences, int Alike, IReadOnlyDictionary<(string Row, string Column), Phrase> Told)
{
    /// <summary>Compares a second entry with the records.</summary>
    /// <param name="sheet">The sheet as the records stand.</param>
    /// <param name="typed">The second entry.</param>
    public static EntryComparison Of(EntrySheet sheet, EntryTyped typed)
    {
        var values = new EntryValues(sheet, typed);
        var told = new Dictionary<(string, string), Phrase>();
        var rows = ImmutableArray.CreateBuilder<(EntryRow, RecordState?, ImmutableDictionary<string, string>)>();
        var differences = ImmutableArray.CreateBuilder<EntryDifference>();
        var alike = 0;
        foreach (var row in sheet.Rows)
        {
            var own = values.Own(row);
            var isTyped = values.IsUsed(row);
            if (!isTyped && row.Record is null) continue;
            var second = isTyped ? values.WithHead(row, own) : ImmutableDictionary<string, string>.Empty;
            var record = sheet.Match(row, second.GetValueOrDefault(row.Apart, "")) ?? row.Record;
            rows.Add((row, record, second));
            foreach (var (column, text) in second) if (ColumnOf(sheet, row, column).Expected(row.Kind, text) is { } expected) told[(own.GetValueOrDefault(column, "").Length > 0 ? row.Key : "", column)] = expected;
            foreach (var (column, why) in isTyped ? row.Wrong(second) : []) told.TryAdd((row.Key, column), why);
            if (isTyped && row.NeedsDate && !second.ContainsKey(row.DateColumn)) told[("", row.DateColumn)] = Phrase.Of("reading.expect_date");
            foreach (var column in Compared(sheet, row))
            {
                var (first, other) = (EntryRow.Text(record, column.Name), second.GetValueOrDefault(column.Name, ""));
                if (!EntryValues.IsSame(row.Kind, column.Name, first, other)) differences.Add(new EntryDifference(row, column, first, other));
                else if (first.Length > 0) alike++;
            }
        }

        return new EntryComparison(sheet, rows.ToImmutable(), differences.ToImmutable(), alike, told);
    }

    /// <summary>The boxes of a row that are compared: its own, and those of the head that go into its record.</summary>
    public static IEnumerable<EntryColumn> Compared(EntrySheet sheet, EntryRow row)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(row);
        return row.Columns.Concat(sheet.Head.Where(c => row.TakesHead && row.Kind.ColumnNamed(c.Name) is not null)).DistinctBy(c => c.Name);
    }

    private static EntryColumn ColumnOf(EntrySheet sheet, EntryRow row, string column) => Compared(sheet, row).First(c => c.Name == column);
}
