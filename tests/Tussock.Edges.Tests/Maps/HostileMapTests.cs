using System.Globalization;
using System.IO.Compression;
using System.Text;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Shapefile;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>
/// Files that are broken, hostile or of another kind: always a sentence with a place, never a crash, never a fetch, never more memory than allowed.
/// TUSSOCK_FUZZ=n makes n changes a format instead of 400; TUSSOCK_FUZZ_SEED begins elsewhere.
/// </summary>
public sealed class HostileMapTests : IDisposable
{
    private static readonly string[] Bits = ["<", ">", "&", "\"", "</", "]]>", "{", "}", "[", "]", ",", "null", "1e999", "-1e999", "NaN", "\0", "\uFEFF", "\\ud800", "lat=\"91\"", "Polygon", "coordinates", "180.0000001", "\u0001", "9999999999", "-"];
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Theory]
    [InlineData("gpx")]
    [InlineData("kml")]
    [InlineData("geojson")]
    [InlineData("shp")]
    [InlineData("kmz")]
    [InlineData("zip")]
    public void A_file_changed_at_random_is_read_or_refused_in_sentences(string form)
    {
        var count = Setting("TUSSOCK_FUZZ", 400);
        var seed = Setting("TUSSOCK_FUZZ_SEED", 1);
        for (var i = 0; i < count; i++, seed++)
        {
            var random = new Random(seed);
            var path = scratch.At("fuzz." + form);
            var files = Files(InventedMap.Of(seed), form);
            foreach (var (name, bytes) in files) File.WriteAllBytes(scratch.At(name), random.Next(files.Count) == 0 || name == "fuzz." + form ? Changed(bytes, random) : bytes);
            try
            {
                Told(MapFiles.Read(path));
            }
            catch (Exception wrong)
            {
                throw new InvalidOperationException(form + ", seed " + seed.ToString(CultureInfo.InvariantCulture), wrong);
            }
        }
    }

    [Theory]
    [InlineData("gpx")]
    [InlineData("kml")]
    public void A_document_type_is_refused_so_that_nothing_is_fetched_or_blown_up(string root)
    {
        File.WriteAllText(scratch.At("secret.txt"), "SECRET");
        var text = $"<?xml version=\"1.0\"?><!DOCTYPE {root} [<!ENTITY e SYSTEM \"{new Uri(scratch.At("secret.txt"))}\"><!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]><{root}><name>&e;&b;</name></{root}>";
        var problem = Stop(Read("hostile." + root, Encoding.UTF8.GetBytes(text)));
        Assert.Equal("maps.no_xml", problem.What.Key);
    }

    [Fact]
    public void A_packed_bomb_is_unpacked_no_further_than_allowed()
    {
        var before = GC.GetTotalAllocatedBytes();
        var problem = Stop(Read("bomb.kmz", Zip(("doc.kml", s =>
        {
            var blanks = new byte[1 << 20];
            Array.Fill(blanks, (byte)' ');
            for (var i = 0; i < 300; i++) s.Write(blanks);
        }))));
        Assert.Equal("maps.too_long", problem.What.Key);
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 600L << 20);
    }

    [Fact]
    public void A_packed_path_that_leads_elsewhere_is_only_a_name()
    {
        var reading = Read("up.kmz", Zip(("../../doc.kml", s => s.Write("<kml><Placemark><name>a</name><Point><coordinates>1,2</coordinates></Point></Placemark></kml>"u8))));
        Assert.Equal("a", Assert.Single(reading.Features).Name);
        Assert.False(File.Exists(Path.Combine(scratch.Folder, "..", "..", "doc.kml")));
    }

    [Theory]
    [InlineData("a.gpx", "<kml/>", "maps.other_root", 1)]
    [InlineData("a.gpx", "<gpx>\n<wpt lat=\"1\" lon=\"200\"/></gpx>", "maps.no_place", 2)]
    [InlineData("a.gpx", "<gpx>\n<wpt lat=\"1,5\" lon=\"2\"/></gpx>", "maps.no_place", 2)]
    [InlineData("a.gpx", "<gpx>\n\n<wpt", "maps.no_xml", 3)]
    [InlineData("a.gpx", "", "maps.no_xml", null)]
    [InlineData("a.kml", "<kml>\n<Placemark><Point><coordinates>a,b</coordinates></Point></Placemark></kml>", "maps.no_place", 2)]
    [InlineData("a.kml", "<kml><Placemark>\n<Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>", "maps.bad_ring", 2)]
    [InlineData("a.geojson", "{\n\"type\": \"FeatureCollection\",\n", "maps.no_json", 3)]
    [InlineData("a.geojson", "[]", "maps.no_geojson", null)]
    [InlineData("a.geojson", """{"type":"Topology","objects":{}}""", "maps.bad_geometry", null)]
    [InlineData("a.geojson", """{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::26914"}},"features":[]}""", "maps.other_system", null)]
    [InlineData("a.geojson", """{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[512345.6,3412345.6]}}]}""", "maps.bad_geometry", null)]
    [InlineData("a.kmz", "PK", "maps.bad_zip", null)]
    [InlineData("a.shp", "no shapefile", "maps.no_shapefile", null)]
    public void What_is_wrong_is_told_with_its_line(string name, string text, string key, int? line)
    {
        var problem = Stop(Read(name, Encoding.UTF8.GetBytes(text)));
        Assert.Equal(key, problem.What.Key);
        Assert.Equal(name, problem.Place.File);
        if (line is not null) Assert.Equal(line, problem.Place.Line);
    }

    [Theory]
    [InlineData("PROJCS[\"NAD_1983_UTM_Zone_14N\",GEOGCS[\"GCS_North_American_1983\",DATUM[\"D_North_American_1983\"]]]", "maps.other_system", true)]
    [InlineData("GEOGCS[\"GCS_North_American_1927\",DATUM[\"D_North_American_1927\"]]", "maps.other_system", true)]
    [InlineData("GEOGCS[\"GCS_North_American_1983\",DATUM[\"D_North_American_1983\"]]", "maps.nad83", false)]
    [InlineData("GEOGCS[\"GCS_WGS_1984\",DATUM[\"D_WGS_1984\"]]", null, false)]
    [InlineData(null, "maps.no_projection", false)]
    public void A_projection_is_taken_noted_or_refused_by_name(string? prj, string? key, bool isStop)
    {
        var files = ShapefileWriter.Files(new MapDocument("", "", [new MapFeature("a", new MapPoint(new Land.Position(31, -99)), [])])).ToDictionary(f => f.Name, f => f.Bytes.ToArray());
        var reading = ShapefileReader.Read(files["points.shp"], files["points.dbf"], prj, "UTF-8", "points.shp");
        Assert.Equal(key, reading.Problems.FirstOrDefault()?.What.Key);
        Assert.Equal(isStop, reading.IsStopped);
        if (prj?.StartsWith("PROJCS", StringComparison.Ordinal) == true) Assert.Contains("NAD_1983_UTM_Zone_14N", Catalogue.English.Say(reading.Problems[0].What), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "Nandú")]
    [InlineData("1252", "Nandú")]
    [InlineData("ISO-8859-1", "Nandú")]
    [InlineData("ANSI 1252", "Nandú")]
    public void A_table_of_western_letters_is_read_as_such(string page, string expected)
    {
        var files = ShapefileWriter.Files(new MapDocument("", "", [new MapFeature("NandXX", new MapPoint(new Land.Position(31, -99)), [])])).ToDictionary(f => f.Name, f => f.Bytes.ToArray());
        var table = files["points.dbf"];
        var at = table.AsSpan().IndexOf("NandXX"u8);
        (table[at + 4], table[at + 5]) = (0xFA, (byte)' ');
        Assert.Equal(expected, Assert.Single(ShapefileReader.Read(files["points.shp"], table, ShapefileWriter.Wgs84, page, "points.shp").Features).Name);
    }

    [Fact]
    public void A_long_text_is_cut_at_the_end_of_a_letter_where_a_table_has_no_room()
    {
        var long1 = "x" + string.Concat(Enumerable.Repeat("é", 200));
        var files = ShapefileWriter.Files(new MapDocument("", "", [new MapFeature(long1, new MapPoint(new Land.Position(31, -99)), [])])).ToDictionary(f => f.Name, f => f.Bytes.ToArray());
        Assert.Equal(long1[..127], Assert.Single(ShapefileReader.Read(files["points.shp"], files["points.dbf"], ShapefileWriter.Wgs84, "UTF-8", "points.shp").Features).Name);
    }

    private MapReading Read(string name, byte[] bytes)
    {
        File.WriteAllBytes(scratch.At(name), bytes);
        return Told(MapFiles.Read(scratch.At(name)));
    }

    private static MapReading Told(MapReading reading)
    {
        foreach (var problem in reading.Problems) Assert.NotEmpty(Catalogue.English.Say(problem.What) + Catalogue.English.Say(problem.ToDo));
        return reading;
    }

    private static Problem Stop(MapReading reading) => reading.Problems.First(p => p.Severity == Severity.Stop);

    private static List<(string Name, byte[] Bytes)> Files(MapDocument map, string form)
    {
        var shapes = ShapefileWriter.Files(map).Where(f => f.Name != "README.txt").ToArray();
        var set = shapes.Where(f => f.Name.Split('.')[0] == shapes[0].Name.Split('.')[0]).ToArray();
        return form switch
        {
            "gpx" => [("fuzz.gpx", Written(s => GpxWriter.Write(map, s)))],
            "kml" => [("fuzz.kml", Written(s => KmlWriter.Write(map, s)))],
            "geojson" => [("fuzz.geojson", Written(s => GeoJsonWriter.Write(map, s)))],
            "kmz" => [("fuzz.kmz", Zip(("doc.kml", s => KmlWriter.Write(map, s))))],
            "zip" => [("fuzz.zip", Zip([.. set.Select(f => (f.Name, (Action<Stream>)(s => s.Write(f.Bytes.Span))))]))],
            _ => [.. set.Select(f => ("fuzz." + f.Name.Split('.')[1], f.Bytes.ToArray()))],
        };
    }

    private static byte[] Changed(byte[] bytes, Random random)
    {
        for (var n = random.Next(1, 6); n > 0; n--)
        {
            var at = random.Next(bytes.Length + 1);
            var to = Math.Min(bytes.Length, at + random.Next(1, 30));
            var other = random.Next(bytes.Length + 1);
            bytes = random.Next(6) switch
            {
                0 => bytes[..at],
                1 => [.. bytes[..at], .. bytes[to..]],
                2 => [.. bytes[..at], .. Encoding.UTF8.GetBytes(Bits[random.Next(Bits.Length)]), .. bytes[at..]],
                3 => [.. bytes[..at], .. bytes[Math.Min(other, at)..at], .. bytes[at..]],
                _ when bytes.Length > 0 => Set(bytes, random.Next(bytes.Length), (byte)random.Next(256)),
                _ => bytes,
            };
        }

        return bytes;
    }

    private static byte[] Set(byte[] bytes, int at, byte value)
    {
        var changed = (byte[])bytes.Clone();
        changed[at] = value;
        return changed;
    }

    private static byte[] Zip(params (string Name, Action<Stream> Write)[] files)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, write) in files)
            {
                using var entry = zip.CreateEntry(name).Open();
                write(entry);
            }
        }

        return stream.ToArray();
    }

    private static byte[] Written(Action<Stream> write)
    {
        using var stream = new MemoryStream();
        write(stream);
        return stream.ToArray();
    }

    private static int Setting(string name, int usual) => int.TryParse(Environment.GetEnvironmentVariable(name), CultureInfo.InvariantCulture, out var n) ? n : usual;
}
