using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A printed sheet of one transect as a form: what stands once at its head, and its rows in walking order.</summary>
/// <param name="Name">Name of the printed sheet, for example <c>sheet-check-day-14</c>; also said to be the source of what is written.</param>
/// <param name="Address">Path and query of its form.</param>
/// <param name="Title">What it is.</param>
/// <param name="Transect">Its transect.</param>
/// <param name="Head">Boxes of the head; rows that are new take them where they say nothing themselves.</param>
/// <param name="Rows">Its rows.</param>
/// <param name="There">The records that stand at places of this sheet, whatever their date.</param>
public sealed record EntrySheet(string Name, string Address, Phrase Title, Transect Transect, ImmutableArray<EntryColumn> Head, ImmutableArray<EntryRow> Rows, ImmutableArray<RecordState> There)
{
    /// <summary>The record that a row means: of that date, where dates tell records apart.</summary>
    public RecordState? Match(EntryRow row, string date) => row.DateColumn.Length == 0 ? row.Record : There.FirstOrDefault(r => row.Is(r) && date.Length > 0 && EntryRow.Text(r, row.DateColumn) == date);

    /// <summary>The boxes that have letters, each once, for the list of letters.</summary>
    public IEnumerable<EntryColumn> Lettered => Rows.SelectMany(r => r.Columns).Concat(Head).Where(c => !c.Choices.IsEmpty).DistinctBy(c => c.Name);
}
