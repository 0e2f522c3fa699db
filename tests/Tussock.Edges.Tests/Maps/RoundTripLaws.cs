using System.Text;
using FsCheck.Xunit;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Shapefile;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>What is written is read again: the same names, values and places to the last digit.</summary>
public class RoundTripLaws
{
    [Property]
    public void GeoJson_comes_back_whole(int seed)
    {
        var map = InventedMap.Of(seed);
        Same(map.Features, Written(s => GeoJsonWriter.Write(map, s)), b => GeoJsonReader.Read(b, "map.geojson"));
    }

    [Property]
    public void Kml_comes_back_whole(int seed)
    {
        var map = InventedMap.Of(seed);
        Same(map.Features, Written(s => KmlWriter.Write(map, s)), b => KmlReader.Read(new MemoryStream(b), "map.kml"));
    }

    [Property]
    public void Gpx_comes_back_whole_points_first_areas_last(int seed)
    {
        var map = InventedMap.Of(seed);
        var order = InventedMap.Only<MapPoint>(map.Features).Concat(InventedMap.Only<MapLine>(map.Features)).Concat(InventedMap.Only<MapArea>(map.Features));
        Same(order, Written(s => GpxWriter.Write(map, s)), b => GpxReader.Read(new MemoryStream(b), "map.gpx"));
    }

    [Property]
    public void Shapefiles_come_back_whole_one_set_for_each_kind(int seed)
    {
        var map = InventedMap.Of(seed);
        var files = ShapefileWriter.Files(map).ToDictionary(f => f.Name, f => f.Bytes.ToArray());
        foreach (var (name, features) in new[] { ("points", InventedMap.Only<MapPoint>(map.Features)), ("lines", InventedMap.Only<MapLine>(map.Features)), ("pastures", InventedMap.Only<MapArea>(map.Features)) })
        {
            Assert.Equal(features.Length > 0, files.ContainsKey(name + ".shp"));
            if (features.Length == 0) continue;
            var read = ShapefileReader.Read(files[name + ".shp"], files[name + ".dbf"], Encoding.ASCII.GetString(files[name + ".prj"]), Encoding.ASCII.GetString(files[name + ".cpg"]), name + ".shp");
            Assert.Empty(read.Problems);

            // A table has every column in every record, in the order in which columns first came; an empty cell is no value.
            Assert.Equal(features.Select(Shown), read.Features.Select(Shown));
        }
    }

    private static byte[] Written(Action<Stream> write)
    {
        using var stream = new MemoryStream();
        write(stream);
        return stream.ToArray();
    }

    private static void Same(IEnumerable<MapFeature> features, byte[] bytes, Func<byte[], MapReading> read)
    {
        var reading = read(bytes);
        Assert.Empty(reading.Problems);
        Assert.Equal(features, reading.Features);
    }

    private static string Shown(MapFeature feature) => feature.Name + "|" + string.Join('|', feature.Fields.OrderBy(f => f.Name, StringComparer.Ordinal).Select(f => f.Name + "=" + f.Text.Trim())) + "|" + PlaceText(feature.Shape);

    private static string PlaceText(MapShape shape) => shape switch
    {
        MapPoint point => point.At.ToString(),
        MapLine line => string.Join(' ', line.Points),
        MapArea area => string.Join('/', area.Pieces.SelectMany(p => p.Rings).Select(r => string.Join(' ', r))),
        _ => "",
    };
}
