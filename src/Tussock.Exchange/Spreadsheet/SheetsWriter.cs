using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>Writes a workbook (SpreadsheetML, ECMA-376 part 1, chapter 18, transitional): frozen headings, notes, lists and checks, ready to print.</summary>
/// <remarks>The same sheets give the same bytes. Texts stand in their cells, not in a shared part.</remarks>
internal static class SheetsWriter
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string PackageRelations = "http://schemas.openxmlformats.org/package/2006/relationships";
    private const string Types = "http://schemas.openxmlformats.org/package/2006/content-types";
    private const string SheetType = "application/vnd.openxmlformats-officedocument.spreadsheetml.";
    private static readonly DateTimeOffset Always = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Writes the workbook.</summary>
    /// <param name="to">Where its bytes go; stays open.</param>
    /// <param name="sheets">The sheets, in the order of their tabs.</param>
    /// <param name="names">Named ranges.</param>
    /// <param name="cancel">Ends the writing with an exception.</param>
    internal static void Write(Stream to, IReadOnlyList<WrittenSheet> sheets, IReadOnlyList<NamedRange> names, CancellationToken cancel)
    {
        using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        Part(zip, "[Content_Types].xml", xml => ContentTypes(xml, sheets));
        Part(zip, "_rels/.rels", xml => RelationList(xml, [("rId1", Relations + "/officeDocument", "xl/workbook.xml")]));
        Part(zip, "xl/workbook.xml", xml => Book(xml, sheets, names));
        Part(zip, "xl/_rels/workbook.xml.rels", xml => RelationList(xml, [.. sheets.Select((_, i) => ("rId" + N(i + 1), Relations + "/worksheet", "worksheets/sheet" + N(i + 1) + ".xml")), ("rIdS", Relations + "/styles", "styles.xml")]));
        Part(zip, "xl/styles.xml", SheetStyles.Write);
        for (var i = 0; i < sheets.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            var sheet = sheets[i];
            Part(zip, "xl/worksheets/sheet" + N(i + 1) + ".xml", xml => Sheet(xml, sheet, cancel));
            if (!HasNotes(sheet)) continue;
            Part(zip, "xl/worksheets/_rels/sheet" + N(i + 1) + ".xml.rels", xml => RelationList(xml, [("rId1", Relations + "/vmlDrawing", "../drawings/vmlDrawing" + N(i + 1) + ".vml"), ("rId2", Relations + "/comments", "../comments" + N(i + 1) + ".xml")]));
            Part(zip, "xl/comments" + N(i + 1) + ".xml", xml => SheetNotes.Write(xml, Main, sheet));
            Part(zip, "xl/drawings/vmlDrawing" + N(i + 1) + ".vml", xml => SheetNotes.WriteShapes(xml, sheet));
        }
    }

    internal static string N(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static bool HasNotes(WrittenSheet sheet) => sheet.Columns.Any(c => c.Note.Length > 0);

    private static void Part(ZipArchive zip, string path, Action<XmlWriter> write)
    {
        var entry = zip.CreateEntry(path, CompressionLevel.Optimal);
        entry.LastWriteTime = Always;
        using var stream = entry.Open();
        using var xml = XmlWriter.Create(stream, new XmlWriterSettings { Encoding = new UTF8Encoding(false), NewLineHandling = NewLineHandling.None });
        write(xml);
    }

    private static void ContentTypes(XmlWriter xml, IReadOnlyList<WrittenSheet> sheets)
    {
        xml.WriteStartElement("Types", Types);
        Of("Default", "Extension", "rels", "application/vnd.openxmlformats-package.relationships+xml");
        Of("Default", "Extension", "xml", "application/xml");
        Of("Default", "Extension", "vml", "application/vnd.openxmlformats-officedocument.vmlDrawing");
        Of("Override", "PartName", "/xl/workbook.xml", SheetType + "sheet.main+xml");
        Of("Override", "PartName", "/xl/styles.xml", SheetType + "styles+xml");
        for (var i = 0; i < sheets.Count; i++)
        {
            Of("Override", "PartName", "/xl/worksheets/sheet" + N(i + 1) + ".xml", SheetType + "worksheet+xml");
            if (HasNotes(sheets[i])) Of("Override", "PartName", "/xl/comments" + N(i + 1) + ".xml", SheetType + "comments+xml");
        }

        xml.WriteEndElement();

        void Of(string element, string attribute, string what, string type)
        {
            xml.WriteStartElement(element, Types);
            xml.WriteAttributeString(attribute, what);
            xml.WriteAttributeString("ContentType", type);
            xml.WriteEndElement();
        }
    }

    private static void RelationList(XmlWriter xml, IEnumerable<(string Id, string Kind, string Target)> relations)
    {
        xml.WriteStartElement("Relationships", PackageRelations);
        foreach (var (id, kind, target) in relations)
        {
            xml.WriteStartElement("Relationship", PackageRelations);
            xml.WriteAttributeString("Id", id);
            xml.WriteAttributeString("Type", kind);
            xml.WriteAttributeString("Target", target);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Book(XmlWriter xml, IReadOnlyList<WrittenSheet> sheets, IReadOnlyList<NamedRange> names)
    {
        xml.WriteStartElement("workbook", Main);
        xml.WriteAttributeString("xmlns", "r", null, Relations);
        xml.WriteStartElement("bookViews", Main);
        xml.WriteStartElement("workbookView", Main);
        xml.WriteAttributeString("tabRatio", "850");
        xml.WriteEndElement();
        xml.WriteEndElement();
        xml.WriteStartElement("sheets", Main);
        for (var i = 0; i < sheets.Count; i++)
        {
            xml.WriteStartElement("sheet", Main);
            xml.WriteAttributeString("name", sheets[i].Name);
            xml.WriteAttributeString("sheetId", N(i + 1));
            if (sheets[i].IsHidden) xml.WriteAttributeString("state", "hidden");
            xml.WriteAttributeString("id", Relations, "rId" + N(i + 1));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteStartElement("definedNames", Main);
        for (var i = 0; i < sheets.Count; i++)
        {
            if (!sheets[i].HasHeading) continue;
            xml.WriteStartElement("definedName", Main);
            xml.WriteAttributeString("name", "_xlnm.Print_Titles");
            xml.WriteAttributeString("localSheetId", N(i));
            xml.WriteString(sheets[i].Name + "!$1:$1");
            xml.WriteEndElement();
        }

        foreach (var name in names)
        {
            xml.WriteStartElement("definedName", Main);
            xml.WriteAttributeString("name", name.Name);
            xml.WriteString(name.Range);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void Sheet(XmlWriter xml, WrittenSheet sheet, CancellationToken cancel)
    {
        xml.WriteStartElement("worksheet", Main);
        xml.WriteAttributeString("xmlns", "r", null, Relations);
        xml.WriteStartElement("sheetPr", Main);
        xml.WriteStartElement("outlinePr", Main);
        xml.WriteAttributeString("summaryRight", "0");
        xml.WriteEndElement();
        xml.WriteStartElement("pageSetUpPr", Main);
        xml.WriteAttributeString("fitToPage", "1");
        xml.WriteEndElement();
        xml.WriteEndElement();
        View(xml, sheet);
        xml.WriteStartElement("sheetFormatPr", Main);
        xml.WriteAttributeString("defaultRowHeight", "18");
        xml.WriteAttributeString("customHeight", "1");
        if (sheet.Columns.Any(c => c.IsFolded)) xml.WriteAttributeString("outlineLevelCol", "1");
        xml.WriteEndElement();
        Columns(xml, sheet);
        xml.WriteStartElement("sheetData", Main);
        if (sheet.HasHeading) Row(xml, 1, [.. sheet.Columns.Select(c => new WrittenCell(c.Heading, null, c.IsHint ? CellLook.HintHeading : CellLook.Heading))], 32);
        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            if (i % 4096 == 0) cancel.ThrowIfCancellationRequested();
            Row(xml, i + (sheet.HasHeading ? 2 : 1), sheet.Rows[i], sheet.HasHeading ? null : HeightOf(sheet, sheet.Rows[i]));
        }

        xml.WriteEndElement();
        Checks(xml, sheet);
        Print(xml, sheet);
        if (HasNotes(sheet))
        {
            xml.WriteStartElement("legacyDrawing", Main);
            xml.WriteAttributeString("id", Relations, "rId1");
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void View(XmlWriter xml, WrittenSheet sheet)
    {
        xml.WriteStartElement("sheetViews", Main);
        xml.WriteStartElement("sheetView", Main);
        if (!sheet.HasHeading) xml.WriteAttributeString("showGridLines", "0");
        xml.WriteAttributeString("workbookViewId", "0");
        if (sheet.HasHeading)
        {
            xml.WriteStartElement("pane", Main);
            if (sheet.Frozen > 0) xml.WriteAttributeString("xSplit", N(sheet.Frozen));
            xml.WriteAttributeString("ySplit", "1");
            xml.WriteAttributeString("topLeftCell", CellName.Letters(sheet.Frozen) + "2");
            xml.WriteAttributeString("activePane", sheet.Frozen > 0 ? "bottomRight" : "bottomLeft");
            xml.WriteAttributeString("state", "frozen");
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void Columns(XmlWriter xml, WrittenSheet sheet)
    {
        xml.WriteStartElement("cols", Main);
        for (var i = 0; i < sheet.Columns.Length; i++)
        {
            var column = sheet.Columns[i];
            xml.WriteStartElement("col", Main);
            xml.WriteAttributeString("min", N(i + 1));
            xml.WriteAttributeString("max", N(i + 1));
            xml.WriteAttributeString("width", column.Width.ToString("0.##", CultureInfo.InvariantCulture));
            xml.WriteAttributeString("style", N((int)column.Look));
            if (column.IsFolded) xml.WriteAttributeString("hidden", "1");
            xml.WriteAttributeString("customWidth", "1");
            if (column.IsFolded) xml.WriteAttributeString("outlineLevel", "1");
            if (!column.IsFolded && i + 1 < sheet.Columns.Length && sheet.Columns[i + 1].IsFolded) xml.WriteAttributeString("collapsed", "1");
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    /// <summary>Height of a row of running text, in points: no program works it out while a sheet is opened.</summary>
    private static int HeightOf(WrittenSheet sheet, IReadOnlyList<WrittenCell> cells) =>
        8 + cells.Select((c, i) => (c.Look == CellLook.Title ? 22 : 15) * (1 + (int)((c.Text?.Length ?? 0) / (0.9 * sheet.Columns[i].Width)))).Max();

    private static void Row(XmlWriter xml, int number, IReadOnlyList<WrittenCell> cells, int? height)
    {
        xml.WriteStartElement("row", Main);
        xml.WriteAttributeString("r", N(number));
        if (height is { } points)
        {
            xml.WriteAttributeString("ht", N(points));
            xml.WriteAttributeString("customHeight", "1");
        }

        for (var i = 0; i < cells.Count; i++)
        {
            var cell = cells[i];
            if (cell.Number is null && string.IsNullOrEmpty(cell.Text)) continue;
            xml.WriteStartElement("c", Main);
            xml.WriteAttributeString("r", CellName.Letters(i) + N(number));
            if (cell.Look != CellLook.Plain) xml.WriteAttributeString("s", N((int)cell.Look));
            if (cell.Number is { } value) xml.WriteElementString("v", Main, SheetsReader.Number(value));
            else Text(xml, cell.Text);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Text(XmlWriter xml, string text)
    {
        xml.WriteAttributeString("t", "inlineStr");
        xml.WriteStartElement("is", Main);
        xml.WriteStartElement("t", Main);
        if (char.IsWhiteSpace(text[0]) || char.IsWhiteSpace(text[^1]) || text.AsSpan().IndexOfAny('\n', '\t') >= 0) xml.WriteAttributeString("xml", "space", null, "preserve");
        xml.WriteString(SheetEscapes.Written(text));
        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void Checks(XmlWriter xml, WrittenSheet sheet)
    {
        var count = sheet.Columns.Count(c => c.Check is not null);
        if (count == 0) return;
        xml.WriteStartElement("dataValidations", Main);
        xml.WriteAttributeString("count", N(count));
        for (var i = 0; i < sheet.Columns.Length; i++)
        {
            if (sheet.Columns[i].Check is not { } check) continue;
            var letters = CellName.Letters(i);
            xml.WriteStartElement("dataValidation", Main);
            xml.WriteAttributeString("type", check.Rule switch { EntryRule.List => "list", EntryRule.Whole => "whole", EntryRule.Decimal => "decimal", EntryRule.Date => "date", _ => "time" });
            if (!check.IsStrict) xml.WriteAttributeString("errorStyle", "warning");
            if (check.Rule != EntryRule.List) xml.WriteAttributeString("operator", check.Last is null ? "greaterThanOrEqual" : "between");
            xml.WriteAttributeString("allowBlank", "1");
            if (check.Message is not null) xml.WriteAttributeString("showErrorMessage", "1");
            if (check.Message is not null) xml.WriteAttributeString("errorTitle", sheet.Columns[i].Heading.Length > 32 ? sheet.Columns[i].Heading[..32] : sheet.Columns[i].Heading);
            if (check.Message is { } message) xml.WriteAttributeString("error", message.Length > 225 ? message[..224] + "…" : message);
            xml.WriteAttributeString("sqref", letters + "2:" + letters + N(Math.Min(CellName.Rows, 1 + Math.Max(sheet.CheckedRows, sheet.Rows.Count + 500))));
            xml.WriteElementString("formula1", Main, check.First);
            if (check.Last is not null) xml.WriteElementString("formula2", Main, check.Last);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Print(XmlWriter xml, WrittenSheet sheet)
    {
        if (sheet.HasHeading)
        {
            xml.WriteStartElement("printOptions", Main);
            xml.WriteAttributeString("gridLines", "1");
            xml.WriteEndElement();
        }

        xml.WriteStartElement("pageMargins", Main);
        foreach (var side in new[] { "left", "right", "top", "bottom", "header", "footer" }) xml.WriteAttributeString(side, side is "header" or "footer" ? "0.3" : "0.5");
        xml.WriteEndElement();
        xml.WriteStartElement("pageSetup", Main);
        xml.WriteAttributeString("orientation", sheet.HasHeading ? "landscape" : "portrait");
        xml.WriteAttributeString("fitToHeight", "0");
        xml.WriteEndElement();
        xml.WriteStartElement("headerFooter", Main);
        xml.WriteElementString("oddFooter", Main, "&L&A&R&P / &N");
        xml.WriteEndElement();
    }
}
