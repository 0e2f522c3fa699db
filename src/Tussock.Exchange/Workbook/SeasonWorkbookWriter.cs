using System.Collections.Immutable;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Workbook;

/// <summary>Writes a season as a workbook to fill in and import again: a sheet a record kind, with lists, checks, and the rows that are still to be written.</summary>
/// <remarks>
/// Columns and tokens are those of the season folder. What a sheet can't say (order of columns, boundaries, list of files) is kept on a hidden sheet, so that
/// a workbook that nobody touched reads back as the same tables. Exact places: a workbook is as confidential as the season folder.
/// </remarks>
public static class SeasonWorkbookWriter
{
    /// <summary>Kinds that a template offers though the season has none of them.</summary>
    private static readonly ImmutableArray<RecordKind> Offered =
        [RecordKind.Pastures, RecordKind.Transects, RecordKind.Nests, RecordKind.Visits, RecordKind.Remains, RecordKind.Cameras, RecordKind.Deployments, RecordKind.Belts, RecordKind.Crew, RecordKind.Events];

    /// <summary>Longest text that the programs take in a cell, and rows of a sheet below its heading.</summary>
    private const int LongestText = 32_767, MostRows = CellName.Rows - 1;

    private const int ReadMeWidth = 76;

    /// <summary>An empty season: a template that nothing is known of yet.</summary>
    public static SeasonTables Blank { get; } = new(new SeasonPackage([], [new JsonProperty("trial_days", "28"), new JsonProperty("check_days", "[14,28]")], []), [], ImmutableSortedDictionary<string, string>.Empty);

    /// <summary>Writes the workbook.</summary>
    /// <param name="tables">The season's tables.</param>
    /// <param name="season">The season, for the rows that it waits for; null: none.</param>
    /// <param name="words">The language.</param>
    /// <param name="to">Where its bytes go; stays open.</param>
    /// <param name="cancel">Ends the writing with an exception.</param>
    /// <returns>Why nothing was written; empty when all was.</returns>
    public static ImmutableArray<Problem> Write(SeasonTables tables, Season? season, Catalogue words, Stream to, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(tables);
        ArgumentNullException.ThrowIfNull(words);
        var problems = tables.Tables.SelectMany(TooLong).ToImmutableArray();
        if (!problems.IsEmpty) return problems;
        var lists = new EntryLists(season?.Settings.CoverClasses ?? []);
        var sheets = new List<WrittenSheet> { ReadMe(words), SettingsSheet.Write(tables.Package, words) };
        foreach (var kind in RecordKind.All)
        {
            var table = tables.Table(kind);
            if (table is not null || Offered.Contains(kind)) sheets.Add(SheetOf(kind, table, season, lists, words));
        }

        var (list, names) = lists.Write();
        SheetsWriter.Write(to, [.. sheets, list, KeptSheet.Write(tables)], names, cancel);
        return [];
    }

    private static IEnumerable<Problem> TooLong(RecordTable table)
    {
        if (table.Rows.Length > MostRows) yield return new Problem("too_many_rows", Severity.Stop, new Place(table.Kind.File), Phrase.Of("workbook.too_many_rows", ("rows", table.Rows.Length), ("most", MostRows)), Phrase.Of("workbook.too_many_rows_todo"));
        foreach (var row in table.Rows)
        {
            for (var i = 0; i < row.Cells.Length; i++)
            {
                if (row.Cells[i].Length <= LongestText) continue;
                yield return new Problem("text_too_long", Severity.Stop, new Place(table.Kind.File, row.Line, table.Columns[i]), Phrase.Of("workbook.text_too_long", ("length", row.Cells[i].Length), ("most", LongestText)), Phrase.Of("workbook.text_too_long_todo"));
            }
        }
    }

    private static WrittenSheet ReadMe(Catalogue words)
    {
        var rows = new List<ImmutableArray<WrittenCell>> { ImmutableArray.Create(new WrittenCell(words.Say("workbook.readme_title"), null, CellLook.Title)), ImmutableArray.Create(default(WrittenCell)) };
        for (var i = 1; words.Has("workbook.readme_" + Numbers.Whole(i)); i++) rows.Add([new WrittenCell(words.Say("workbook.readme_" + Numbers.Whole(i)), null, CellLook.Words)]);
        return new WrittenSheet(words.Say("workbook.readme_name"), [new WrittenColumn("", ReadMeWidth, CellLook.Plain)], rows) { HasHeading = false };
    }

    private static WrittenSheet SheetOf(RecordKind kind, RecordTable? table, Season? season, EntryLists lists, Catalogue words)
    {
        var toFill = season is null ? [] : RowsToFill.Of(season, kind).ToImmutableArray();
        var given = RowsToFill.Given(kind);
        var names = SeasonColumns.Of(kind, table);
        var columns = names.Select(n => SeasonColumns.Written(kind, n.Name, n.IsFolded, lists, words)).ToList();
        var hints = given.IsEmpty ? [] : kind == RecordKind.Visits ? new[] { "workbook.hint_check", "workbook.hint_due" } : ["workbook.hint_to_do"];
        var at = given.IsEmpty ? 0 : names.Select(n => n.Name).ToList().IndexOf(given[^1]) + 1;
        columns.InsertRange(at, hints.Select((h, i) => new WrittenColumn(SeasonColumns.Hint(words, h), 12, i == 0 ? CellLook.Hint : CellLook.HintDate) { IsHint = true, Note = words.Say("workbook.hint_note") }));
        var indexes = names.Select(n => table?.IndexOf(n.Name) ?? -1).ToArray();
        var rows = new List<ImmutableArray<WrittenCell>>();
        foreach (var row in table?.Rows ?? []) rows.Add(With(names.Select((n, i) => indexes[i] < 0 || indexes[i] >= row.Cells.Length ? default : SeasonColumns.Cell(kind, n.Name, row.Cells[indexes[i]])), []));
        foreach (var row in toFill)
        {
            WrittenCell[] hint = hints.Length == 0 ? [] : [new WrittenCell(words.Say(row.Hint), null, CellLook.Hint), row.DueOn is { } due ? new WrittenCell("", SheetMoment.Count(Iso(due))?.Count, CellLook.HintDate) : default];
            rows.Add(With(names.Select(n => row.Cells.FirstOrDefault(c => c.Column == n.Name).Text is { } text ? SeasonColumns.Cell(kind, n.Name, text) : default), hint[..Math.Min(hint.Length, hints.Length)]));
        }

        return new WrittenSheet(kind.Name, [.. columns], rows) { Frozen = Math.Min(kind.Key.Length, 2) };

        ImmutableArray<WrittenCell> With(IEnumerable<WrittenCell> cells, IEnumerable<WrittenCell> hint)
        {
            var all = cells.ToList();
            all.InsertRange(at, hint.Concat(Enumerable.Repeat(default(WrittenCell), hints.Length)).Take(hints.Length));
            return [.. all];
        }
    }

    private static string Iso(DateOnly date) => date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}
