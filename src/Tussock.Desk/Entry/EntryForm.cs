using System.Collections.Immutable;
using Tussock.Journal;

namespace Tussock.Desk.Entry;

/// <summary>A cell as its page shows it.</summary>
/// <param name="Column">Its column.</param>
/// <param name="Text">Its text.</param>
/// <param name="Told">What is told next to it; null when nothing is.</param>
public sealed record EntryCell(EntryColumn Column, string Text, Phrase? Told);

/// <summary>A row as its page shows it.</summary>
/// <param name="Row">The row.</param>
/// <param name="Shown">The record and the changes behind its values, as the form carries them; empty for a new one.</param>
/// <param name="Cells">Its cells.</param>
public sealed record EntryShownRow(EntryRow Row, string Shown, ImmutableArray<EntryCell> Cells);

/// <summary>A line of the paper as its page shows it: a row, or several that share boxes.</summary>
/// <param name="Rows">Its rows.</param>
/// <param name="Shared">The boxes that stand once on the line.</param>
public sealed record EntryShownLine(ImmutableArray<EntryShownRow> Rows, ImmutableArray<EntryCell> Shared)
{
    /// <summary>Its first row, which names it.</summary>
    public EntryRow First => Rows[0].Row;

    /// <summary>Every box with the name that it has in the form, in the order of the sheet.</summary>
    public IEnumerable<(string Key, EntryCell Cell)> Boxes => Rows.SelectMany(r => r.Cells.Where(c => !c.Column.IsForLine).Select(c => (r.Row.Key, c))).Concat(Shared.Select(c => (First.Line, c)));
}

/// <summary>A sheet as its page shows it.</summary>
/// <param name="Sheet">The sheet.</param>
/// <param name="Head">The cells of its head.</param>
/// <param name="Rows">Its rows.</param>
/// <param name="Warnings">Dates that need a second press.</param>
/// <param name="Sure">Those dates, as the form carries them.</param>
/// <param name="IsAgain">Whether it is entered a second time, blind.</param>
public sealed record EntryForm(EntrySheet Sheet, ImmutableArray<EntryCell> Head, ImmutableArray<EntryShownRow> Rows, ImmutableArray<Phrase> Warnings, string Sure, bool IsAgain)
{
    /// <summary>How many rows were just written; null when none were sent.</summary>
    public int? Saved { get; init; }

    /// <summary>Why nothing was written, besides what stands next to cells.</summary>
    public Phrase? Refused { get; init; }

    /// <summary>The photographed sheet shown beside the form, by its hash; empty when none is.</summary>
    public string Photo { get; init; } = "";

    /// <summary>Photos to choose from: hash and name.</summary>
    public ImmutableArray<(string Hash, string Name)> Photos { get; init; } = [];

    /// <summary>The next open sheet; null when there is none.</summary>
    public OpenSheet? Next { get; init; }

    /// <summary>The lines of the paper. What stands once on a line is what its records say; rows that have none say nothing of it.</summary>
    public IEnumerable<EntryShownLine> Lines => Rows.GroupBy(r => r.Row.Line).Select(l => new EntryShownLine([.. l], [.. l.OrderBy(r => r.Shown.Length == 0).SelectMany(r => r.Cells.Where(c => c.Column.IsForLine)).GroupBy(c => c.Column.Name).Select(c => c.FirstOrDefault(o => o.Told is not null) ?? c.First())]));

    /// <summary>Whether the words over the boxes of a line have to be seen: where it has other boxes than the line above it.</summary>
    public bool IsLabelled(EntryShownLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        var at = Rows.IndexOf(line.Rows[0]);
        return Sheet.IsInBlocks || at == 0 || !Rows[at - 1].Row.Columns.Select(c => c.Label).SequenceEqual(line.Rows[^1].Row.Columns.Select(c => c.Label));
    }

    /// <summary>Whether something is told next to a cell.</summary>
    public bool IsTold => Head.Concat(Rows.SelectMany(r => r.Cells)).Any(c => c.Told is not null);

    /// <summary>A sheet before anything is typed.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="head">What the head says to begin with.</param>
    /// <param name="isAgain">Whether it is entered a second time: then nothing of the records is shown.</param>
    public static EntryForm Fresh(EntrySheet sheet, Func<string, string> head, bool isAgain) => new(
        sheet, [.. sheet.Head.Select(c => new EntryCell(c, head(c.Name), null))], [.. sheet.Rows.Select(r => Show(sheet, r, isAgain ? null : r.Record, null, EntryTyped.Nothing))], [], "", isAgain);

    /// <summary>A sheet that came back and could not be written, or was sent for another reason.</summary>
    public static EntryForm Back(EntrySheet sheet, EntryTyped typed, EntryReading reading) => new(
        sheet, [.. sheet.Head.Select(c => new EntryCell(c, typed.AtHead(c.Name), reading.Told.GetValueOrDefault(("", c.Name))))],
        [.. sheet.Rows.Select(r => Show(sheet, r, reading.Bound.GetValueOrDefault(r.Key) ?? (r.Columns.All(c => typed.Cell(r, c.Name).Length == 0) ? r.Record : null), reading, typed))], [.. reading.Warnings], reading.Sure, IsAgain: false);

    /// <summary>A sheet as it came back, with the changes that it had shown: nothing newer of the records is shown, so nothing newer can be overwritten.</summary>
    public static EntryForm Kept(EntrySheet sheet, EntryTyped typed, IReadOnlyDictionary<(string Row, string Column), Phrase> told, bool isAgain) => new(
        sheet, [.. sheet.Head.Select(c => new EntryCell(c, typed.AtHead(c.Name), told.GetValueOrDefault(("", c.Name))))],
        [.. sheet.Rows.Select(r => new EntryShownRow(r, typed.Shown.GetValueOrDefault(r.Key, ""), [.. r.Columns.Select(c => new EntryCell(c, typed.Cell(r, c.Name), told.GetValueOrDefault((r.Key, c.Name))))]))], [], typed.Sure, isAgain);

    private static EntryShownRow Show(EntrySheet sheet, EntryRow row, RecordState? record, EntryReading? reading, EntryTyped typed) => new(row, ShownRecord.Text(record, (row.IsPlanned ? EntryComparison.Compared(sheet, row) : row.Columns).Select(c => c.Name)),
        [.. row.Columns.Select(c => new EntryCell(c, reading?.Texts.GetValueOrDefault((row.Key, c.Name)) ?? (record is null ? typed.Cell(row, c.Name) : c.Shown(EntryRow.Text(record, c.Name))), reading?.Told.GetValueOrDefault((row.Key, c.Name))))]);
}
