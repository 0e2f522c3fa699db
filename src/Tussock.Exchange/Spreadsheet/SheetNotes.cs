using System.Xml;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>The notes of headings: their texts, and the shapes that programs show them in (ECMA-376 part 4, VML).</summary>
internal static class SheetNotes
{
    private const string Vml = "urn:schemas-microsoft-com:vml", Office = "urn:schemas-microsoft-com:office:office", Sheets = "urn:schemas-microsoft-com:office:excel";

    /// <summary>Writes the texts.</summary>
    internal static void Write(XmlWriter xml, string main, WrittenSheet sheet)
    {
        xml.WriteStartElement("comments", main);
        xml.WriteStartElement("authors", main);
        xml.WriteElementString("author", main, "Tussock");
        xml.WriteEndElement();
        xml.WriteStartElement("commentList", main);
        for (var i = 0; i < sheet.Columns.Length; i++)
        {
            if (sheet.Columns[i].Note.Length == 0) continue;
            xml.WriteStartElement("comment", main);
            xml.WriteAttributeString("ref", CellName.Letters(i) + "1");
            xml.WriteAttributeString("authorId", "0");
            xml.WriteStartElement("text", main);
            xml.WriteElementString("t", main, SheetEscapes.Written(sheet.Columns[i].Note));
            xml.WriteEndElement();
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    /// <summary>Writes the shapes.</summary>
    internal static void WriteShapes(XmlWriter xml, WrittenSheet sheet)
    {
        xml.WriteStartElement("xml");
        xml.WriteAttributeString("xmlns", "v", null, Vml);
        xml.WriteAttributeString("xmlns", "o", null, Office);
        xml.WriteAttributeString("xmlns", "x", null, Sheets);
        xml.WriteStartElement("shapetype", Vml);
        xml.WriteAttributeString("id", "_x0000_t202");
        xml.WriteAttributeString("coordsize", "21600,21600");
        xml.WriteAttributeString("spt", Office, "202");
        xml.WriteAttributeString("path", "m,l,21600r21600,l21600,xe");
        xml.WriteStartElement("stroke", Vml);
        xml.WriteAttributeString("joinstyle", "miter");
        xml.WriteEndElement();
        xml.WriteStartElement("path", Vml);
        xml.WriteAttributeString("gradientshapeok", "t");
        xml.WriteAttributeString("connecttype", Office, "rect");
        xml.WriteEndElement();
        xml.WriteEndElement();
        for (var i = 0; i < sheet.Columns.Length; i++) if (sheet.Columns[i].Note.Length > 0) Shape(xml, i);
        xml.WriteEndElement();
    }

    private static void Shape(XmlWriter xml, int column)
    {
        xml.WriteStartElement("shape", Vml);
        xml.WriteAttributeString("id", "_x0000_s" + SheetsWriter.N(1025 + column));
        xml.WriteAttributeString("type", "#_x0000_t202");
        xml.WriteAttributeString("style", "position:absolute;width:220pt;height:70pt;z-index:1;visibility:hidden");
        xml.WriteAttributeString("fillcolor", "#ffffe1");
        xml.WriteAttributeString("insetmode", Office, "auto");
        xml.WriteStartElement("fill", Vml);
        xml.WriteAttributeString("color2", "#ffffe1");
        xml.WriteEndElement();
        xml.WriteStartElement("textbox", Vml);
        xml.WriteEndElement();
        xml.WriteStartElement("ClientData", Sheets);
        xml.WriteAttributeString("ObjectType", "Note");
        xml.WriteElementString("MoveWithCells", Sheets, "");
        xml.WriteElementString("SizeWithCells", Sheets, "");
        xml.WriteElementString("Anchor", Sheets, SheetsWriter.N(column + 1) + ", 15, 0, 2, " + SheetsWriter.N(column + 4) + ", 15, 4, 10");
        xml.WriteElementString("AutoFill", Sheets, "False");
        xml.WriteElementString("Row", Sheets, "0");
        xml.WriteElementString("Column", Sheets, SheetsWriter.N(column));
        xml.WriteEndElement();
        xml.WriteEndElement();
    }
}
