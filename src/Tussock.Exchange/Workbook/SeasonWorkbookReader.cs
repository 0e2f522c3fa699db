using System.Collections.Immutable;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;

namespace Tussock.Exchange.Workbook;

/// <summary>Reads a filled workbook into the tables of a season, with everything that is wrong told at once, by sheet and cell.</summary>
/// <remarks>
/// Sheets are found by name (nests, visits …), columns by their headings, capitals and blanks forgiven. Left out: headings in brackets, rows that were offered and not
/// filled in, and offered columns and sheets that nobody wrote into. Columns of one's own are kept. Numbers and dates may be real ones or texts.
/// Limits: 512 MiB packed, 1 GiB unpacked, 20 million filled cells, 2,000 columns.
/// </remarks>
public sealed class SeasonWorkbookReader
{
    private const int HeadingWithin = 20, ProblemsTold = 200;

    private readonly string file;
    private readonly List<Problem> problems = [];
    private readonly Dictionary<string, SheetPlaces> places = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> settingCells = new(StringComparer.Ordinal);

    private SeasonWorkbookReader(string path) => file = Path.GetFileName(path);

    /// <summary>Whether a source is a workbook by its name: a spreadsheet's, and no folder.</summary>
    public static bool Is(string source)
    {
        ArgumentNullException.ThrowIfNull(source);
        return File.Exists(source) && Path.GetExtension(source).ToLowerInvariant() is ".xlsx" or ".xlsm" or ".xltx" or ".xls" or ".ods";
    }

    /// <summary>Reads the tables of a workbook, and whether their cells can be read.</summary>
    /// <param name="path">The file.</param>
    /// <param name="cancel">Ends the reading with an exception.</param>
    /// <returns>The tables, null when anything stops an import; and all problems, by sheet and cell. Notes alone don't stop.</returns>
    public static (SeasonTables? Tables, ImmutableArray<Problem> Problems) Read(string path, CancellationToken cancel = default) => Read(path, SheetLimits.Usual, cancel);

    /// <summary>As above, with limits of one's own.</summary>
    internal static (SeasonTables? Tables, ImmutableArray<Problem> Problems) Read(string path, SheetLimits limits, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        var reader = new SeasonWorkbookReader(path);
        var tables = reader.Tables(path, limits, cancel);
        if (tables is not null)
        {
            SeasonReading.Read(tables, out var wrong);
            reader.problems.AddRange(wrong.Select(reader.Placed));
        }

        var stops = reader.problems.Count(p => p.Severity == Severity.Stop);
        var told = reader.problems.Where(p => p.Severity != Severity.Stop).Concat(reader.problems.Where(p => p.Severity == Severity.Stop).Take(ProblemsTold)).ToList();
        if (stops > ProblemsTold) told.Add(new Problem("more_problems", Severity.Stop, new Place(reader.file), Phrase.Of("folder.more_problems", ("count", stops - ProblemsTold)), Phrase.Of("folder.more_problems_todo")));
        return (stops == 0 ? tables : null, [.. told]);
    }

    private SeasonTables? Tables(string path, SheetLimits limits, CancellationToken cancel)
    {
        ImmutableArray<SheetGrid> grids;
        try
        {
            grids = SheetsReader.Read(path, limits, cancel);
        }
        catch (WorkbookFaultException fault)
        {
            Tell(fault.Fault switch
            {
                WorkbookFault.OldOrLocked => "workbook.old_or_locked",
                WorkbookFault.OpenDocument => "workbook.open_document",
                WorkbookFault.TooLarge => "workbook.too_large",
                WorkbookFault.Unreadable => "workbook.unreadable",
                _ => "workbook.damaged",
            }, null);
            return null;
        }

        var byName = new Dictionary<string, SheetGrid>(StringComparer.Ordinal);
        foreach (var grid in grids) if (!byName.TryAdd(Cell.Token(grid.Name), grid)) Tell("workbook.sheet_twice", grid.Name);
        var kept = KeptSheet.Read(byName.GetValueOrDefault(KeptSheet.Name));
        if (!RecordKind.All.Any(k => byName.ContainsKey(k.Name)))
        {
            Tell("workbook.no_sheets", null, ("found", string.Join(", ", grids.Take(20).Select(g => g.Name))));
            return null;
        }

        var tables = ImmutableArray.CreateBuilder<RecordTable>();
        foreach (var kind in RecordKind.All)
        {
            if (byName.GetValueOrDefault(kind.Name) is { } grid)
            {
                if (Table(kind, grid, kept) is { } table) tables.Add(table);
            }
            else if (kind.IsRequired) Tell("workbook.no_sheet", null, ("sheet", kind.Name));
        }

        var package = Package(byName.GetValueOrDefault(SettingsSheet.Name), kept);
        foreach (var grid in grids.Skip(1).Where(g => Cell.Token(g.Name) is var name && name is not (SettingsSheet.Name or KeptSheet.Name or EntryLists.Sheet) && RecordKind.Named(name) is null && !g.Rows.IsEmpty))
        {
            problems.Add(new Problem("other_sheet", Severity.Note, new Place(file + " " + grid.Name), Phrase.Of("workbook.other_sheet", ("sheet", grid.Name)), Phrase.Of("workbook.other_sheet_todo")));
        }

        if (problems.Exists(p => p.Severity == Severity.Stop) || package is null) return null;
        return new SeasonTables(package, tables.ToImmutable(), kept.Texts.ToImmutableSortedDictionary(StringComparer.Ordinal));
    }

