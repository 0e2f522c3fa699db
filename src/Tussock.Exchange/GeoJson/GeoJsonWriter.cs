using System.Buffers;
using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Exchange.Places;
using Tussock.Land;

namespace Tussock.Exchange.GeoJson;

/// <summary>Writes a map as GeoJSON: a feature collection, a feature a line of text, values as properties beside <c>name</c>.</summary>
/// <remarks>What the map says about itself stands in the foreign members <c>title</c> and <c>description</c>. Lines are cut at the date line; areas are cut when they are read.</remarks>
/// <source>RFC 7946: longitude before latitude (3.1.1), rings closed and turned (3.1.6), the date line (3.1.9), WGS 84 and no crs member (4), foreign members (6.1).</source>
public static class GeoJsonWriter
{
    private static readonly JsonWriterOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes the map.</summary>
    public static void Write(MapDocument map, Stream stream)
    {
        using var writer = new StreamWriter(stream, new System.Text.UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" };
        writer.WriteLine("{\"type\":\"FeatureCollection\",\"title\":" + Text(map.Name) + ",\"description\":" + Text(map.Description) + ",\"features\":[");
        for (var i = 0; i < map.Features.Length; i++) writer.WriteLine(Text(w => WriteFeature(w, map.Features[i])) + (i + 1 < map.Features.Length ? "," : ""));
        writer.WriteLine("]}");
    }

    /// <summary>A piece of JSON as text.</summary>
    internal static string Text(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Plain)) write(writer);
        return System.Text.Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    /// <summary>Writes <c>geometry</c> and its shape.</summary>
    internal static void WriteGeometry(Utf8JsonWriter w, MapShape shape)
    {
        w.WriteStartObject("geometry");
        switch (shape)
        {
            case MapPoint point:
                w.WriteString("type", "Point");
                w.WritePropertyName("coordinates");
                WritePlace(w, point.At);
                break;
            case MapLine line when DateLine.Crosses(line.Points):
                WriteNested(w, "MultiLineString", DateLine.Cut(line.Points), WritePlaces);
                break;
            case MapLine line:
                w.WriteString("type", "LineString");
                w.WritePropertyName("coordinates");
                WritePlaces(w, line.Points);
                break;
            case MapArea { Pieces.Length: 1 } area:
                WriteNested(w, "Polygon", area.Pieces[0].Rings, WritePlaces);
                break;
            case MapArea area:
                WriteNested(w, "MultiPolygon", area.Pieces, (x, piece) => WriteList(x, piece.Rings, WritePlaces));
                break;
        }

        w.WriteEndObject();
    }

    private static string Text(string text) => Text(w => w.WriteStringValue(Whole(text)));

    /// <summary>The text without half characters, which JSON can't hold.</summary>
    private static string Whole(string text) => System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(text));

    private static void WriteFeature(Utf8JsonWriter w, MapFeature feature)
    {
        w.WriteStartObject();
        w.WriteString("type", "Feature");
        w.WriteStartObject("properties");
        if (feature.Name.Length > 0) w.WriteString("name", Whole(feature.Name));
        foreach (var field in feature.Fields) w.WriteString(Whole(field.Name), Whole(field.Text));
        w.WriteEndObject();
        WriteGeometry(w, feature.Shape);
        w.WriteEndObject();
    }

    private static void WriteNested<T>(Utf8JsonWriter w, string type, IEnumerable<T> parts, Action<Utf8JsonWriter, T> write)
    {
        w.WriteString("type", type);
        w.WritePropertyName("coordinates");
        WriteList(w, parts, write);
    }

    private static void WriteList<T>(Utf8JsonWriter w, IEnumerable<T> parts, Action<Utf8JsonWriter, T> write)
    {
        w.WriteStartArray();
        foreach (var part in parts) write(w, part);
        w.WriteEndArray();
    }

    private static void WritePlaces(Utf8JsonWriter w, ImmutableArray<Position> places) => WriteList(w, places, WritePlace);

    private static void WritePlace(Utf8JsonWriter w, Position at)
    {
        w.WriteStartArray();
        w.WriteNumberValue(at.Longitude);
        w.WriteNumberValue(at.Latitude);
        w.WriteEndArray();
    }
}
