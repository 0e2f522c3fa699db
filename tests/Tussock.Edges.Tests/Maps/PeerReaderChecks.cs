using System.Text;
using System.Text.Json;
using FsCheck.Xunit;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;
using NetTopologySuite.IO.Converters;
using NetTopologySuite.IO.KML;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Shapefile;
using Tussock.Land;
using Xunit;
using Esri = NetTopologySuite.IO.Esri.Shapefile;
using GpxWriter = Tussock.Exchange.Gpx.GpxWriter;
using Position = Tussock.Land.Position;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Our files in the hands of general-purpose readers, and theirs in ours.</summary>
public sealed class PeerReaderChecks : IDisposable
{
    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Property(MaxTest = 60)]
    public void NetTopologySuite_reads_our_GeoJson_as_we_meant_it(int seed)
    {
        var map = InventedMap.Of(seed);
        var read = JsonSerializer.Deserialize<FeatureCollection>(Written(s => GeoJsonWriter.Write(map, s)), GeoJson)!;
        Assert.Equal(map.Features.Select(f => Shown(f.Shape)), read.Select(f => Shown(f.Geometry)));
        Assert.Equal(map.Features.Select(f => f.Name), read.Select(f => (string)f.Attributes["name"]));
        Assert.All(read, f => Assert.True(f.Geometry.IsValid));
    }

    [Property(MaxTest = 60)]
    public void We_read_the_GeoJson_of_NetTopologySuite(int seed)
    {
        var map = InventedMap.Of(seed);
        var read = JsonSerializer.Deserialize<FeatureCollection>(Written(s => GeoJsonWriter.Write(map, s)), GeoJson)!;
        var again = GeoJsonReader.Read(JsonSerializer.SerializeToUtf8Bytes(read, GeoJson), "peer.geojson");
        Assert.Empty(again.Problems);
        Assert.Equal(map.Features.Select(f => Shown(f.Shape)), again.Features.Select(f => Shown(f.Shape)));
    }

    [Property(MaxTest = 60)]
    public void NetTopologySuite_reads_our_Gpx(int seed)
    {
        var map = InventedMap.Of(seed);
        var gpx = GpxFile.Parse(Encoding.UTF8.GetString(Written(s => GpxWriter.Write(map, s))), new GpxReaderSettings());
        Assert.Equal(InventedMap.Only<MapPoint>(map.Features).Select(f => (f.Name, Shown(f.Shape))), gpx.Waypoints.Select(w => (w.Name, Shown(new Point(w.Longitude.Value, w.Latitude.Value)))));
        Assert.Equal(InventedMap.Only<MapLine>(map.Features).Select(f => ((MapLine)f.Shape).Points.Length), gpx.Routes.Select(r => r.Waypoints.Count));
        Assert.Equal(InventedMap.Only<MapArea>(map.Features).Select(f => ((MapArea)f.Shape).Pieces.Sum(p => p.Rings.Count())), gpx.Tracks.Select(t => t.Segments.Length));
    }

    /// <summary>The writer of KML rounds to a thousandth of a degree.</summary>
    [Property(MaxTest = 60)]
    public void We_read_the_Kml_of_NetTopologySuite(int seed)
    {
        var map = InventedMap.Of(seed);
        foreach (var feature in map.Features)
        {
            var peer = new KMLWriter().Write(Geometry(feature.Shape));
            var reading = KmlReader.Read(new MemoryStream(Encoding.UTF8.GetBytes("<kml><Placemark><name>one</name>" + peer + "</Placemark></kml>")), "peer.kml");
            Assert.Empty(reading.Problems);
            Assert.True(Geometry(feature.Shape).EqualsExact(Geometry(Assert.Single(reading.Features).Shape), 0.001), peer);
        }
    }

    [Property(MaxTest = 40)]
    public void The_Esri_reader_of_NetTopologySuite_reads_our_shapefiles(int seed)
    {
        var map = InventedMap.Of(seed);
        var folder = scratch.At("ours" + Guid.NewGuid().ToString("N"));
        Directory.CreateDirectory(folder);
        foreach (var (name, bytes) in ShapefileWriter.Files(map)) File.WriteAllBytes(Path.Combine(folder, name), bytes.ToArray());
        foreach (var (name, features) in new[] { ("points", InventedMap.Only<MapPoint>(map.Features)), ("lines", InventedMap.Only<MapLine>(map.Features)), ("pastures", InventedMap.Only<MapArea>(map.Features)) })
        {
            if (features.Length == 0) continue;
            var read = Esri.ReadAllFeatures(Path.Combine(folder, name + ".shp"));
            Assert.Equal(features.Select(f => f.Name), read.Select(f => (string)f.Attributes["NAME"]));
            for (var i = 0; i < features.Length; i++) Assert.True(Geometry(features[i].Shape).EqualsTopologically(read[i].Geometry), features[i].Name);
        }
    }

    [Property(MaxTest = 40)]
    public void We_read_the_shapefiles_of_NetTopologySuite(int seed)
    {
        var areas = InventedMap.Only<MapArea>(InventedMap.Of(seed).Features);
        if (areas.Length == 0) return;
        var path = scratch.At("peer" + Guid.NewGuid().ToString("N") + ".shp");
        Esri.WriteAllFeatures(areas.Select(a => new Feature(Geometry(a.Shape), new AttributesTable { { "name", a.Name } })), path, encoding: Encoding.UTF8);
        var reading = MapFiles.Read(path);
        Assert.DoesNotContain(reading.Problems, p => p.Severity == Severity.Stop);
        Assert.Equal(areas.Select(a => a.Name), reading.Features.Select(f => f.Name));
        for (var i = 0; i < areas.Length; i++) Assert.True(Geometry(areas[i].Shape).EqualsTopologically(Geometry(reading.Features[i].Shape)));
    }

    private static byte[] Written(Action<Stream> write)
    {
        using var stream = new MemoryStream();
        write(stream);
        return stream.ToArray();
    }

    private static string Shown(MapShape shape) => Shown(Geometry(shape));

    /// <summary>Kind and corners, each ring and piece apart.</summary>
    private static string Shown(Geometry geometry) => geometry switch
    {
        Polygon polygon => "polygon " + Corners(polygon.ExteriorRing) + string.Concat(polygon.InteriorRings.Select(Corners)),
        GeometryCollection many => "many " + string.Join(" & ", many.Geometries.Select(Shown)),
        _ => geometry.GeometryType + " " + Corners(geometry),
    };

    private static string Corners(Geometry geometry) => "(" + string.Join(' ', geometry.Coordinates.Select(c => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{c.X:R},{c.Y:R}"))) + ")";

    private static Geometry Geometry(MapShape shape) => shape switch
    {
        MapPoint point => new Point(Corner(point.At)),
        MapLine line => new LineString([.. line.Points.Select(Corner)]),
        MapArea { Pieces.Length: 1 } area => Polygon(area.Pieces[0]),
        MapArea area => new MultiPolygon([.. area.Pieces.Select(Polygon)]),
        _ => throw new InvalidOperationException("No such shape"),
    };

    private static Polygon Polygon(MapPolygon piece) => new(new LinearRing([.. piece.Outer.Select(Corner)]), [.. piece.Holes.Select(h => new LinearRing([.. h.Select(Corner)]))]);

    private static Coordinate Corner(Position at) => new(at.Longitude, at.Latitude);
}
