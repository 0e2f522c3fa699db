using System.Collections.Immutable;
using System.Xml.Linq;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Kml;

/// <summary>Reads the placemarks of KML and KMZ: points, lines, polygons and several of them together. Nothing that a file links to is fetched.</summary>
public static class KmlReader
{
    private static readonly char[] Blanks = [' ', '\t', '\r', '\n'];

    /// <summary>Reads a KML file.</summary>
    /// <param name="stream">Its bytes.</param>
    /// <param name="file">Its name, for what is told.</param>
    public static MapReading Read(Stream stream, string file)
    {
        var findings = new MapFindings(file);
        ReadText(stream, findings);
        return findings.Reading();
    }

    /// <summary>Reads a KMZ file: a zip with a KML file in it, the first if there are several.</summary>
    public static MapReading ReadPacked(Stream stream, string file)
    {
        var findings = new MapFindings(file);
        if (PackedFiles.Unpack(stream, n => n.EndsWith(".kml", StringComparison.OrdinalIgnoreCase), findings) is { } files)
        {
            if (files.Count == 0) findings.Stop(null, Phrase.Of("maps.nothing_packed", ("ending", ".kml")), Phrase.Of("maps.nothing_packed_todo"));
            else using (var text = new MemoryStream(files.GetValueOrDefault("doc.kml") ?? files.First().Value)) ReadText(text, findings);
        }

        return findings.Reading();
    }

    private static void ReadText(Stream stream, MapFindings findings)
    {
        if (StrangerXml.Load(stream, "kml", findings)?.Root is not { } root) return;
        foreach (var element in root.Descendants())
        {
            if (findings.IsFull) return;
            if (element.Name.LocalName == "Placemark") ReadPlacemark(element, findings);
            else if (element.Name.LocalName == "NetworkLink") findings.Note(findings.At(StrangerXml.Line(element)), Phrase.Of("maps.network_link"), Phrase.Of("maps.network_link_todo"));
        }
    }

    private static void ReadPlacemark(XElement placemark, MapFindings findings)
    {
        var name = StrangerXml.Child(placemark, "name");
        var from = findings.At(StrangerXml.Line(placemark));
        var data = placemark.Elements().Where(e => e.Name.LocalName == "ExtendedData").Descendants().Where(e => e.Name.LocalName is "Data" or "SimpleData").ToArray();
        var fields = data.Select(d => new MapField(d.Attribute("name")?.Value ?? "", d.Name.LocalName == "Data" ? StrangerXml.Child(d, "value") : d.Value.Trim())).Where(f => f.Name.Length > 0).ToImmutableArray();
        var pieces = new List<MapPolygon>();
        foreach (var element in placemark.Descendants())
        {
            switch (element.Name.LocalName)
            {
                case "Point" when Points(element, findings) is [var at, ..]:
                    findings.Add(new MapFeature(name, new MapPoint(at), fields) { From = from });
                    break;
                case "LineString" when Points(element, findings) is { Length: > 1 } line:
                    findings.Add(new MapFeature(name, new MapLine(line), fields) { From = from });
                    break;
                case "Polygon":
                    ReadPolygon(element, pieces, findings);
                    break;
            }
        }

        if (pieces.Count > 0) findings.Add(new MapFeature(name, new MapArea([.. pieces]), fields) { From = from });
    }

    private static void ReadPolygon(XElement polygon, List<MapPolygon> pieces, MapFindings findings)
    {
        var outer = polygon.Elements().Where(e => e.Name.LocalName == "outerBoundaryIs").Descendants().Where(e => e.Name.LocalName == "LinearRing").Select(r => Rings.Closed(Points(r, findings))).FirstOrDefault();
        var holes = polygon.Elements().Where(e => e.Name.LocalName == "innerBoundaryIs").Descendants().Where(e => e.Name.LocalName == "LinearRing").Select(r => Rings.Closed(Points(r, findings))).ToArray();
        if (outer is null || holes.Contains(null)) findings.Stop(findings.At(StrangerXml.Line(polygon)), Phrase.Of("maps.bad_ring"), Phrase.Of("maps.bad_ring_todo"));
        else pieces.AddRange(Rings.Polygon(outer.Value, holes.OfType<ImmutableArray<Position>>()));
    }

    private static ImmutableArray<Position> Points(XElement of, MapFindings findings)
    {
        var points = ImmutableArray.CreateBuilder<Position>();
        if (of.Elements().FirstOrDefault(e => e.Name.LocalName == "coordinates") is not { } coordinates) return [];
        var at = findings.At(StrangerXml.Line(coordinates));
        foreach (var tuple in coordinates.Value.Split(Blanks, StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = tuple.Split(',');
            if (findings.Position(at, parts.Length > 1 ? parts[1] : "", parts[0]) is not { } place) return [];
            points.Add(place);
        }

        return points.ToImmutable();
    }
}
