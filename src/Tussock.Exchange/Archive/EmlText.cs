using System.Globalization;
using System.Xml;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Archive;

/// <summary>What a dataset says about itself in the Ecological Metadata Language 2.2, as little as the standard wants; nobody is named in it.</summary>
/// <source>Ecological Metadata Language 2.2.0, https://eml.ecoinformatics.org/ (order of elements: eml-resource and eml-dataset)</source>
internal static class EmlText
{
    /// <summary>Its file.</summary>
    internal const string File = "eml.xml";

    /// <summary>Its namespace.</summary>
    internal const string Space = "https://eml.ecoinformatics.org/eml-2.2.0";

    private const string Nobody = "Not named";

    /// <summary>The bytes of it.</summary>
    /// <param name="id">Id of the archive.</param>
    /// <param name="title">Title for people.</param>
    /// <param name="about">A few sentences, a paragraph each.</param>
    /// <param name="licence">Licence; null when none was chosen.</param>
    /// <param name="none">Sentence that none was chosen.</param>
    /// <param name="on">Date of publication.</param>
    /// <param name="days">First and last day; null when there is none.</param>
    /// <param name="box">South-west and north-east corner of the places told; null when there are none.</param>
    internal static byte[] Of(string id, string title, IEnumerable<string> about, Licence? licence, string none, DateOnly on, (DateOnly From, DateOnly To)? days, (Position SouthWest, Position NorthEast)? box)
    {
        using var stream = new MemoryStream();
        using (var xml = XmlWriter.Create(stream, StrangerXml.Writing))
        {
            xml.WriteStartElement("eml", "eml", Space);
            xml.WriteAttributeString("packageId", "urn:uuid:" + id);
            xml.WriteAttributeString("system", "uuid");
            xml.WriteStartElement("dataset");
            Text("title", title);
            Party("creator");
            Text("pubDate", Day(on));
            xml.WriteStartElement("abstract");
            foreach (var sentence in about) Text("para", sentence);
            xml.WriteEndElement();
            xml.WriteStartElement("intellectualRights");
            Text("para", licence is null ? none : licence.Title + (licence.Address.Length > 0 && licence.Address != licence.Title ? ", " + licence.Address : ""));
            xml.WriteEndElement();
            if (licence is { Name.Length: > 0 })
            {
                xml.WriteStartElement("licensed");
                Text("licenseName", licence.Title);
                Text("url", licence.Address);
                Text("identifier", licence.Name);
                xml.WriteEndElement();
            }

            if (days is not null || box is not null) Coverage();
            Party("contact");
            xml.WriteEndElement();
            xml.WriteEndElement();

            void Text(string name, string text) => xml.WriteElementString(name, StrangerXml.Clean(text));

            void Party(string name)
            {
                xml.WriteStartElement(name);
                Text("organizationName", Nobody);
                xml.WriteEndElement();
            }

            void Coverage()
            {
                xml.WriteStartElement("coverage");
                if (box is { } place)
                {
                    xml.WriteStartElement("geographicCoverage");
                    Text("geographicDescription", "Cells of a public grid of 0.01 degrees in which transects begin, or their exact places where the archive says that it is exact");
                    xml.WriteStartElement("boundingCoordinates");
                    Text("westBoundingCoordinate", StrangerXml.Degrees(place.SouthWest.Longitude));
                    Text("eastBoundingCoordinate", StrangerXml.Degrees(place.NorthEast.Longitude));
                    Text("northBoundingCoordinate", StrangerXml.Degrees(place.NorthEast.Latitude));
                    Text("southBoundingCoordinate", StrangerXml.Degrees(place.SouthWest.Latitude));
                    xml.WriteEndElement();
                    xml.WriteEndElement();
                }

                if (days is { } span)
                {
                    xml.WriteStartElement("temporalCoverage");
                    xml.WriteStartElement("rangeOfDates");
                    Moment("beginDate", span.From);
                    Moment("endDate", span.To);
                    xml.WriteEndElement();
                    xml.WriteEndElement();
                }

                xml.WriteEndElement();
            }

            void Moment(string name, DateOnly day)
            {
                xml.WriteStartElement(name);
                Text("calendarDate", Day(day));
                xml.WriteEndElement();
            }
        }

        return stream.ToArray();
    }

    private static string Day(DateOnly on) => on.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
