using System.Collections.Immutable;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Tussock.Records;

/// <summary>A named JSON value as text: one property of an object whose order is kept.</summary>
/// <param name="Name">Property name.</param>
/// <param name="Json">Its value as JSON text.</param>
public readonly record struct JsonProperty(string Name, string Json);

/// <summary>The description of a season folder (<c>datapackage.json</c>), property by property, nothing lost and nothing reordered.</summary>
/// <param name="Package">Properties of the package other than <c>season</c> and <c>resources</c>.</param>
/// <param name="Season">Properties of the <c>season</c> object.</param>
/// <param name="Resources">One JSON object a resource, as text.</param>
public sealed record SeasonPackage(ImmutableArray<JsonProperty> Package, ImmutableArray<JsonProperty> Season, ImmutableArray<string> Resources)
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Reads the text of a <c>datapackage.json</c>.</summary>
    /// <exception cref="JsonException">The text is no JSON object; the message has the line.</exception>
    public static SeasonPackage Parse(string text)
    {
        using var json = JsonDocument.Parse(text, new JsonDocumentOptions { MaxDepth = 32 });
        var root = json.RootElement;
        if (root.ValueKind != JsonValueKind.Object) throw new JsonException("The description must be a JSON object");
        var package = ImmutableArray.CreateBuilder<JsonProperty>();
        var season = ImmutableArray<JsonProperty>.Empty;
        var resources = ImmutableArray<string>.Empty;
        foreach (var property in root.EnumerateObject())
        {
            if (property.Name == "season" && property.Value.ValueKind == JsonValueKind.Object) season = [.. property.Value.EnumerateObject().Select(p => new JsonProperty(p.Name, p.Value.GetRawText()))];
            else if (property.Name == "resources" && property.Value.ValueKind == JsonValueKind.Array) resources = [.. property.Value.EnumerateArray().Select(r => r.GetRawText())];
            else package.Add(new JsonProperty(property.Name, property.Value.GetRawText()));
        }

        return new SeasonPackage(package.ToImmutable(), season, resources);
    }

    /// <summary>The JSON text of one season property; null when it is not there.</summary>
    public string? SeasonJson(string name)
    {
        foreach (var property in Season) if (property.Name == name) return property.Json;
        return null;
    }

    /// <summary>The text of the description: package properties, then <c>season</c>, then <c>resources</c>, indented, with line feeds.</summary>
    public string ToText()
    {
        var buffer = new System.Buffers.ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Indented))
        {
            writer.WriteStartObject();
            foreach (var property in Package) WriteProperty(writer, property);
            writer.WriteStartObject("season");
            foreach (var property in Season) WriteProperty(writer, property);
            writer.WriteEndObject();
            writer.WriteStartArray("resources");
            foreach (var resource in Resources) WriteValue(writer, resource);
            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }

    private static void WriteProperty(Utf8JsonWriter writer, JsonProperty property)
    {
        writer.WritePropertyName(property.Name);
        WriteValue(writer, property.Json);
    }

    private static void WriteValue(Utf8JsonWriter writer, string json)
    {
        using var value = JsonDocument.Parse(json);
        value.RootElement.WriteTo(writer);
    }
}
