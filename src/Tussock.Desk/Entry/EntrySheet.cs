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
    /// <summary>When its rows count; null where there is nothing to say of it.</summary>
    public Phrase? Dates { get; init; }

    /// <summary>What stands above the boxes of the head that hold for whole nests only.</summary>
    public Phrase WholeNests { get; init; } = Phrase.Of("enter.whole_nests");

    /// <summary>Whether a line is a block of boxes, each with its word over it, as a line has too many of them to stand side by side.</summary>
    public bool IsInBlocks { get; init; }

    /// <summary>The column of the head's date.</summary>
    public string DateColumn => Head.IsEmpty ? "" : Head[0].Name;

    /// <summary>The record that a row means: of that date or side, where it tells records apart.</summary>
    /// <param name="row">The row.</param>
    /// <param name="apart">Its value of the column that tells them apart; empty: what is usual.</param>
    public RecordState? Match(EntryRow row, string apart)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.Apart.Length == 0) return row.Record;
        var meant = row.Meant(row.Apart, apart);
        return meant.Length == 0 ? null : There.FirstOrDefault(r => row.Is(r) && EntryValues.IsSame(row.Kind, row.Apart, row.Meant(row.Apart, EntryRow.Text(r, row.Apart)), meant));
    }

    /// <summary>The boxes that have letters, each once, for the list of letters.</summary>
    public IEnumerable<EntryColumn> Lettered => Rows.SelectMany(r => r.Columns).Concat(Head).Where(c => !c.Choices.IsEmpty).OrderBy(c => c.IsForLine).DistinctBy(c => c.Letters);
}
