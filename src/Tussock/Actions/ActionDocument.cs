using System.Buffers;
using System.Text.Json;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Actions;

/// <summary>Writes whether an action worked as the JSON document <c>compare/1</c>. Same answer, same bytes, but for <c>made_with.at</c>.</summary>
public static class ActionDocument
{
    /// <summary>Writes the document.</summary>
    /// <param name="kind">Kind of the action that was asked for.</param>
    /// <param name="found">The contrast, or why there is none.</param>
    /// <param name="made">What it was made with.</param>
    /// <param name="words">The language of sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(string kind, Answer<BeforeAfterControl> found, MadeWith made, Catalogue words, IBufferWriter<byte> target)
    {
        ArgumentNullException.ThrowIfNull(made);
        using var writer = new Utf8JsonWriter(target, JsonText.Options);
        var json = new JsonText(writer, words);
        json.Item(() =>
        {
            writer.WriteString("contract", "compare/1");
            json.Object("action", () =>
            {
                writer.WriteString("kind", kind);
                if (found.HasValue)
                {
                    Contrast(json, found.Value);
                    return;
                }

                writer.WriteNull("effect");
                writer.WriteString("why", json.Sentence(found.Why));
            });
            json.Made(made);
        });
    }

    private static void Contrast(JsonText json, BeforeAfterControl contrast)
    {
        Lands(json, "treated", contrast.Treated);
        Lands(json, "untreated", contrast.Untreated);
        json.Array("years", contrast.Years, json.Writer.WriteStringValue);
        json.Sentences("first", contrast.First);
        json.Estimate("effect", contrast.Effect);
        json.Estimate("hazard_ratio", contrast.HazardRatio);
        json.Answer("chance_raised", contrast.ChanceRaised);
        json.Object("placebo", () => Placebo(json, contrast.Placebo));
        json.Estimate("changes", contrast.Changes);
        json.Sentences("must_hold", contrast.MustHold);
        json.Sentences("cautions", contrast.Cautions);
    }

    private static void Lands(JsonText json, string name, IEnumerable<ActionLand> lands) => json.Array(name, lands, land => json.Item(() =>
    {
        json.Writer.WriteString("property", land.Property);
        json.Writer.WriteString("pasture", land.Pasture);
        if (land.IsLines) json.Writer.WriteBoolean("lines_only", true);
        if (land.FromYear is { } year) json.Writer.WriteString("from_year", year);
    }));

    private static void Placebo(JsonText json, ActionPlacebo placebo)
    {
        json.Writer.WriteNumber("runs", placebo.Runs);
        json.Writer.WriteBoolean("drawn", placebo.IsDrawn);
        json.Writer.WriteNumber("as_large", placebo.AsLarge);
        json.Answer("p", placebo.P);
        json.Writer.WriteNumber("smallest_p", placebo.SmallestP);
        json.Number("real", placebo.Real);
        json.Array("each", placebo.Each, run => json.Item(() =>
        {
            json.Array("as_if", run.Lands, land => json.Writer.WriteStringValue(land.Property + ", " + land.Pasture));
            json.Number("hazard_ratio", run.HazardRatio);
        }));
        json.Array("earlier", placebo.Earlier, start => json.Item(() =>
        {
            json.Writer.WriteString("from_year", start.Item1);
            json.Estimate("hazard_ratio", start.Item2);
        }));
    }
}
