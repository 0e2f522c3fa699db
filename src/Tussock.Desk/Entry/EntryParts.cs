using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Desk.Entry;

/// <summary>What the forms of all sheets are made of.</summary>
internal static class EntryParts
{
    /// <summary>How a date is written, shown in an empty box.</summary>
    private const string DateHint = "2026-05-18";

    /// <summary>A box in which anything is typed.</summary>
    internal static EntryColumn Typed(string name, string key, Catalogue words) => new(name, words.Say(key), []);

    /// <summary>The box for the date at the head.</summary>
    internal static EntryColumn Date(string name, Catalogue words) => Typed(name, "sheets.date", words) with { Hint = DateHint };

    /// <summary>A box in which letters stand for words.</summary>
    internal static EntryColumn Lettered(string name, string key, Catalogue words, params IEnumerable<(string Token, string Key)> choices) => new(name, words.Say(key), EntryChoice.Of(choices.Select(c => (c.Token, words.Say(c.Key)))));

    /// <summary>The records of one kind that belong to a transect and were not taken out.</summary>
    internal static ImmutableArray<RecordState> There(SeasonTables tables, RecordKind kind, Transect transect, Func<Guid, RecordState?> record)
    {
        if (tables.Table(kind) is not { } table || table.IndexOf("id") is not (>= 0 and var id) || table.IndexOf("transect") is not (>= 0 and var name)) return [];
        return [.. table.Rows.Where(r => r.Cells[name].Trim() == transect.Name).Select(r => Guid.TryParse(r.Cells[id], out var own) ? record(own) : null).OfType<RecordState>().Where(r => r.IsCreated && EntryRow.Text(r, FieldName.Void) != "yes")];
    }

    /// <summary>The record of the transect itself; null when it has no id.</summary>
    internal static RecordState? Line(Transect transect, Func<Guid, RecordState?> record) => Guid.TryParse(transect.Source.Text("id"), out var id) ? record(id) : null;

    /// <summary>A row for what is said of the whole line.</summary>
    internal static EntryRow LineRow(Transect transect, RecordState own, ImmutableArray<EntryColumn> columns) => new("line", Phrase.Of("enter.whole_line"), RecordKind.Transects, [("transect", transect.Name)], columns) { Record = own, TakesHead = false };
}
