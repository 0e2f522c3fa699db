using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Tussock.Journal;

/// <summary>JSON as the journal keeps it: lists of names, and any value without blanks between its parts.</summary>
internal static class NameList
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal static string Text(IEnumerable<string> names) => Written(writer =>
    {
        writer.WriteStartArray();
        foreach (var name in names) writer.WriteStringValue(name);
        writer.WriteEndArray();
    });

    internal static ImmutableArray<string> Read(string text)
    {
        if (text.Length == 0) return [];
        using var json = JsonDocument.Parse(text);
        return [.. json.RootElement.EnumerateArray().Select(e => e.GetString() ?? "")];
    }

    /// <summary>A JSON value in one spelling: no blanks between its parts, text escaped only where it must be.</summary>
    internal static string Plain(string json)
    {
        using var value = JsonDocument.Parse(json);
        return Written(value.RootElement.WriteTo);
    }

    /// <summary>A list of JSON values, each in one spelling.</summary>
    internal static string Values(IEnumerable<string> json) => "[" + string.Join(',', json.Select(Plain)) + "]";

    internal static ImmutableArray<string> ReadValues(string text)
    {
        if (text.Length == 0) return [];
        using var json = JsonDocument.Parse(text);
        return [.. json.RootElement.EnumerateArray().Select(e => e.GetRawText())];
    }

    private static string Written(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Options)) write(writer);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
