using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Exchange.Places;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.GeoJson;

/// <summary>Reads GeoJSON: feature collections, single features, bare geometries. Only WGS 84; the member <c>crs</c> of older files is read so that another system is refused, not mistaken.</summary>
public static class GeoJsonReader
{
    private static readonly string[] Wgs84 = ["urn:ogc:def:crs:OGC:1.3:CRS84", "urn:ogc:def:crs:OGC::CRS84", "urn:ogc:def:crs:EPSG::4326", "EPSG:4326"];

    /// <summary>Reads a file.</summary>
    /// <param name="utf8">Its bytes.</param>
    /// <param name="file">Its name, for what is told.</param>
    public static MapReading Read(ReadOnlyMemory<byte> utf8, string file)
    {
        var findings = new MapFindings(file);
        try
        {
            if (utf8.Span.StartsWith("\uFEFF"u8)) utf8 = utf8[3..];
            using var json = JsonDocument.Parse(utf8, new JsonDocumentOptions { MaxDepth = 64 });
            ReadRoot(json.RootElement, findings);
        }
        catch (JsonException wrong)
        {
            // Text from strangers: what is no JSON is told with its line.
            findings.Stop(findings.At((int)Math.Min((wrong.LineNumber ?? 0) + 1, int.MaxValue)), Phrase.Of("maps.no_json"), Phrase.Of("maps.no_json_todo"));
        }
        catch (InvalidOperationException)
        {
            // A text inside is half a character or not UTF-8: only found when that text is asked for.
            findings.Stop(null, Phrase.Of("maps.no_json"), Phrase.Of("maps.no_json_todo"));
        }

        return findings.Reading();
    }

    private static void ReadRoot(JsonElement root, MapFindings findings)
    {
        var type = Text(root, "type");
        if (type is null || (type == "FeatureCollection" && Member(root, "features") is not { ValueKind: JsonValueKind.Array }))
        {
            findings.Stop(null, Phrase.Of("maps.no_geojson"), Phrase.Of("maps.no_geojson_todo"));
        }
        else if (Member(root, "crs") is { ValueKind: JsonValueKind.Object } crs && (Member(crs, "properties") is not { } named || !Wgs84.Contains(Text(named, "name"), StringComparer.OrdinalIgnoreCase)))
        {
            findings.Stop(findings.At(null, "crs"), Phrase.Of("maps.other_system", ("found", TableCheck.Shown(Member(crs, "properties") is { } p ? Text(p, "name") ?? "crs" : "crs"))), Phrase.Of("maps.other_system_todo"));
        }
        else if (type == "FeatureCollection")
        {
            var number = 0;
            foreach (var feature in root.GetProperty("features").EnumerateArray())
            {
                if (findings.IsFull) return;
                ReadFeature(feature, ++number, findings);
            }
        }
        else
        {
            ReadFeature(root, 1, findings);
        }
    }

    private static void ReadFeature(JsonElement feature, int number, MapFindings findings)
    {
        var at = findings.At(null, "feature " + Words.Numbers.Whole(number));
        var fields = ImmutableArray.CreateBuilder<MapField>();
        var name = "";
        if (Member(feature, "properties") is { ValueKind: JsonValueKind.Object } properties)
        {
            foreach (var property in properties.EnumerateObject())
            {
                if (property.Value.ValueKind is not (JsonValueKind.String or JsonValueKind.Number or JsonValueKind.True or JsonValueKind.False)) continue;
                if (string.Equals(property.Name, "name", StringComparison.OrdinalIgnoreCase) && name.Length == 0) name = property.Value.ToString();
                else fields.Add(new MapField(property.Name, property.Value.ToString()));
            }
        }

        var geometry = Text(feature, "type") == "Feature" ? Member(feature, "geometry") : feature;
        if (geometry is { ValueKind: JsonValueKind.Object } shape) new Geometry(name, fields.ToImmutable(), at, findings).Read(shape);
        else if (geometry is not { ValueKind: JsonValueKind.Null }) Broken(at, findings);
    }

    private static JsonElement? Member(JsonElement of, string name) => of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var member) ? member : null;

    private static string? Text(JsonElement of, string name) => Member(of, name) is { ValueKind: JsonValueKind.String } text ? text.GetString() : null;

    private static void Broken(Place at, MapFindings findings) => findings.Stop(at, Phrase.Of("maps.bad_geometry"), Phrase.Of("maps.bad_geometry_todo"));

    /// <summary>One geometry and those inside it.</summary>
    private sealed class Geometry(string name, ImmutableArray<MapField> fields, Place at, MapFindings findings)
    {
        internal void Read(JsonElement shape)
        {
            var type = Text(shape, "type");
            if (type == "GeometryCollection" && Member(shape, "geometries") is { ValueKind: JsonValueKind.Array } inner)
            {
                foreach (var one in inner.EnumerateArray()) Read(one);
                return;
            }

            if (Member(shape, "coordinates") is not { ValueKind: JsonValueKind.Array } coordinates || !Read(type, coordinates)) Broken(at, findings);
        }

        private bool Read(string? type, JsonElement coordinates) => type switch
        {
            "Point" => Point(coordinates),
            "MultiPoint" => coordinates.EnumerateArray().All(Point),
            "LineString" => Line(coordinates),
            "MultiLineString" => coordinates.EnumerateArray().All(Line),
            "Polygon" => Area([coordinates]),
            "MultiPolygon" => Area(coordinates.EnumerateArray()),
            _ => false,
        };

        // A point without coordinates is an empty geometry, which the standard lets a reader take for none.
        private bool Point(JsonElement coordinates) => coordinates.ValueKind == JsonValueKind.Array && (coordinates.GetArrayLength() == 0 || (Place(coordinates) is { } place && Add(new MapPoint(place))));

        private bool Line(JsonElement coordinates) => Places(coordinates) is { Length: > 1 } line && Add(new MapLine(line));

        private bool Area(IEnumerable<JsonElement> polygons)
        {
            var pieces = new List<MapPolygon>();
            foreach (var polygon in polygons)
            {
                if (polygon.ValueKind != JsonValueKind.Array) return false;
                var rings = polygon.EnumerateArray().Select(r => Places(r) is { } places ? Rings.Closed(places) : null).ToArray();
                if (rings.Contains(null)) return false;
                if (rings.Length > 0) pieces.AddRange(Rings.Polygon(rings[0]!.Value, rings.Skip(1).OfType<ImmutableArray<Position>>()));
            }

            return pieces.Count == 0 || Add(new MapArea([.. pieces]));
        }

        private bool Add(MapShape shape)
        {
            findings.Add(new MapFeature(name, shape, fields) { From = at });
            return true;
        }

        private static ImmutableArray<Position>? Places(JsonElement list)
        {
            if (list.ValueKind != JsonValueKind.Array) return null;
            var places = ImmutableArray.CreateBuilder<Position>(list.GetArrayLength());
            foreach (var one in list.EnumerateArray())
            {
                if (Place(one) is not { } place) return null;
                places.Add(place);
            }

            return places.ToImmutable();
        }

        private static Position? Place(JsonElement pair) =>
            pair.ValueKind == JsonValueKind.Array && pair.GetArrayLength() >= 2 && Degrees(pair[0], 180) is { } longitude && Degrees(pair[1], 90) is { } latitude ? new Position(latitude, longitude) : null;

        private static double? Degrees(JsonElement number, double most) => number.ValueKind == JsonValueKind.Number && number.TryGetDouble(out var x) && Math.Abs(x) <= most ? x : null;
    }
}
