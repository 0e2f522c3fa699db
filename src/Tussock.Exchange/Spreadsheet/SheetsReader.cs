using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>Reads the sheets of a workbook (SpreadsheetML, ECMA-376 part 1, chapter 18; transitional and strict) as texts.</summary>
/// <remarks>
/// Of a formula the value that was worked out last is taken. A cell that is merged over several rows of one column stands in each of them, as it does on the screen.
/// Formats, drawings, macros and links are not looked at. Streamed: a part is held neither packed nor unpacked.
/// </remarks>
internal sealed class SheetsReader
{
    private readonly WorkbookParts parts;
    private readonly SheetLimits limits;
    private readonly List<string> shared = [];
    private readonly List<(bool Date, bool Time)> formats = [];
    private bool from1904;
    private int cells;

    private SheetsReader(WorkbookParts parts, SheetLimits limits) => (this.parts, this.limits) = (parts, limits);

    /// <summary>All sheets, in the order of their tabs.</summary>
    /// <param name="path">The file.</param>
    /// <param name="limits">How much is read.</param>
    /// <param name="cancel">Ends the reading with an exception.</param>
    /// <exception cref="WorkbookFaultException">It can't be read.</exception>
    internal static ImmutableArray<SheetGrid> Read(string path, SheetLimits limits, CancellationToken cancel)
    {
        try
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var opened = WorkbookParts.Open(file, limits);
            return new SheetsReader(opened, limits).Sheets(cancel);
        }
        catch (Exception wrong) when (wrong is InvalidDataException or XmlException or NotSupportedException or FormatException or OverflowException or ArgumentException or EndOfStreamException)
        {
            // Whatever in the file is not as the standard has it: it is broken, or something else.
            throw new WorkbookFaultException(WorkbookFault.Damaged);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            throw new WorkbookFaultException(WorkbookFault.Unreadable);
        }
    }

    private ImmutableArray<SheetGrid> Sheets(CancellationToken cancel)
    {
        var book = parts.Relations("").Values.FirstOrDefault(r => r.Kind.EndsWith("/officeDocument", StringComparison.Ordinal)).Path ?? "xl/workbook.xml";
        var relations = parts.Relations(book);
        foreach (var (path, kind) in relations.Values)
        {
            if (kind.EndsWith("/sharedStrings", StringComparison.Ordinal)) ReadShared(path, cancel);
            else if (kind.EndsWith("/styles", StringComparison.Ordinal)) ReadFormats(path);
        }

        var sheets = new List<(string Name, string Path)>();
        using (var xml = parts.Part(book) ?? throw new WorkbookFaultException(WorkbookFault.Damaged))
        {
            while (xml.Read())
            {
                if (xml.NodeType != XmlNodeType.Element) continue;
                if (xml.LocalName == "workbookPr") from1904 = xml.GetAttribute("date1904") is "1" or "true";
                else if (xml.LocalName == "sheet" && Relation(xml) is { } id && relations.TryGetValue(id, out var target) && target.Kind.EndsWith("/worksheet", StringComparison.Ordinal)) sheets.Add((xml.GetAttribute("name") ?? "", target.Path));
            }
        }

        return [.. sheets.Select(s => ReadSheet(s.Name, s.Path, cancel))];
    }

    private static string? Relation(XmlReader xml)
    {
        for (var more = xml.MoveToFirstAttribute(); more; more = xml.MoveToNextAttribute())
        {
            if (xml.LocalName != "id" || xml.NamespaceURI.Length == 0) continue;
            var id = xml.Value;
            xml.MoveToElement();
            return id;
        }

        xml.MoveToElement();
        return null;
    }

    private void ReadShared(string path, CancellationToken cancel)
    {
        long characters = 0;
        using var xml = parts.Part(path);
        if (xml is null) return;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "si") continue;
            var text = RichText(xml, limits.SharedCharacters - characters);
            characters += text.Length + 16;
            shared.Add(text);
            if (shared.Count % 4096 == 0) cancel.ThrowIfCancellationRequested();
        }
    }

    /// <summary>The text of an element that holds plain or rich text; how it is spoken is left out. Ends on the element's end.</summary>
    private static string RichText(XmlReader xml, long most)
    {
        if (xml.IsEmptyElement) return "";
        var depth = xml.Depth;
        var text = new StringBuilder();
        var spoken = -1;
        var isText = false;
        while (xml.Read() && xml.Depth > depth)
        {
            if (spoken >= 0)
            {
                if (xml.NodeType == XmlNodeType.EndElement && xml.Depth == spoken) spoken = -1;
                continue;
            }

            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "rPh" && !xml.IsEmptyElement) spoken = xml.Depth;
            else if (xml.NodeType == XmlNodeType.Element) isText = xml.LocalName == "t" && !xml.IsEmptyElement;
            else if (xml.NodeType == XmlNodeType.EndElement) isText = false;
            else if (isText) Append(text, xml, most);
        }

        return SheetEscapes.Read(text.ToString());
    }

    /// <summary>Adds what the reader stands on, in pieces, so that one endless text ends at the limit.</summary>
    private static void Append(StringBuilder text, XmlReader xml, long most)
    {
        if (!xml.CanReadValueChunk)
        {
            text.Append(xml.Value);
            return;
        }

        var piece = new char[4096];
        int count;
        while ((count = xml.ReadValueChunk(piece, 0, piece.Length)) > 0)
        {
            if (text.Length + count > most) throw new WorkbookFaultException(WorkbookFault.TooLarge);
            text.Append(piece, 0, count);
        }
    }

    private void ReadFormats(string path)
    {
        var own = new Dictionary<int, string>();
        var isOfCells = false;
        using var xml = parts.Part(path);
        while (xml?.Read() == true)
        {
            if (xml.LocalName == "cellXfs") isOfCells = xml.NodeType == XmlNodeType.Element && !xml.IsEmptyElement;
            if (xml.NodeType != XmlNodeType.Element) continue;
            if (xml.LocalName == "numFmt" && !isOfCells) own[Whole(xml.GetAttribute("numFmtId")) ?? 0] = xml.GetAttribute("formatCode") ?? "";
            else if (xml.LocalName == "xf" && isOfCells) formats.Add(Shows(Whole(xml.GetAttribute("numFmtId")) ?? 0, own));
        }
    }

    /// <summary>The formats that need no writing out (ECMA-376 part 1, 18.8.30): 14–17 dates, 18–21 and 45–47 times, 22 both; 27–36 and 50–58 dates of East Asian systems.</summary>
    private static (bool Date, bool Time) Shows(int format, Dictionary<int, string> own) => format switch
    {
        _ when own.TryGetValue(format, out var code) => SheetMoment.Shows(code),
        (>= 14 and <= 17) or (>= 27 and <= 31) or 36 or (>= 50 and <= 54) or 57 or 58 => (true, false),
        (>= 18 and <= 21) or (>= 32 and <= 35) or (>= 45 and <= 47) or 55 or 56 => (false, true),
        22 => (true, true),
        _ => (false, false),
    };

    private SheetGrid ReadSheet(string name, string path, CancellationToken cancel)
    {
        var rows = new SortedDictionary<int, List<GridCell>>();
        var merged = new List<string>();
        using var xml = parts.Part(path) ?? throw new WorkbookFaultException(WorkbookFault.Damaged);
        var row = 0;
        var column = -1;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element) continue;
            switch (xml.LocalName)
            {
                case "row":
                    row = Whole(xml.GetAttribute("r")) ?? row + 1;
                    column = -1;
                    if (row is < 1 or > CellName.Rows) throw new WorkbookFaultException(WorkbookFault.Damaged);
                    if (row % 4096 == 0) cancel.ThrowIfCancellationRequested();
                    break;
                case "c":
                    var place = xml.GetAttribute("r") is { } reference ? CellName.Parse(reference) ?? throw new WorkbookFaultException(WorkbookFault.Damaged) : (Column: column + 1, Row: row);
                    column = place.Column;
                    if (ReadCell(xml, column) is { } cell) Add(rows, place.Row, cell);
                    break;
                case "mergeCell" when xml.GetAttribute("ref") is { } range:
                    merged.Add(range);
                    break;
            }
        }

        var across = merged.Where(m => !Spread(rows, m)).ToImmutableArray();
        return new SheetGrid(name, [.. rows.Select(r => new GridRow(r.Key, [.. r.Value.OrderBy(c => c.Column)]))]) { MergedAcross = across };
    }

    private void Add(SortedDictionary<int, List<GridCell>> rows, int row, GridCell cell)
    {
        if (cell.Column >= limits.Columns || ++cells > limits.Cells) throw new WorkbookFaultException(WorkbookFault.TooLarge);
        if (!rows.TryGetValue(row, out var list)) rows.Add(row, list = []);
        list.Add(cell);
    }

    /// <summary>Writes a cell that is merged downwards into the rows below; false when it is merged across columns and says something.</summary>
    private bool Spread(SortedDictionary<int, List<GridCell>> rows, string range)
    {
        var cut = range.IndexOf(':', StringComparison.Ordinal);
        if (cut < 0 || CellName.Parse(range.AsSpan(0, cut)) is not { } first || CellName.Parse(range.AsSpan(cut + 1)) is not { } last) return true;
        if (!rows.TryGetValue(first.Row, out var top)) return true;
        var at = top.FindIndex(c => c.Column == first.Column);
        if (at < 0) return true;
        if (first.Column != last.Column) return false;
        if (last.Row - first.Row > limits.MergedCells) throw new WorkbookFaultException(WorkbookFault.TooLarge);
        for (var row = first.Row + 1; row <= last.Row; row++)
        {
            if (!rows.TryGetValue(row, out var list) || !list.Exists(c => c.Column == first.Column)) Add(rows, row, top[at]);
        }

        return true;
    }

    private GridCell? ReadCell(XmlReader xml, int column)
    {
        var kind = xml.GetAttribute("t") ?? "n";
        var style = Whole(xml.GetAttribute("s")) ?? 0;
        if (xml.IsEmptyElement) return null;
        var depth = xml.Depth;
        string? value = null;
        var isFormula = false;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element) continue;
            if (xml.LocalName == "is") value = RichText(xml, limits.SharedCharacters);
            else if (xml.LocalName == "v") value = Value(xml);
            else if (xml.LocalName == "f") isFormula = true;
        }

        if (string.IsNullOrEmpty(value)) return isFormula && value is null ? new GridCell(column, "", CellShape.NotWorkedOut) : null;
        return Meant(kind, style, value) is { Text.Length: > 0 } cell ? cell with { Column = column } : null;
    }

    private string Value(XmlReader xml)
    {
        var text = new StringBuilder();
        if (xml.IsEmptyElement) return "";
        var depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth) if (xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace or XmlNodeType.Whitespace) Append(text, xml, limits.SharedCharacters);
        return text.ToString();
    }

    private GridCell Meant(string kind, int style, string value)
    {
        switch (kind)
        {
            case "s":
                var index = Whole(value);
                return index is { } i && i < shared.Count ? new GridCell(0, shared[i], CellShape.Text) : throw new WorkbookFaultException(WorkbookFault.Damaged);
            case "str":
                return new GridCell(0, SheetEscapes.Read(value), CellShape.Text);
            case "inlineStr":
                return new GridCell(0, value, CellShape.Text);
            case "b":
                return new GridCell(0, value.Trim() == "1" ? "true" : "false", CellShape.Truth);
            case "e":
                return new GridCell(0, value, CellShape.Error);
            case "d":
                return new GridCell(0, value.EndsWith("T00:00:00", StringComparison.Ordinal) ? value[..10] : value, CellShape.Moment);
            default:
                if (!double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number)) return new GridCell(0, value, CellShape.Error);
                var format = style >= 0 && style < formats.Count ? formats[style] : default;
                return SheetMoment.Text(number, format, from1904) is { } moment ? new GridCell(0, moment, CellShape.Moment) : new GridCell(0, Number(number), CellShape.Number);
        }
    }

    /// <summary>A number as text, shortest that reads back the same.</summary>
    internal static string Number(double number) => number.ToString("R", CultureInfo.InvariantCulture);

    private static int? Whole(string? text) => int.TryParse(text, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var n) ? n : null;
}