    private SeasonPackage? Package(SheetGrid? grid, KeptSheet kept)
    {
        if (grid is null)
        {
            Tell("workbook.no_season", null);
            return null;
        }

        var heading = grid.Rows.Take(HeadingWithin).FirstOrDefault(r => Column(r, "setting") is not null && Column(r, "value") is not null);
        if (heading is null)
        {
            Tell("workbook.no_heading", grid.Name, ("columns", "setting, value"));
            return null;
        }

        var (name, value) = (Column(heading, "setting")!.Value, Column(heading, "value")!.Value);
        var rows = new List<(string, GridCell)>();
        var at = new List<string>();
        foreach (var row in grid.Rows.Where(r => r.Number > heading.Number))
        {
            var setting = row.Cells.FirstOrDefault(c => c.Column == name).Text ?? "";
            var cell = row.Cells.FirstOrDefault(c => c.Column == value);
            if (cell.Text is null) continue;
            var place = At(grid, value, row.Number);
            if (setting.Trim().Length == 0) Tell("workbook.value_alone", place, ("found", TableCheck.Shown(cell.Text)));
            else if (IsWorkedOut(cell, place) && !settingCells.TryAdd("season." + Cell.Token(setting), place)) Tell("workbook.setting_twice", place, ("setting", setting));
            else
            {
                rows.Add((setting, cell));
                at.Add(place);
            }
        }

        var (package, season) = SettingsSheet.Read(rows, i => Tell("workbook.no_json", at[i], ("found", TableCheck.Shown(rows[i].Item2.Text))));
        return new SeasonPackage(package, season, kept.Resources);
    }

    private static int? Column(GridRow row, string name)
    {
        foreach (var cell in row.Cells) if (Cell.Token(cell.Text) == name) return cell.Column;
        return null;
    }

    private RecordTable? Table(RecordKind kind, SheetGrid grid, KeptSheet kept)
    {
        var had = kept.ColumnsOf(kind);
        if (grid.Rows.IsEmpty) return had is null && !kind.IsRequired ? null : Headless(kind, grid);
        var heading = grid.Rows.Take(HeadingWithin).FirstOrDefault(r => r.Cells.Any(c => kind.ColumnNamed(Cell.Token(c.Text)) is not null));
        if (heading is null) return Headless(kind, grid);
        foreach (var range in grid.MergedAcross) Tell("workbook.merged_across", grid.Name + "!" + range);
        var names = heading.Cells.Where(c => !SeasonColumns.IsHint(c.Text) || had?.Contains(c.Text) == true).ToDictionary(c => c.Column, c => had?.Contains(c.Text) == true || kind.ColumnNamed(Cell.Token(c.Text)) is null ? c.Text : Cell.Token(c.Text));
        var hints = heading.Cells.Where(c => !names.ContainsKey(c.Column)).Select(c => c.Column).ToHashSet();
        var order = names.Keys.OrderBy(c => had?.IndexOf(names[c]) is { } at and >= 0 ? at : int.MaxValue).ThenBy(c => c).ToArray();
        places[kind.File] = new SheetPlaces(grid.Name, heading.Number, names);
        var rows = grid.Rows.Where(r => r.Number > heading.Number).Select(r => Row(kind, grid, r, names, order, hints)).Where(r => r is not null).Select(r => r!).ToImmutableArray();
        if (rows.IsEmpty && had is null && !kind.IsRequired) return null;
        var written = Enumerable.Range(0, order.Length).Where(i => rows.Any(r => r.Cells[i].Length > 0) || had?.Contains(names[order[i]]) == true || kind.ColumnNamed(names[order[i]]) is null or { IsInHeader: true }).ToArray();
        return new RecordTable(kind, [.. written.Select(i => names[order[i]])], [.. rows.Select(r => r with { Cells = [.. written.Select(i => r.Cells[i])] })]);
    }

