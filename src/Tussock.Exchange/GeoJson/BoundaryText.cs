using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Tussock.Exchange.Places;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.GeoJson;

/// <summary>The text of <c>pastures.geojson</c>: boundaries read as areas with their holes, and put in without touching what else stands there.</summary>
public static class BoundaryText
{
    /// <summary>File of a season folder that holds the boundaries.</summary>
    public const string File = SeasonBoundaries.File;

    /// <summary>The areas by property and pasture; several features of one pasture are its pieces. Empty when the text is no GeoJSON.</summary>
    public static Dictionary<(string Property, string Pasture), MapArea> Read(string text) =>
        GeoJsonReader.Read(Encoding.UTF8.GetBytes(text), File).Features.Where(f => f.Shape is MapArea)
            .GroupBy(f => (f.Field("property"), f.Field("pasture")))
            .ToDictionary(g => g.Key, g => new MapArea([.. g.SelectMany(f => ((MapArea)f.Shape).Pieces)]));

    /// <summary>The area of rings of which nobody says what is a hole: a ring inside an odd number of others is one.</summary>
    /// <param name="rings">Rings of three corners or more, in any direction, closed or not.</param>
    public static MapArea FromRings(IEnumerable<ImmutableArray<Position>> rings) => new(Rings.Assembled([.. rings.Select(r => Rings.Closed(r)).OfType<ImmutableArray<Position>>()]));

    /// <summary>The text with other boundaries for some pastures: their first feature gets the new shape and keeps its other values, further ones go, the rest stays as it is.</summary>
    /// <param name="text">The text; null where there is none yet.</param>
    /// <param name="areas">New boundaries by property and pasture.</param>
    /// <returns>The new text; null when the old one is no feature collection.</returns>
    public static string? With(string? text, IReadOnlyDictionary<(string Property, string Pasture), MapArea> areas)
    {
        try
        {
            using var old = JsonDocument.Parse(text ?? """{"type":"FeatureCollection","features":[]}""");
            if (old.RootElement.ValueKind != JsonValueKind.Object || !old.RootElement.TryGetProperty("features", out var features) || features.ValueKind != JsonValueKind.Array) return null;
            var left = areas.ToDictionary();
            var lines = new List<string>();
            foreach (var feature in features.EnumerateArray())
            {
                if (Key(feature) is not { } key || !areas.ContainsKey(key)) lines.Add(feature.GetRawText());
                else if (left.Remove(key, out var area)) lines.Add(GeoJsonWriter.Text(w => WriteChanged(w, feature, area)));
            }

            lines.AddRange(left.OrderBy(a => a.Key.Property, StringComparer.Ordinal).ThenBy(a => a.Key.Pasture, StringComparer.Ordinal).Select(a => GeoJsonWriter.Text(w => WriteNew(w, a.Key, a.Value))));
            var head = GeoJsonWriter.Text(w => WriteHead(w, old.RootElement));
            return head[..^1] + ",\"features\":[\n" + string.Join(",\n", lines) + "\n]}\n";
        }
        catch (Exception wrong) when (wrong is JsonException or InvalidOperationException)
        {
            // A text that is no JSON, or holds half a character, is told by whoever asked; nothing is put into it.
            return null;
        }
    }

    private static (string Property, string Pasture)? Key(JsonElement feature) =>
        feature.ValueKind == JsonValueKind.Object && feature.TryGetProperty("properties", out var values) && values.ValueKind == JsonValueKind.Object
        && values.TryGetProperty("property", out var property) && property.ValueKind == JsonValueKind.String && values.TryGetProperty("pasture", out var pasture) && pasture.ValueKind == JsonValueKind.String
            ? (property.GetString()!.Trim(), pasture.GetString()!.Trim())
            : null;

    private static void WriteHead(Utf8JsonWriter w, JsonElement root)
    {
        w.WriteStartObject();
        w.WriteString("type", "FeatureCollection");
        foreach (var member in root.EnumerateObject()) if (member.Name is not ("type" or "features")) member.WriteTo(w);
        w.WriteEndObject();
    }

    private static void WriteChanged(Utf8JsonWriter w, JsonElement feature, MapArea area)
    {
        w.WriteStartObject();
        foreach (var member in feature.EnumerateObject())
        {
            if (member.Name == "geometry") GeoJsonWriter.WriteGeometry(w, area);
            else if (member.Name != "bbox") member.WriteTo(w);
        }

        if (!feature.TryGetProperty("geometry", out _)) GeoJsonWriter.WriteGeometry(w, area);
        w.WriteEndObject();
    }

    private static void WriteNew(Utf8JsonWriter w, (string Property, string Pasture) key, MapArea area)
    {
        w.WriteStartObject();
        w.WriteString("type", "Feature");
        w.WriteStartObject("properties");
        w.WriteString("property", key.Property);
        w.WriteString("pasture", key.Pasture);
        w.WriteEndObject();
        GeoJsonWriter.WriteGeometry(w, area);
        w.WriteEndObject();
    }
}
