using System.Collections.Immutable;
using Tussock.Journal;

namespace Tussock.Desk.Entry;

/// <summary>What somebody decided on cells in which two entries differ: the chosen values, written again by whoever chose, or nothing where a record has moved meanwhile.</summary>
/// <param name="Drafts">The changes, as one batch.</param>
/// <param name="IsStale">Whether a record has changed since the comparison was shown; then nothing is written.</param>
public sealed record EntryDecision(ImmutableArray<Draft> Drafts, bool IsStale)
{
    /// <summary>The first entry is kept.</summary>
    public const string First = "first";

    /// <summary>The second entry is taken.</summary>
    public const string Second = "second";

    /// <summary>Reads the decisions. A row without a record is taken whole or not at all, by what was decided on its first cell.</summary>
    /// <param name="comparison">The comparison as the records stand now.</param>
    /// <param name="typed">What the form carried: the second entry, and the changes behind what it showed.</param>
    /// <param name="chosen">What was chosen for a row and column: first, second, or anything else for undecided.</param>
    /// <param name="changes">All changes of a record.</param>
    /// <param name="season">Id of the season.</param>
    public static EntryDecision Of(EntryComparison comparison, EntryTyped typed, Func<string, string, string> chosen, Func<Guid, IReadOnlyCollection<Change>> changes, Guid season)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        ArgumentNullException.ThrowIfNull(typed);
        ArgumentNullException.ThrowIfNull(chosen);
        ArgumentNullException.ThrowIfNull(changes);
        var sheet = comparison.Sheet;
        var drafts = ImmutableArray.CreateBuilder<Draft>();
        foreach (var (row, record, second) in comparison.Rows)
        {
            var columns = EntryComparison.Compared(sheet, row).ToArray();
            if (ShownRecord.Read(typed.Shown.GetValueOrDefault(row.Key, "")) is not { } shown)
            {
                if (record is null && chosen(row.Key, "") == Second) drafts.AddRange(EntryReading.Of(sheet with { Rows = [row with { Columns = [.. columns] }] }, typed with { Head = ImmutableDictionary<string, string>.Empty, Sure = "" }, changes, season).Drafts);
                continue;
            }

            if (record is null || record.Id != shown.Id) return new EntryDecision([], IsStale: true);
            var history = changes(record.Id);
            var fields = new List<EditedField>();
            foreach (var column in columns)
            {
                var choice = chosen(row.Key, column.Name);
                if (choice is not (First or Second)) continue;
                var was = shown.Was(column.Name, history);
                var value = choice == Second ? second.GetValueOrDefault(column.Name, "") : was;
                var now = record.Field(FieldName.OfColumn(column.Name));
                // Sent twice: what was decided stands there already.
                if (!shown.Of(column.Name).ToHashSet().SetEquals(now?.HeadIds ?? []) && (now?.Value ?? "") == value) continue;
                fields.Add(new EditedField(column.Name, was, value, shown.Of(column.Name), Settles: true));
            }

            var edit = RecordEdit.Of(row.Kind, record, fields);
            if (!edit.Stale.IsEmpty || !edit.Unreadable.IsEmpty) return new EntryDecision([], IsStale: true);
            if (edit.Draft is not null) drafts.Add(edit.Draft with { Source = sheet.Name + ", second entry" });
        }

        return new EntryDecision(drafts.ToImmutable(), IsStale: false);
    }
}
