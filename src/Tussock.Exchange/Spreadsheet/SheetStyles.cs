using System.Xml;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>The looks of cells; their numbers are those of <see cref="CellLook"/>.</summary>
internal static class SheetStyles
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const int DateFormat = 164, TimeFormat = 165, MomentFormat = 166, TextFormat = 49;

    private static readonly (CellLook Look, int Format, int Font, int Fill, int Border, string Align)[] Looks =
    [
        (CellLook.Plain, 0, 0, 0, 0, ""),
        (CellLook.Text, TextFormat, 0, 0, 0, ""),
        (CellLook.Date, DateFormat, 0, 0, 0, ""),
        (CellLook.Time, TimeFormat, 0, 0, 0, ""),
        (CellLook.Moment, MomentFormat, 0, 0, 0, ""),
        (CellLook.Heading, TextFormat, 1, 2, 1, "wrap"),
        (CellLook.HintHeading, TextFormat, 2, 3, 1, "wrap"),
        (CellLook.Hint, TextFormat, 2, 3, 0, ""),
        (CellLook.HintDate, DateFormat, 2, 3, 0, ""),
        (CellLook.Title, 0, 3, 0, 0, ""),
        (CellLook.Words, TextFormat, 0, 0, 0, "wrap top"),
    ];

    internal static void Write(XmlWriter xml)
    {
        xml.WriteStartElement("styleSheet", Main);
        List("numFmts", [(DateFormat, "yyyy\\-mm\\-dd"), (TimeFormat, "hh:mm"), (MomentFormat, "yyyy\\-mm\\-dd\\ hh:mm")], format =>
        {
            xml.WriteStartElement("numFmt", Main);
            xml.WriteAttributeString("numFmtId", SheetsWriter.N(format.Item1));
            xml.WriteAttributeString("formatCode", format.Item2);
            xml.WriteEndElement();
        });
        List("fonts", [("", 11, "FF000000"), ("b", 11, "FF000000"), ("i", 11, "FF404040"), ("b", 16, "FF000000")], Font);
        List("fills", ["none", "gray125", "FFD9D9D9", "FFF2F2F2"], Fill);
        List("borders", [false, true], Border);
        List("cellStyleXfs", [0], _ => Look(default, isOfCell: false));
        List("cellXfs", Looks, look => Look(look, isOfCell: true));
        List("cellStyles", ["Normal"], name =>
        {
            xml.WriteStartElement("cellStyle", Main);
            xml.WriteAttributeString("name", name);
            xml.WriteAttributeString("xfId", "0");
            xml.WriteAttributeString("builtinId", "0");
            xml.WriteEndElement();
        });
        xml.WriteEndElement();

        void List<T>(string name, IReadOnlyCollection<T> items, Action<T> write)
        {
            xml.WriteStartElement(name, Main);
            xml.WriteAttributeString("count", SheetsWriter.N(items.Count));
            foreach (var item in items) write(item);
            xml.WriteEndElement();
        }

        void Value(string element, string attribute, string value)
        {
            xml.WriteStartElement(element, Main);
            xml.WriteAttributeString(attribute, value);
            xml.WriteEndElement();
        }

        void Font((string Weight, int Size, string Colour) font)
        {
            xml.WriteStartElement("font", Main);
            if (font.Weight.Length > 0) xml.WriteElementString(font.Weight, Main, "");
            Value("sz", "val", SheetsWriter.N(font.Size));
            Value("color", "rgb", font.Colour);
            Value("name", "val", "Calibri");
            Value("family", "val", "2");
            xml.WriteEndElement();
        }

        void Fill(string fill)
        {
            xml.WriteStartElement("fill", Main);
            xml.WriteStartElement("patternFill", Main);
            xml.WriteAttributeString("patternType", fill.Length == 8 ? "solid" : fill);
            if (fill.Length == 8) Value("fgColor", "rgb", fill);
            xml.WriteEndElement();
            xml.WriteEndElement();
        }

        void Border(bool isDrawn)
        {
            xml.WriteStartElement("border", Main);
            foreach (var side in new[] { "left", "right", "top", "bottom" })
            {
                xml.WriteStartElement(side, Main);
                if (isDrawn) xml.WriteAttributeString("style", "thin");
                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }

        void Look((CellLook Look, int Format, int Font, int Fill, int Border, string Align) look, bool isOfCell)
        {
            xml.WriteStartElement("xf", Main);
            xml.WriteAttributeString("numFmtId", SheetsWriter.N(look.Format));
            xml.WriteAttributeString("fontId", SheetsWriter.N(look.Font));
            xml.WriteAttributeString("fillId", SheetsWriter.N(look.Fill));
            xml.WriteAttributeString("borderId", SheetsWriter.N(look.Border));
            if (isOfCell)
            {
                xml.WriteAttributeString("xfId", "0");
                foreach (var (apply, isApplied) in new[] { ("applyNumberFormat", look.Format > 0), ("applyFont", look.Font > 0), ("applyFill", look.Fill > 0), ("applyBorder", look.Border > 0), ("applyAlignment", look.Align is { Length: > 0 }) })
                {
                    if (isApplied) xml.WriteAttributeString(apply, "1");
                }
            }

            if (look.Align is { Length: > 0 } align)
            {
                xml.WriteStartElement("alignment", Main);
                xml.WriteAttributeString("vertical", align.EndsWith("top", StringComparison.Ordinal) ? "top" : "center");
                xml.WriteAttributeString("wrapText", "1");
                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }
    }
}
