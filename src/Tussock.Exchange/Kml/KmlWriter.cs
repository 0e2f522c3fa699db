using System.Collections.Immutable;
using System.Xml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Kml;

/// <summary>Writes a map as KML 2.2: one placemark a thing, its values as extended data; longitude before latitude.</summary>
/// <source>OGC 07-147r2, KML 2.2: order of the children of a feature, rings, coordinates.</source>
public static class KmlWriter
{
    /// <summary>Namespace of KML 2.2.</summary>
    internal const string Space = "http://www.opengis.net/kml/2.2";

    /// <summary>Writes the map.</summary>
    public static void Write(MapDocument map, Stream stream)
    {
        using var xml = XmlWriter.Create(stream, StrangerXml.Writing);
        xml.WriteStartElement("kml", Space);
        xml.WriteStartElement("Document", Space);
        xml.WriteElementString("name", Space, StrangerXml.Clean(map.Name));
        xml.WriteElementString("description", Space, StrangerXml.Clean(map.Description));
        foreach (var feature in map.Features) WritePlacemark(xml, feature);
        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void WritePlacemark(XmlWriter xml, MapFeature feature)
    {
        xml.WriteStartElement("Placemark", Space);
        if (feature.Name.Length > 0) xml.WriteElementString("name", Space, StrangerXml.Clean(feature.Name));
        if (!feature.Fields.IsEmpty)
        {
            xml.WriteStartElement("ExtendedData", Space);
            foreach (var field in feature.Fields)
            {
                xml.WriteStartElement("Data", Space);
                xml.WriteAttributeString("name", StrangerXml.Clean(field.Name));
                xml.WriteElementString("value", Space, StrangerXml.Clean(field.Text));
                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }

        WriteShape(xml, feature.Shape);
        xml.WriteEndElement();
    }

    private static void WriteShape(XmlWriter xml, MapShape shape)
    {
        switch (shape)
        {
            case MapPoint point:
                WriteCoordinates(xml, "Point", [point.At]);
                break;
            case MapLine line:
                WriteCoordinates(xml, "LineString", line.Points);
                break;
            case MapArea { Pieces.Length: 1 } area:
                WritePolygon(xml, area.Pieces[0]);
                break;
            case MapArea area:
                xml.WriteStartElement("MultiGeometry", Space);
                foreach (var piece in area.Pieces) WritePolygon(xml, piece);
                xml.WriteEndElement();
                break;
        }
    }

    private static void WritePolygon(XmlWriter xml, MapPolygon polygon)
    {
        xml.WriteStartElement("Polygon", Space);
        WriteRing(xml, "outerBoundaryIs", polygon.Outer);
        foreach (var hole in polygon.Holes) WriteRing(xml, "innerBoundaryIs", hole);
        xml.WriteEndElement();
    }

    private static void WriteRing(XmlWriter xml, string name, ImmutableArray<Position> ring)
    {
        xml.WriteStartElement(name, Space);
        WriteCoordinates(xml, "LinearRing", ring);
        xml.WriteEndElement();
    }

    private static void WriteCoordinates(XmlWriter xml, string name, ImmutableArray<Position> points)
    {
        xml.WriteStartElement(name, Space);
        xml.WriteElementString("coordinates", Space, string.Join(' ', points.Select(p => StrangerXml.Degrees(p.Longitude) + "," + StrangerXml.Degrees(p.Latitude))));
        xml.WriteEndElement();
    }
}
