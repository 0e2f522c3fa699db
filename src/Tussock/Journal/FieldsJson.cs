using System.Buffers;
using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Tussock.Journal;

/// <summary>Fields as JSON text: <c>{"cover":{"value":"grass","replaces":["…"]}}</c> in a change, <c>{"cover":"grass"}</c> in a table. Keeps its buffer; not to be shared between threads.</summary>
public sealed class FieldsJson : IDisposable
{
    private const int LongestKept = 24;
    private const int MostKept = 20_000;
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, SkipValidation = true };
    private readonly ArrayBufferWriter<byte> buffer = new(1024);
    private readonly Utf8JsonWriter writer;
    private readonly Dictionary<string, string> names = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> byText;

    /// <summary>Makes a writer and reader.</summary>
    public FieldsJson()
    {
        writer = new Utf8JsonWriter(buffer, Options);
        byText = names.GetAlternateLookup<ReadOnlySpan<char>>();
    }

    /// <summary>A change's fields in order, as UTF-8 that stands until the next call; what it replaces is left out where it replaces nothing.</summary>
    public ReadOnlySpan<byte> Utf8(ImmutableArray<FieldChange> fields)
    {
        Start();
        foreach (var field in fields)
        {
            writer.WriteStartObject(field.Name);
            writer.WriteString("value", field.Value);
            if (!field.Replaces.IsDefaultOrEmpty)
            {
                writer.WriteStartArray("replaces");
                foreach (var id in field.Replaces) writer.WriteStringValue(id);
                writer.WriteEndArray();
            }

            writer.WriteEndObject();
        }

        return End();
    }

    /// <summary>A record's fields in order, as UTF-8 that stands until the next call.</summary>
    public ReadOnlySpan<byte> Utf8(ImmutableArray<FieldValue> fields)
    {
        Start();
        foreach (var field in fields) writer.WriteString(field.Name, field.Value);
        return End();
    }

    /// <summary>Reads a change's fields.</summary>
    /// <exception cref="JsonException">The text is something else.</exception>
    public static ImmutableArray<FieldChange> Changes(string text)
    {
        using var json = JsonDocument.Parse(text);
        var fields = ImmutableArray.CreateBuilder<FieldChange>();
        foreach (var field in json.RootElement.EnumerateObject())
        {
            ImmutableArray<Guid> replaces = field.Value.TryGetProperty("replaces", out var ids) ? [.. ids.EnumerateArray().Select(id => id.GetGuid())] : [];
            fields.Add(new FieldChange(field.Name, field.Value.GetProperty("value").GetString() ?? "", replaces));
        }

        return fields.ToImmutable();
    }

    /// <summary>Reads a record's fields; equal names, and equal short values, become one text in memory.</summary>
    /// <exception cref="JsonException">The text is something else.</exception>
    public ImmutableArray<FieldValue> Values(ReadOnlySpan<byte> utf8)
    {
        var reader = new Utf8JsonReader(utf8);
        var fields = ImmutableArray.CreateBuilder<FieldValue>(12);
        reader.Read();
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var name = Known(ref reader);
            reader.Read();
            fields.Add(new FieldValue(name, Known(ref reader)));
        }

        return fields.ToImmutable();
    }

    /// <inheritdoc/>
    public void Dispose() => writer.Dispose();

    private string Known(ref Utf8JsonReader reader)
    {
        if (reader.ValueIsEscaped || reader.ValueSpan.Length > LongestKept) return reader.GetString() ?? "";
        Span<char> text = stackalloc char[LongestKept];
        text = text[..reader.CopyString(text)];
        if (byText.TryGetValue(text, out var known)) return known;
        var made = text.ToString();
        if (names.Count < MostKept) names.Add(made, made);
        return made;
    }

    private void Start()
    {
        buffer.ResetWrittenCount();
        writer.Reset();
        writer.WriteStartObject();
    }

    private ReadOnlySpan<byte> End()
    {
        writer.WriteEndObject();
        writer.Flush();
        return buffer.WrittenSpan;
    }
}
