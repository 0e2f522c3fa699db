using System.Collections.Immutable;
using System.Xml;
using System.Xml.Linq;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Gpx;

/// <summary>Reads GPX 1.1 (and 1.0, which has the same points): waypoints are points, routes and tracks are lines, tracks of closed segments are areas.</summary>
public static class GpxReader
{
    private const double SameM = 1;

    /// <summary>Reads a file.</summary>
    /// <param name="stream">Its bytes.</param>
    /// <param name="file">Its name, for what is told.</param>
    public static MapReading Read(Stream stream, string file)
    {
        var findings = new MapFindings(file);
        if (StrangerXml.Load(stream, "gpx", findings)?.Root is { } root)
        {
            foreach (var element in root.Elements())
            {
                if (findings.IsFull) break;
                if (element.Name.LocalName == "wpt") ReadPoint(element, findings);
                else if (element.Name.LocalName is "rte" or "trk") ReadLines(element, findings);
            }
        }

        return findings.Reading();
    }

    private static void ReadPoint(XElement element, MapFindings findings)
    {
        if (Place(element, findings) is { } at) findings.Add(Feature(element, new MapPoint(at), findings));
    }

    /// <summary>A route is a line; a track is a line for each segment, or an area when its segments are closed.</summary>
    private static void ReadLines(XElement element, MapFindings findings)
    {
        var isRoute = element.Name.LocalName == "rte";
        var parts = (isRoute ? [element] : element.Elements().Where(e => e.Name.LocalName == "trkseg"))
            .Select(p => p.Elements().Where(e => e.Name.LocalName is "rtept" or "trkpt").Select(e => Place(e, findings)).OfType<Position>().ToImmutableArray()).Where(p => p.Length > 1).ToArray();
        if (!isRoute && parts.Length > 0 && (StrangerXml.Child(element, "type") == GpxWriter.Boundary || Array.TrueForAll(parts, IsClosed)))
        {
            if (findings.Area(findings.At(StrangerXml.Line(element)), [.. parts.Select(p => Rings.Closed(p))]) is { } area) findings.Add(Feature(element, area, findings));
            return;
        }

        foreach (var part in parts) findings.Add(Feature(element, new MapLine(part), findings));
    }

    private static bool IsClosed(ImmutableArray<Position> points) => points.Length > 3 && Offset.Between(points[0], points[^1]).DistanceM < SameM;

    private static Position? Place(XElement element, MapFindings findings) =>
        findings.Position(findings.At(StrangerXml.Line(element), element.Name.LocalName), element.Attribute("lat")?.Value ?? "", element.Attribute("lon")?.Value ?? "");

    private static MapFeature Feature(XElement element, MapShape shape, MapFindings findings)
    {
        var own = element.Elements().FirstOrDefault(e => e.Name.LocalName == "extensions")?.Elements().Where(e => e.Name.NamespaceName == GpxWriter.OwnSpace) ?? [];
        return new MapFeature(StrangerXml.Child(element, "name"), shape, [.. own.Select(e => new MapField(XmlConvert.DecodeName(e.Name.LocalName), e.Value))])
        {
            From = findings.At(StrangerXml.Line(element)),
        };
    }
}
