using System.Collections.Immutable;
using System.Text;
using System.Text.Unicode;
using Tussock.Exchange.Reading;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;

namespace Tussock.Exchange.OldSheets;

/// <summary>Reads a workbook (xlsx) or a CSV file that has one row a nest, whatever its headings are.</summary>
public static class OldSheetReader
{
    private const int MostHeadRows = 30;
    private const int LeastColumns = 3;
    private const int MostColumns = 60;
    private const int MostRows = 20_000;
    private const int Samples = 6;

    /// <summary>Rows that tell what stands between cells.</summary>
    private const int LookedAt = 200;
    private const long MostBytes = 16 << 20;

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file.</param>
    /// <returns>The sheet; a reason when it can't be read or has no table.</returns>
    public static Answer<OldSheet> Read(string path)
    {
        var name = Path.GetFileName(path);
        if (new FileInfo(path).Length > MostBytes) return NoAnswer.Because("old_sheets.too_long", ("most", MostBytes >> 20));
        try
        {
            var grids = path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) ? Csv(path, name) : Workbook(path);
            var tables = grids.Select(g => (g.Name, Table: Table(name, g.Rows))).ToArray();
            if (tables.Select(t => t.Table).OfType<OldSheet>().MaxBy(t => t.Rows.Length) is not { } main) return NoAnswer.Because("old_sheets.no_table", ("least", LeastColumns));
            var same = tables.Where(t => t.Table?.Signature == main.Signature).Select(t => t.Table!).ToArray();
            var all = main with { Rows = [.. same.SelectMany(t => t.Rows)], Totals = same.Length == 1 ? main.Totals : [.. same.SelectMany(t => t.Totals)], Passed = [.. tables.Where(t => t.Table?.Signature != main.Signature).Select(t => t.Name)] };
            return all.Rows.Length > MostRows ? NoAnswer.Because("old_sheets.too_many", ("most", MostRows)) : Guessed(all);
        }
        catch (WorkbookFaultException)
        {
            // Whatever kept the workbook shut: it can't be read here.
            return NoAnswer.Because("old_sheets.no_workbook");
        }
    }

    private static ImmutableArray<(string Name, List<(int Number, string[] Cells)> Rows)> Workbook(string path) =>
        [.. SheetsReader.Read(path, SheetLimits.Usual, default).Select(g => (g.Name, g.Rows.Select(r => (r.Number, Cells(r))).ToList()))];

    private static string[] Cells(GridRow row)
    {
        var cells = new string[Math.Min(MostColumns, row.Cells.Length == 0 ? 0 : row.Cells[^1].Column + 1)];
        Array.Fill(cells, "");
        foreach (var cell in row.Cells) if (cell.Column < cells.Length) cells[cell.Column] = cell.Text.Trim();
        return cells;
    }

    private static ImmutableArray<(string Name, List<(int Number, string[] Cells)> Rows)> Csv(string path, string name)
    {
        using var stream = File.OpenRead(path);
        var separator = Separator(stream);
        stream.Position = 0;
        var rows = new List<(int Number, string[] Cells)>();
        var reader = new CsvRows(stream, 1 << 20, MostBytes, _ => { }, separator);
        while (reader.Next()) rows.Add((reader.Line, [.. Enumerable.Range(0, Math.Min(MostColumns, reader.Count)).Select(i => Text(reader.Cell(i)))]));
        return [(name, rows)];
    }

    /// <summary>What stands between the cells: where a comma is the decimal sign, office programs write semicolons; some write tabs. The sign that makes the most rows of the same width is meant, a comma where none does.</summary>
    private static byte Separator(FileStream stream)
    {
        var best = ((byte)',', Rows: 0);
        foreach (var sign in ",;\t"u8)
        {
            stream.Position = 0;
            var reader = new CsvRows(stream, 1 << 20, MostBytes, _ => { }, sign);
            var widths = new Dictionary<int, int>();
            for (var row = 0; row < LookedAt && reader.Next(); row++) if (reader.Count >= LeastColumns) widths[reader.Count] = widths.GetValueOrDefault(reader.Count) + 1;
            if (widths.Values.DefaultIfEmpty(0).Max() is var alike && alike > best.Rows) best = (sign, alike);
        }

        return best.Item1;
    }

    /// <summary>A cell that is no UTF-8 comes from an older office program: each byte is then a letter of western Europe.</summary>
    private static string Text(ReadOnlySpan<byte> cell) => (Utf8.IsValid(cell) ? Encoding.UTF8 : Encoding.Latin1).GetString(cell).Trim();

    /// <summary>Headings are the first row that is filled about as far as any below; what stands above is the title.</summary>
    private static OldSheet? Table(string file, List<(int Number, string[] Cells)> rows)
    {
        rows = [.. rows.Where(r => r.Cells.Any(c => c.Length > 0))];
        var widest = rows.Select(r => Filled(r.Cells)).DefaultIfEmpty(0).Max();
        var head = rows.Take(MostHeadRows).ToList().FindIndex(r => Filled(r.Cells) >= LeastColumns && Filled(r.Cells) * 10 >= widest * 6 && r.Cells.Where(c => c.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase).Count() == Filled(r.Cells));
        if (head < 0 || head + 1 >= rows.Count) return null;
        var title = string.Join(' ', rows.Take(head).SelectMany(r => r.Cells).Where(c => c.Length > 0).Distinct(StringComparer.Ordinal));
        var below = rows.Skip(head + 1).ToArray();
        var used = Enumerable.Range(0, below.Append(rows[head]).Max(r => r.Cells.Length)).Where(i => At(rows[head].Cells, i).Length > 0 || below.Any(r => At(r.Cells, i).Length > 0)).ToArray();
        var columns = used.Select(i => new OldColumn(At(rows[head].Cells, i) is { Length: > 0 } text ? text : "(" + CellName.Letters(i) + ")", [], SheetMeaning.Nothing)).ToImmutableArray();
        var all = below.Select(r => new OldRow(r.Number, [.. used.Select(i => At(r.Cells, i))])).ToArray();
        return new OldSheet(file, title, columns, [.. all.Where(r => !IsTotal(r))], [.. all.Where(IsTotal)], []);
    }

    private static bool IsTotal(OldRow row) => SheetGuess.IsTotal(row.Cells.FirstOrDefault(c => c.Length > 0) ?? "");

    private static int Filled(string[] cells) => cells.Count(c => c.Length > 0);

    private static string At(string[] cells, int i) => i < cells.Length ? cells[i] : "";

    private static OldSheet Guessed(OldSheet sheet)
    {
        var taken = new HashSet<SheetMeaning>();
        return sheet with
        {
            Columns = [.. sheet.Columns.Select((column, i) =>
            {
                var values = sheet.Rows.Select(r => r.Cells[i]).Where(c => c.Length > 0).ToArray();
                var guess = SheetGuess.Of(column.Heading, values);
                // Two columns can't be the same thing; the first keeps it.
                return column with { Samples = [.. values.GroupBy(v => v, StringComparer.Ordinal).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Take(Samples).Select(g => g.Key)], Guess = guess == SheetMeaning.Nothing || taken.Add(guess) ? guess : SheetMeaning.Nothing };
            })],
        };
    }
}
