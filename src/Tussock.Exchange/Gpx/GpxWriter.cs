using System.Collections.Immutable;
using System.Xml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Gpx;

/// <summary>Writes a map as GPX 1.1: points are waypoints, lines are routes, areas are tracks of type <c>boundary</c> with a closed segment a ring.</summary>
/// <remarks>Values that go with a thing stand in its extensions. GPX has no areas; 180° of longitude is written as −180°, which is the same meridian and the only one that the schema allows.</remarks>
/// <source>GPX 1.1 schema documentation, topografix.com/GPX/1/1: order of elements, bounds of latitude [−90, 90] and longitude [−180, 180).</source>
public static class GpxWriter
{
    /// <summary>Namespace of GPX 1.1.</summary>
    internal const string Space = "http://www.topografix.com/GPX/1/1";

    /// <summary>Namespace of our own extensions.</summary>
    internal const string OwnSpace = "urn:tussock:season-folder";

    /// <summary>Type of a track that is an area's boundary.</summary>
    internal const string Boundary = "boundary";

    /// <summary>Writes the map.</summary>
    public static void Write(MapDocument map, Stream stream)
    {
        using var xml = XmlWriter.Create(stream, StrangerXml.Writing);
        xml.WriteStartElement("gpx", Space);
        xml.WriteAttributeString("version", "1.1");
        xml.WriteAttributeString("creator", "Tussock");
        if (map.Features.Any(f => f.Fields.Length > 0)) xml.WriteAttributeString("xmlns", "tussock", null, OwnSpace);
        xml.WriteStartElement("metadata", Space);
        Text(xml, "name", map.Name);
        Text(xml, "desc", map.Description);
        xml.WriteEndElement();
        foreach (var feature in map.Features) if (feature.Shape is MapPoint point) WritePoint(xml, feature, point.At);
        foreach (var feature in map.Features) if (feature.Shape is MapLine line) WriteRoute(xml, feature, line.Points);
        foreach (var feature in map.Features) if (feature.Shape is MapArea area) WriteTrack(xml, feature, area);
        xml.WriteEndElement();
    }

    private static void WritePoint(XmlWriter xml, MapFeature feature, Position at)
    {
        Start(xml, "wpt", at);
        Text(xml, "name", feature.Name);
        Text(xml, "type", feature.Field(MapFeature.Kind));
        Extensions(xml, feature.Fields);
        xml.WriteEndElement();
    }

    private static void WriteRoute(XmlWriter xml, MapFeature feature, ImmutableArray<Position> points)
    {
        xml.WriteStartElement("rte", Space);
        Text(xml, "name", feature.Name);
        Text(xml, "type", feature.Field(MapFeature.Kind));
        Extensions(xml, feature.Fields);
        foreach (var point in points)
        {
            Start(xml, "rtept", point);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void WriteTrack(XmlWriter xml, MapFeature feature, MapArea area)
    {
        xml.WriteStartElement("trk", Space);
        Text(xml, "name", feature.Name);
        Text(xml, "type", Boundary);
        Extensions(xml, feature.Fields);
        foreach (var ring in area.Pieces.SelectMany(p => p.Rings))
        {
            xml.WriteStartElement("trkseg", Space);
            foreach (var corner in ring)
            {
                Start(xml, "trkpt", corner);
                xml.WriteEndElement();
            }

            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Start(XmlWriter xml, string name, Position at)
    {
        xml.WriteStartElement(name, Space);
        xml.WriteAttributeString("lat", StrangerXml.Degrees(at.Latitude));
        xml.WriteAttributeString("lon", StrangerXml.Degrees(at.Longitude == 180 ? -180 : at.Longitude));
    }

    private static void Text(XmlWriter xml, string name, string text)
    {
        if (text.Length > 0) xml.WriteElementString(name, Space, StrangerXml.Clean(text));
    }

    private static void Extensions(XmlWriter xml, ImmutableArray<MapField> fields)
    {
        if (fields.IsEmpty) return;
        xml.WriteStartElement("extensions", Space);
        foreach (var field in fields) xml.WriteElementString("tussock", XmlConvert.EncodeLocalName(field.Name), OwnSpace, StrangerXml.Clean(field.Text));
        xml.WriteEndElement();
    }
}