    private RecordTable? Headless(RecordKind kind, SheetGrid grid)
    {
        Tell("workbook.no_heading", grid.Name, ("columns", string.Join(", ", kind.Columns.Take(3).Select(c => c.Name))));
        return null;
    }

    private RecordRow? Row(RecordKind kind, SheetGrid grid, GridRow row, Dictionary<int, string> names, int[] order, HashSet<int> hints)
    {
        var texts = new Dictionary<int, string>();
        foreach (var cell in row.Cells)
        {
            if (hints.Contains(cell.Column)) continue;
            if (!names.TryGetValue(cell.Column, out var name))
            {
                if (cell.Text.AsSpan().Trim().Length > 0) Tell("workbook.no_column_name", At(grid, cell.Column, row.Number), ("found", TableCheck.Shown(cell.Text)));
            }
            else if (IsWorkedOut(cell, At(grid, cell.Column, row.Number)))
            {
                texts[cell.Column] = cell.Shape == CellShape.Truth && kind.ColumnNamed(name)?.Type == ColumnType.YesNo ? cell.Text == "true" ? "yes" : "no" : cell.Text;
            }
        }

        if (!texts.Values.Any(t => t.AsSpan().Trim(" \t").Length > 0)) return null;
        var given = RowsToFill.Given(kind);
        if (row.Cells.Any(c => hints.Contains(c.Column)) && texts.All(t => given.Contains(names[t.Key]) || t.Value.Trim().Length == 0)) return null;
        return new RecordRow(row.Number, [.. order.Select(c => texts.GetValueOrDefault(c, ""))]);
    }

    private bool IsWorkedOut(GridCell cell, string place)
    {
        if (cell.Shape == CellShape.Error) Tell("workbook.error_cell", place, ("found", TableCheck.Shown(cell.Text)));
        else if (cell.Shape == CellShape.NotWorkedOut) Tell("workbook.not_worked_out", place);
        else return true;
        return false;
    }

    /// <summary>A problem of the tables with its place in the workbook.</summary>
    private Problem Placed(Problem problem)
    {
        if (problem.Place.Column is { } setting && settingCells.TryGetValue(setting, out var cell)) return problem with { Place = new Place(file + " " + cell) };
        if (!places.TryGetValue(problem.Place.File, out var sheet)) return problem with { Place = new Place(file + " " + SettingsSheet.Name) };
        var row = problem.Place.Line is { } line && problem.Rule is not ("column_missing" or "column_twice") ? line : sheet.Heading;
        var column = problem.Place.Column is { } name && sheet.Names.FirstOrDefault(n => n.Value == name) is { Value: not null } found ? CellName.Letters(found.Key) : null;
        return problem with { Place = new Place(file + " " + sheet.Name + "!" + (column is null ? Words.Numbers.Whole(row) + ":" + Words.Numbers.Whole(row) : column + Words.Numbers.Whole(row)), null, problem.Place.Column) };
    }

    private static string At(SheetGrid grid, int column, int row) => grid.Name + "!" + CellName.Letters(column) + Words.Numbers.Whole(row);

    private void Tell(string key, string? place, params ReadOnlySpan<(string, object)> arguments) =>
        problems.Add(new Problem(key[(key.IndexOf('.', StringComparison.Ordinal) + 1)..], Severity.Stop, new Place(place is null ? file : file + " " + place), Phrase.Of(key, arguments), Phrase.Of(key + "_todo", arguments)));

    /// <summary>Where the columns of a table stand.</summary>
    private sealed record SheetPlaces(string Name, int Heading, Dictionary<int, string> Names);
}
