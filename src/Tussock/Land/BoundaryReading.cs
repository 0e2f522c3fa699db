using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Land;

/// <summary>Reads the boundaries of pastures from GeoJSON.</summary>
public static class BoundaryReading
{
    /// <summary>Boundaries by property and pasture.</summary>
    /// <param name="geoJson">A feature collection of polygons and multipolygons (RFC 7946: longitude first) with the properties <c>property</c> and <c>pasture</c>.</param>
    /// <returns>The boundaries; features without both names or without a polygon are passed over, several features of one pasture are its pieces. A reason when the text is no GeoJSON of this shape.</returns>
    public static Answer<FrozenDictionary<(string Property, string Pasture), Boundary>> Read(string geoJson)
    {
        var rings = new Dictionary<(string Property, string Pasture), List<ImmutableArray<Position>>>();
        try
        {
            using var json = JsonDocument.Parse(geoJson);
            if (Member(json.RootElement, "features") is not { ValueKind: JsonValueKind.Array } features) return NoAnswer.Because("boundaries.no_features");
            foreach (var feature in features.EnumerateArray()) ReadFeature(feature, rings);
        }
        catch (JsonException wrong)
        {
            // Text from people: what can't be parsed is a finding, not a fault of the program.
            return NoAnswer.Because("boundaries.no_json", ("line", (wrong.LineNumber ?? 0) + 1));
        }

        return rings.Where(r => r.Value.Count > 0).ToFrozenDictionary(r => r.Key, r => new Boundary([.. r.Value]));
    }

    private static void ReadFeature(JsonElement feature, Dictionary<(string Property, string Pasture), List<ImmutableArray<Position>>> rings)
    {
        if (Member(feature, "properties") is not { } names || Text(names, "property") is not { } property || Text(names, "pasture") is not { } pasture) return;
        if (Member(feature, "geometry") is not { } geometry || Member(geometry, "coordinates") is not { ValueKind: JsonValueKind.Array } coordinates) return;
        if (!rings.TryGetValue((property, pasture), out var list)) rings.Add((property, pasture), list = []);
        var type = Text(geometry, "type");
        if (type == "Polygon") ReadPolygon(coordinates, list);
        else if (type == "MultiPolygon") foreach (var polygon in coordinates.EnumerateArray()) ReadPolygon(polygon, list);
    }

    private static void ReadPolygon(JsonElement polygon, List<ImmutableArray<Position>> rings)
    {
        if (polygon.ValueKind != JsonValueKind.Array) return;
        foreach (var ring in polygon.EnumerateArray())
        {
            if (ring.ValueKind != JsonValueKind.Array) continue;
            var corners = ImmutableArray.CreateBuilder<Position>();
            foreach (var corner in ring.EnumerateArray()) if (Corner(corner) is { } place) corners.Add(place);
            if (corners.Count >= 3) rings.Add(corners.ToImmutable());
        }
    }

    private static Position? Corner(JsonElement corner) =>
        corner.ValueKind == JsonValueKind.Array && corner.GetArrayLength() >= 2 && Degrees(corner[0]) is { } longitude && Degrees(corner[1]) is { } latitude
            ? new Position(latitude, longitude)
            : null;

    private static double? Degrees(JsonElement number) => number.ValueKind == JsonValueKind.Number && number.TryGetDouble(out var x) && double.IsFinite(x) ? x : null;

    private static JsonElement? Member(JsonElement of, string name) => of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var member) ? member : null;

    private static string? Text(JsonElement of, string name) => Member(of, name) is { ValueKind: JsonValueKind.String } text ? text.GetString() : null;
}
