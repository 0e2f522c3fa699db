using System.Globalization;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>Fills a template as a spreadsheet program does, with a library of its own (DocumentFormat.OpenXml 3.3.0, general purpose): shared strings, real dates, numbers.</summary>
internal sealed class FilledBySomebody : IDisposable
{
    private static readonly DateTime Start = new(1899, 12, 30, 0, 0, 0, DateTimeKind.Unspecified);

    private readonly SpreadsheetDocument document;
    private readonly SharedStringTablePart strings;
    private int count;

    internal FilledBySomebody(string path)
    {
        document = SpreadsheetDocument.Open(path, true);
        strings = document.WorkbookPart!.AddNewPart<SharedStringTablePart>();
        strings.SharedStringTable = new SharedStringTable();
    }

    /// <summary>Texts of a sheet's rows by heading, and their row numbers; the heading's row is left out.</summary>
    internal IReadOnlyList<(uint Row, Dictionary<string, string> Cells)> Rows(string sheet)
    {
        var rows = Data(sheet).Elements<Row>().ToArray();
        var headings = Headings(sheet);
        return [.. rows.Skip(1).Select(r => (r.RowIndex!.Value, r.Elements<Cell>().ToDictionary(c => headings.First(h => h.Value == Letters(c)).Key, c => c.InnerText)))];
    }

    /// <summary>Writes one cell; the row is added where the sheet has none.</summary>
    internal void Write(string sheet, uint number, string heading, object value)
    {
        var letters = Headings(sheet)[heading];
        var data = Data(sheet);
        var row = data.Elements<Row>().FirstOrDefault(r => r.RowIndex!.Value == number) ?? data.AppendChild(new Row { RowIndex = number });
        var reference = letters + number.ToString(CultureInfo.InvariantCulture);
        row.Elements<Cell>().FirstOrDefault(c => c.CellReference == reference)?.Remove();
        var cell = new Cell { CellReference = reference };
        switch (value)
        {
            case DateOnly date:
                cell.CellValue = new CellValue((date.ToDateTime(TimeOnly.MinValue) - Start).TotalDays.ToString(CultureInfo.InvariantCulture));
                cell.StyleIndex = 2;
                break;
            case TimeOnly time:
                cell.CellValue = new CellValue((time.ToTimeSpan().TotalDays).ToString("R", CultureInfo.InvariantCulture));
                cell.StyleIndex = 3;
                break;
            case double or int:
                cell.CellValue = new CellValue(Convert.ToString(value, CultureInfo.InvariantCulture)!);
                break;
            default:
                strings.SharedStringTable!.AppendChild(new SharedStringItem(new Text((string)value) { Space = DocumentFormat.OpenXml.SpaceProcessingModeValues.Preserve }));
                cell.DataType = CellValues.SharedString;
                cell.CellValue = new CellValue((count++).ToString(CultureInfo.InvariantCulture));
                break;
        }

        row.InsertBefore(cell, row.Elements<Cell>().FirstOrDefault(c => Order(Letters(c)) > Order(letters)));
    }

    public void Dispose() => document.Dispose();

    private static string Letters(Cell cell) => cell.CellReference!.Value!.TrimEnd([.. "0123456789"]);

    private static int Order(string letters) => letters.Aggregate(0, (n, c) => (n * 26) + c - 'A' + 1);

    private Dictionary<string, string> Headings(string sheet) => Data(sheet).Elements<Row>().First().Elements<Cell>().ToDictionary(c => c.InnerText, Letters);

    private SheetData Data(string sheet)
    {
        var id = document.WorkbookPart!.Workbook!.Descendants<Sheet>().First(s => s.Name == sheet).Id!.Value!;
        return ((WorksheetPart)document.WorkbookPart.GetPartById(id)).Worksheet!.GetFirstChild<SheetData>()!;
    }
}
