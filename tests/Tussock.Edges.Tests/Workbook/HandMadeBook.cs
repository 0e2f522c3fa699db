using System.IO.Compression;
using System.Text;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>A workbook written by hand, part by part, as other programs write it: shared strings, formats, merged cells, formulas.</summary>
internal sealed class HandMadeBook
{
    private readonly List<(string Name, string Xml)> sheets = [];
    private readonly List<string> shared = [];

    internal bool Is1904 { get; init; }

    /// <summary>Two lines of one nest each: what every season must have.</summary>
    internal static HandMadeBook Least(string setOn = "<c r=\"D2\" s=\"1\"><v>45418</v></c>")
    {
        var book = new HandMadeBook();
        book.Sheet("season", book.Row(1, "setting", "value") + book.Row(2, "name", "made") + book.Row(3, "cover_classes", "bunchgrass, cactus (other)"));
        book.Sheet("pastures", book.Row(1, "property", "pasture") + book.Row(2, "Two Windmills", "South"));
        book.Sheet("transects", book.Row(1, "property", "pasture", "transect", "set_on") + "<row r=\"2\">" + book.Cells(2, "Two Windmills", "South", "A") + setOn + "</row>");
        book.Sheet("nests", book.Row(1, "transect", "nest", "cover") + book.Row(2, "A", "1", "bunchgrass") + book.Row(3, "A", "2", "cactus"));
        return book;
    }

    /// <summary>Adds a sheet of rows.</summary>
    internal HandMadeBook Sheet(string name, string rows, string behind = "")
    {
        sheets.Add((name, "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>" + rows + "</sheetData>" + behind + "</worksheet>"));
        return this;
    }

    /// <summary>A row of texts, shared.</summary>
    internal string Row(int number, params string[] texts) => "<row r=\"" + number + "\">" + Cells(number, texts) + "</row>";

    internal string Cells(int number, params string[] texts) => string.Concat(texts.Select((t, i) => t.Length == 0 ? "" : "<c r=\"" + (char)('A' + i) + number + "\" t=\"s\"><v>" + Shared(t) + "</v></c>"));

    internal string Write(string folder, Action<ZipArchive>? more = null)
    {
        var path = Path.Combine(folder, Guid.NewGuid().ToString("N")[..8] + ".xlsx");
        using var zip = ZipFile.Open(path, ZipArchiveMode.Create);
        Part(zip, "_rels/.rels", Relations("<Relationship Id=\"a\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"/xl/workbook.xml\"/>"));
        Part(zip, "xl/_rels/workbook.xml.rels", Relations("<Relationship Id=\"st\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles\" Target=\"styles.xml\"/><Relationship Id=\"sh\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings\" Target=\"../xl/sharedStrings.xml\"/>"
            + string.Concat(sheets.Select((_, i) => "<Relationship Id=\"r" + i + "\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"sheets/s" + i + ".xml\"/>"))));
        Part(zip, "xl/workbook.xml", "<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><workbookPr date1904=\"" + (Is1904 ? 1 : 0) + "\"/><sheets>"
            + string.Concat(sheets.Select((s, i) => "<sheet name=\"" + s.Name + "\" sheetId=\"" + (i + 1) + "\" r:id=\"r" + i + "\"/>")) + "</sheets></workbook>");
        Part(zip, "xl/styles.xml", "<styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><numFmts count=\"1\"><numFmt numFmtId=\"170\" formatCode=\"dd/mm/yyyy hh:mm\"/></numFmts><cellXfs count=\"4\"><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/><xf numFmtId=\"20\"/><xf numFmtId=\"170\"/></cellXfs></styleSheet>");
        for (var i = 0; i < sheets.Count; i++) Part(zip, "xl/sheets/s" + i + ".xml", sheets[i].Xml);
        Part(zip, "xl/sharedStrings.xml", "<sst xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\">" + string.Concat(shared.Select(s => "<si><r><t xml:space=\"preserve\">" + s[..(s.Length / 2)] + "</t></r><r><rPr><b/></rPr><t xml:space=\"preserve\">" + s[(s.Length / 2)..] + "</t></r><rPh sb=\"0\" eb=\"1\"><t>spoken</t></rPh></si>")) + "</sst>");
        more?.Invoke(zip);
        return path;
    }

    internal static void Part(ZipArchive zip, string path, string text)
    {
        using var stream = zip.CreateEntry(path, CompressionLevel.Fastest).Open();
        stream.Write(Encoding.UTF8.GetBytes(text));
    }

    private static string Relations(string list) => "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">" + list + "</Relationships>";

    private int Shared(string text)
    {
        if (!shared.Contains(text)) shared.Add(text);
        return shared.IndexOf(text);
    }
}
