using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Evidence.Practice;

namespace Tussock.Fieldwork;

/// <summary>The season's cases to practise reading remains on, as a phone takes them along. Pictures and names of signs stand once, among the signs.</summary>
internal static class FieldPractice
{
    internal static void Write(Utf8JsonWriter w, Guid season, FieldCases fromHere, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        var seed = SeedOf(season);
        var set = PracticeSet.Of(seed);
        w.WriteStartObject("practice");
        w.WriteString("set", seed.ToString("x16", CultureInfo.InvariantCulture));
        w.WriteStartArray("classes");
        for (var k = 0; k < set.Culprits.Length; k++) Class(w, set.Culprits[k], set.Percents[k], say);

        w.WriteEndArray();
        w.WriteStartArray("cases");
        foreach (var one in set.Cases)
        {
            w.WriteStartObject();
            Write(w, one, say);
            w.WriteEndObject();
        }

        w.WriteEndArray();
        if (!fromHere.Cases.IsEmpty) FromHere(w, fromHere, say);
        w.WriteEndObject();
    }

    private static void FromHere(Utf8JsonWriter w, FieldCases fromHere, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        w.WriteStartObject("from_here");
        w.WriteString("set", fromHere.Set);
        w.WriteStartArray("classes");
        foreach (var culprit in SignCatalogue.Standard.Culprits) Class(w, culprit, null, say);
        w.WriteEndArray();
        w.WriteStartArray("cases");
        foreach (var (one, views) in fromHere.Cases)
        {
            w.WriteStartObject();
            w.WriteString("id", one.Id);
            w.WriteStartArray("views");
            foreach (var view in views) w.WriteStringValue(view);
            w.WriteEndArray();
            Write(w, one.Case, say);
            Numbers(w, "common", one.Common);
            w.WriteEndObject();
        }

        w.WriteEndArray();
        w.WriteEndObject();
    }

    private static void Class(Utf8JsonWriter w, string culprit, int? percent, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        w.WriteStartObject();
        w.WriteString("token", culprit);
        say(w, "name", Phrase.Of("signs.culprit." + culprit));
        if (percent is { } known) w.WriteNumber("percent", known);
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
    }

    private static void Numbers(Utf8JsonWriter w, string name, ImmutableArray<int> numbers)
    {
        w.WriteStartArray(name);
        foreach (var n in numbers) w.WriteNumberValue(n);
        w.WriteEndArray();
    }
}
