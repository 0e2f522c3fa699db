using System.Collections.Immutable;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Workbook;

/// <summary>The columns of a record kind as a sheet shows them: which stand in sight, what is checked, what the note of the heading says.</summary>
internal static class SeasonColumns
{
    private const double Narrow = 9, Middle = 12, Wide = 18;

    /// <summary>The last column of each kind that most seasons fill; those behind it are folded away while they are empty.</summary>
    private static readonly Dictionary<string, string> LastUsual = new(StringComparer.Ordinal)
    {
        ["pastures"] = "note", ["transects"] = "steps_between", ["nests"] = "class_due", ["visits"] = "cause", ["remains"] = "observer", ["cameras"] = "media", ["deployments"] = "failed_because", ["belts"] = "side",
    };

    private static readonly (string Ending, string Unit)[] Units =
        [("_m", "workbook.unit_m"), ("_cm", "workbook.unit_cm"), ("_ha", "workbook.unit_ha"), ("_deg", "workbook.unit_deg"), ("_min", "workbook.unit_min"), ("_minutes", "workbook.unit_min"), ("_lat", "workbook.unit_degrees"), ("_lon", "workbook.unit_degrees")];

    private static readonly string[] Covers = ["cover", "class_due", "cover_now"];

    /// <summary>Heading of a column that is only there to be read; an import leaves out whatever stands in brackets.</summary>
    internal static string Hint(Catalogue words, string key) => "(" + words.Say(key) + ")";

    /// <summary>Whether a heading is of a column that is only there to be read.</summary>
    internal static bool IsHint(string heading) => heading.StartsWith('(') && heading.EndsWith(')');

    /// <summary>Names of a table's columns in the order of the sheet: the usual ones, columns of one's own, the seldom ones, the id.</summary>
    internal static ImmutableArray<(string Name, bool IsFolded)> Of(RecordKind kind, RecordTable? table)
    {
        var last = LastUsual.TryGetValue(kind.Name, out var name) ? kind.Columns.IndexOf(kind.ColumnNamed(name)!) : kind.Columns.Length - 1;
        var has = (table?.Columns ?? []).Where((_, i) => table!.Rows.Any(r => i < r.Cells.Length && r.Cells[i].Length > 0)).ToHashSet(StringComparer.Ordinal);
        var usual = kind.Columns.Take(last + 1).Select(c => (c.Name, false));
        var own = (table?.Columns ?? []).Where(c => kind.ColumnNamed(c) is null).Select(c => (c, false));
        var seldom = kind.Columns.Skip(last + 1).Select(c => (c.Name, IsFolded: !has.Contains(c.Name))).OrderBy(c => c.IsFolded);
        var id = (table?.Columns ?? []).Where(c => c == "id").Select(c => (c, false));
        return [.. usual, .. own, .. id, .. seldom];
    }

    /// <summary>A column of the sheet.</summary>
    internal static WrittenColumn Written(RecordKind kind, string name, bool isFolded, EntryLists lists, Catalogue words)
    {
        var column = kind.ColumnNamed(name) ?? new Column(name, ColumnType.Text);
        var isOwn = kind.ColumnNamed(name) is null;
        return new WrittenColumn(name, Width(column), Look(column.Type)) { Note = isOwn ? words.Say("workbook.own_column") : Note(column, words), Check = isOwn ? null : Check(column, lists, words), IsFolded = isFolded };
    }

    /// <summary>A text of a folder as a cell: as number, date or time where reading it back gives the same text.</summary>
    internal static WrittenCell Cell(RecordKind kind, string name, string text)
    {
        var type = kind.ColumnNamed(name)?.Type ?? ColumnType.Text;
        if (text.Length == 0) return default;
        if (type is ColumnType.Date or ColumnType.LocalTime or ColumnType.DateMaybeTime && SheetMoment.Count(text) is { } moment)
        {
            return new WrittenCell("", moment.Count, moment switch { { Date: true, Time: true } => CellLook.Moment, { Date: true } => CellLook.Date, _ => CellLook.Time });
        }

        var isNumber = type is ColumnType.Count or ColumnType.Number or ColumnType.Amount or ColumnType.Latitude or ColumnType.Longitude;
        return isNumber && Records.Cell.Number(text) is { } number && SheetsReader.Number(number) == text ? new WrittenCell("", number, CellLook.Plain) : new WrittenCell(text, null, CellLook.Text);
    }

