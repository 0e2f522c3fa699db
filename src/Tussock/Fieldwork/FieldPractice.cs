using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Evidence.Practice;

namespace Tussock.Fieldwork;

/// <summary>The season's cases to practise reading remains on, as a phone takes them along. Pictures and names of signs stand once, among the signs.</summary>
internal static class FieldPractice
{
    internal static void Write(Utf8JsonWriter w, Guid season, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        var seed = SeedOf(season);
        var set = PracticeSet.Of(seed);
        w.WriteStartObject("practice");
        w.WriteString("set", seed.ToString("x16", CultureInfo.InvariantCulture));
        w.WriteStartArray("classes");
        for (var k = 0; k < set.Culprits.Length; k++)
        {
            w.WriteStartObject();
            w.WriteString("token", set.Culprits[k]);
            say(w, "name", Phrase.Of("signs.culprit." + set.Culprits[k]));
            w.WriteNumber("percent", set.Percents[k]);
            w.WriteEndObject();
        }

        w.WriteEndArray();
        w.WriteStartArray("cases");
        foreach (var one in set.Cases) Write(w, one, say);
        w.WriteEndArray();
        w.WriteEndObject();
    }

    /// <summary>The seed of a season's cases: the two halves of its id, one over the other.</summary>
    internal static ulong SeedOf(Guid season)
    {
        Span<byte> bytes = stackalloc byte[16];
        season.TryWriteBytes(bytes);
        return BinaryPrimitives.ReadUInt64LittleEndian(bytes) ^ BinaryPrimitives.ReadUInt64LittleEndian(bytes[8..]);
    }

    private static void Write(Utf8JsonWriter w, PracticeCase one, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        w.WriteStartObject();
        w.WriteStartArray("remains");
        foreach (var (sign, value) in one.Remains)
        {
            w.WriteStartArray();
            w.WriteStringValue(sign);
            w.WriteStringValue(value);
            w.WriteEndArray();
        }

        w.WriteEndArray();
        w.WriteNumber("truth", one.Truth);
        Numbers(w, "program", one.Percents);
        w.WriteStartArray("why");
        foreach (var reason in one.Why) say(w, null, reason);
        w.WriteEndArray();
        w.WriteEndObject();
    }

    private static void Numbers(Utf8JsonWriter w, string name, ImmutableArray<int> numbers)
    {
        w.WriteStartArray(name);
        foreach (var n in numbers) w.WriteNumberValue(n);
        w.WriteEndArray();
    }
}
