using System.Text.Json;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Actions;

/// <summary>Writes a before–after–control contrast as one object of JSON.</summary>
public static class ActionDocument
{
    /// <summary>Writes the object's keys and values, braces included.</summary>
    /// <param name="writer">Stands where an object may stand.</param>
    /// <param name="contrast">The contrast.</param>
    /// <param name="words">The language of sentences.</param>
    public static void Write(Utf8JsonWriter writer, BeforeAfterControl contrast, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(contrast);
        var json = new JsonText(writer, words);
        writer.WriteStartObject();
        writer.WriteString("kind", contrast.Kind);
        Lands(writer, "treated", contrast.Treated);
        Lands(writer, "untreated", contrast.Untreated);
        writer.WriteStartArray("years");
        foreach (var year in contrast.Years) writer.WriteStringValue(year);
        writer.WriteEndArray();
        Said(json, "first", contrast.First);
        json.Estimate("effect", contrast.Effect);
        json.Estimate("hazard_ratio", contrast.HazardRatio);
        json.Answer("chance_raised", contrast.ChanceRaised);
        Placebo(json, contrast.Placebo);
        json.Estimate("changes", contrast.Changes);
        Said(json, "must_hold", contrast.MustHold);
        Said(json, "cautions", contrast.Cautions);
        writer.WriteEndObject();
    }

    /// <summary>Where there is no contrast: the kind, and why.</summary>
    public static void WriteNone(Utf8JsonWriter writer, string kind, Phrase why, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteStartObject();
        writer.WriteString("kind", kind);
        writer.WriteNull("effect");
        writer.WriteString("why", Sentences.Sentence(words.Say(why)));
        writer.WriteEndObject();
    }

    private static void Lands(Utf8JsonWriter writer, string name, IEnumerable<ActionLand> lands)
    {
        writer.WriteStartArray(name);
        foreach (var land in lands) Land(writer, land);
        writer.WriteEndArray();
    }

    private static void Land(Utf8JsonWriter writer, ActionLand land)
    {
        writer.WriteStartObject();
        writer.WriteString("property", land.Property);
        writer.WriteString("pasture", land.Pasture);
        if (land.IsLines) writer.WriteBoolean("lines_only", true);
        if (land.FromYear is { } year) writer.WriteString("from_year", year);
        writer.WriteEndObject();
    }

    private static void Placebo(JsonText json, ActionPlacebo placebo)
    {
        var writer = json.Writer;
        writer.WriteStartObject("placebo");
        writer.WriteNumber("runs", placebo.Runs);
        writer.WriteBoolean("drawn", placebo.IsDrawn);
        writer.WriteNumber("as_large", placebo.AsLarge);
        json.Answer("p", placebo.P);
        writer.WriteNumber("smallest_p", placebo.SmallestP);
        json.Number("real", placebo.Real);
        writer.WriteStartArray("each");
        foreach (var run in placebo.Each)
        {
            writer.WriteStartObject();
            writer.WriteStartArray("as_if");
            foreach (var land in run.Lands) writer.WriteStringValue(land.Property + ", " + land.Pasture);
            writer.WriteEndArray();
            json.Number("hazard_ratio", run.HazardRatio);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteStartArray("earlier");
        foreach (var (year, ratio) in placebo.Earlier)
        {
            writer.WriteStartObject();
            writer.WriteString("from_year", year);
            json.Estimate("hazard_ratio", ratio);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static void Said(JsonText json, string name, IEnumerable<Phrase> said)
    {
        json.Writer.WriteStartArray(name);
        foreach (var phrase in said) json.Writer.WriteStringValue(Sentences.Sentence(json.Say(phrase)));
        json.Writer.WriteEndArray();
    }
}