    private static CellLook Look(ColumnType type) => type switch
    {
        ColumnType.Date => CellLook.Date,
        ColumnType.LocalTime => CellLook.Time,
        ColumnType.DateMaybeTime => CellLook.Moment,
        ColumnType.Count or ColumnType.Number or ColumnType.Amount or ColumnType.Latitude or ColumnType.Longitude => CellLook.Plain,
        _ => CellLook.Text,
    };

    private static double Width(Column column) => column.Type switch
    {
        ColumnType.Count or ColumnType.Number or ColumnType.Amount or ColumnType.YesNo or ColumnType.Direction or ColumnType.LocalTime => Math.Max(Narrow, column.Name.Length + 2.5),
        ColumnType.Date or ColumnType.Latitude or ColumnType.Longitude or ColumnType.Token => Math.Max(Middle, column.Name.Length + 2.5),
        _ => column.Name is "note" or "landmarks" ? 2 * Wide : column.Name is "transect" or "observer" or "cover" or "class_due" ? Middle : Wide,
    };

    private static string Note(Column column, Catalogue words)
    {
        var say = new List<string>();
        if (words.Has("workbook.note." + column.Name)) say.Add(words.Say("workbook.note." + column.Name));
        say.Add(words.Say(Allowed(column)));
        foreach (var (ending, unit) in Units) if (column.Name.EndsWith(ending, StringComparison.Ordinal)) say.Add(words.Say(unit));
        if (column.IsRequired) say.Add(words.Say("workbook.in_every_row"));
        return string.Join(' ', say);
    }

    private static Phrase Allowed(Column column) => column.Type switch
    {
        ColumnType.Count => Phrase.Of("workbook.write_count"),
        ColumnType.Number => Phrase.Of("workbook.write_number"),
        ColumnType.Amount => Phrase.Of("workbook.write_amount"),
        ColumnType.Date => Phrase.Of("workbook.write_date"),
        ColumnType.LocalTime => Phrase.Of("workbook.write_time"),
        ColumnType.DateMaybeTime => Phrase.Of("workbook.write_moment"),
        ColumnType.YesNo => Phrase.Of("workbook.write_yesno"),
        ColumnType.Token => Phrase.Of("workbook.write_token", ("tokens", string.Join(", ", column.Tokens))),
        ColumnType.Direction => Phrase.Of("workbook.write_direction"),
        ColumnType.Latitude => Phrase.Of("workbook.write_latitude"),
        ColumnType.Longitude => Phrase.Of("workbook.write_longitude"),
        ColumnType.Uuid => Phrase.Of("workbook.write_id"),
        _ => Phrase.Of("workbook.write_text"),
    };

    private static EntryCheck? Check(Column column, EntryLists lists, Catalogue words)
    {
        var message = words.Say(Allowed(column));
        return column.Type switch
        {
            ColumnType.Count => new EntryCheck(EntryRule.Whole, "0", null, message, true),
            ColumnType.Number => new EntryCheck(EntryRule.Decimal, "-1000000000", "1000000000", message, true),
            ColumnType.Amount => new EntryCheck(EntryRule.Decimal, "0", null, message, true),
            ColumnType.Latitude => new EntryCheck(EntryRule.Decimal, "-90", "90", message, true),
            ColumnType.Longitude => new EntryCheck(EntryRule.Decimal, "-180", "180", message, true),
            // From 1 March 1900; the last day that the format counts is in 9999. A text 2026-05-14 is kept when the one who types says so.
            ColumnType.Date => new EntryCheck(EntryRule.Date, "61", "2958465", message, false),
            ColumnType.LocalTime => new EntryCheck(EntryRule.Time, "0", "0.999999", message, false),
            ColumnType.YesNo => new EntryCheck(EntryRule.List, EntryLists.YesNo, null, message, true),
            ColumnType.Token => new EntryCheck(EntryRule.List, lists.Name(column.Tokens), null, message, true),
            ColumnType.Direction => new EntryCheck(EntryRule.List, EntryLists.Directions, null, null, false),
            _ when Covers.Contains(column.Name) && lists.HasCovers => new EntryCheck(EntryRule.List, EntryLists.Covers, null, null, false),
            _ => Offer(column.Name),
        };
    }

    /// <summary>Lists that offer and forbid nothing.</summary>
    private static EntryCheck? Offer(string name) => name switch
    {
        "cause" => new EntryCheck(EntryRule.List, EntryLists.Causes, null, null, false),
        "culprit" or "crew_guess" => new EntryCheck(EntryRule.List, EntryLists.Culprits, null, null, false),
        "sign" => new EntryCheck(EntryRule.List, EntryLists.Signs, null, null, false),
        "value" => new EntryCheck(EntryRule.List, EntryLists.ValuesOf("E2"), null, null, false),
        _ => null,
    };
}
