using System.Globalization;
using System.Text;
using System.Xml;
using System.Xml.Linq;
using Tussock.Exchange.Places;

namespace Tussock.Exchange.Reading;

/// <summary>XML from strangers and for them: read without entities, document types or addresses that are fetched; written without characters that XML has not.</summary>
internal static class StrangerXml
{
    internal static XmlWriterSettings Writing { get; } = new() { Indent = true, IndentChars = "  ", NewLineChars = "\n", Encoding = new UTF8Encoding(false) };

    /// <summary>Reads a document whose root has this name; null, and told, when it can't be read.</summary>
    internal static XDocument? Load(Stream stream, string root, MapFindings findings)
    {
        var settings = new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, MaxCharactersInDocument = MapFindings.MostBytes, MaxCharactersFromEntities = 1, IgnoreComments = true, IgnoreProcessingInstructions = true };
        try
        {
            using var reader = XmlReader.Create(stream, settings);
            var document = XDocument.Load(reader, LoadOptions.SetLineInfo);
            if (document.Root!.Name.LocalName == root) return document;
            findings.Stop(findings.At(Line(document.Root)), Phrase.Of("maps.other_root", ("found", Records.TableCheck.Shown(document.Root.Name.LocalName)), ("expected", root)), Phrase.Of("maps.other_root_todo"));
        }
        catch (XmlException wrong)
        {
            // Text from strangers: what is no XML, or wants a document type, is told with its line.
            findings.Stop(findings.At(wrong.LineNumber > 0 ? wrong.LineNumber : null), Phrase.Of("maps.no_xml"), Phrase.Of("maps.no_xml_todo"));
        }
        catch (Exception wrong) when (wrong is InvalidDataException or DecoderFallbackException or ArgumentException)
        {
            // A packed file that is damaged inside, or a text whose encoding is not what it says.
            findings.Stop(null, Phrase.Of("maps.no_xml"), Phrase.Of("maps.no_xml_todo"));
        }

        return null;
    }

    internal static int? Line(XObject node) => node is IXmlLineInfo line && line.HasLineInfo() ? line.LineNumber : null;

    /// <summary>Text of the first child of that name, whatever its namespace; empty when there is none.</summary>
    internal static string Child(XElement of, string name) => of.Elements().FirstOrDefault(e => e.Name.LocalName == name)?.Value.Trim() ?? "";

    /// <summary>Degrees with as many digits as tell the number, never with an exponent: XML Schema's decimal has none.</summary>
    internal static string Degrees(double degrees)
    {
        var text = degrees.ToString("R", CultureInfo.InvariantCulture);
        return text.Contains('E', StringComparison.Ordinal) ? decimal.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture) : text;
    }

    /// <summary>The text without characters that XML 1.0 has not; each becomes the replacement character.</summary>
    internal static string Clean(string text)
    {
        if (IsClean(text)) return text;
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes()) clean.Append(rune.IsBmp && !XmlConvert.IsXmlChar((char)rune.Value) ? "\uFFFD" : rune.ToString());
        return clean.ToString();
    }

    private static bool IsClean(string text)
    {
        foreach (var c in text) if (!XmlConvert.IsXmlChar(c)) return false;
        return true;
    }
}
