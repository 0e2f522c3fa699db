using System.Collections.Immutable;
using System.Globalization;
using System.Xml;
using Tussock.Exchange.Reading;

namespace Tussock.Exchange.Archive;

/// <summary>The description of a Darwin Core Archive, <c>meta.xml</c>.</summary>
/// <source>Darwin Core Text Guide, TDWG, http://rs.tdwg.org/dwc/text/</source>
internal static class MetaXml
{
    /// <summary>Its file.</summary>
    internal const string File = "meta.xml";

    /// <summary>Its namespace.</summary>
    internal const string Space = "http://rs.tdwg.org/dwc/text/";

    /// <summary>The bytes of it; the first table is the core, the first column of each table the id of the event.</summary>
    internal static byte[] Of(params ReadOnlySpan<(ArchiveTable Table, ImmutableArray<Term> Terms)> tables)
    {
        using var stream = new MemoryStream();
        using (var xml = XmlWriter.Create(stream, StrangerXml.Writing))
        {
            xml.WriteStartElement("archive", Space);
            xml.WriteAttributeString("metadata", EmlText.File);
            for (var i = 0; i < tables.Length; i++)
            {
                var (table, terms) = tables[i];
                xml.WriteStartElement(i == 0 ? "core" : "extension", Space);
                xml.WriteAttributeString("encoding", "UTF-8");
                xml.WriteAttributeString("fieldsTerminatedBy", ",");
                xml.WriteAttributeString("linesTerminatedBy", "\\n");
                xml.WriteAttributeString("fieldsEnclosedBy", "\"");
                xml.WriteAttributeString("ignoreHeaderLines", "1");
                xml.WriteAttributeString("rowType", table.RowType);
                xml.WriteStartElement("files", Space);
                xml.WriteElementString("location", Space, table.Path);
                xml.WriteEndElement();
                xml.WriteStartElement(i == 0 ? "id" : "coreid", Space);
                xml.WriteAttributeString("index", "0");
                xml.WriteEndElement();
                for (var c = i == 0 ? 0 : 1; c < terms.Length; c++)
                {
                    xml.WriteStartElement("field", Space);
                    xml.WriteAttributeString("index", c.ToString(CultureInfo.InvariantCulture));
                    xml.WriteAttributeString("term", terms[c].Address);
                    xml.WriteEndElement();
                }

                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }

        return stream.ToArray();
    }
}
