using System.Buffers;
using System.Text.Json;
using Tussock.Evidence;

namespace Tussock.Results;

/// <summary>Writes the catalogue of signs with its sources as the JSON document <c>sign-catalogue/1</c>.</summary>
public static class SignCatalogueDocument
{

    /// <summary>Writes the document.</summary>
    /// <param name="catalogue">The catalogue.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(SignCatalogue catalogue, IBufferWriter<byte> target)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        using var writer = new Utf8JsonWriter(target, JsonText.Options);
        writer.WriteStartObject();
        writer.WriteString("contract", "sign-catalogue/1");
        writer.WriteNumber("sign_weight", catalogue.SignWeight);
        writer.WriteNumber("culprit_weight", catalogue.CulpritWeight);
        writer.WriteNumber("not_on_the_list", catalogue.NotOnTheList);
        writer.WriteStartArray("culprits");
        foreach (var culprit in catalogue.Culprits) writer.WriteStringValue(culprit);
        writer.WriteEndArray();
        writer.WriteStartArray("signs");
        foreach (var sign in catalogue.Signs)
        {
            writer.WriteStartObject();
            writer.WriteString("sign", sign.Sign);
            writer.WriteString("kind", sign.Kind == SignKind.Choice ? "choice" : "number");
            writer.WriteString("group", sign.Group);
            writer.WriteStartArray("values");
            foreach (var value in sign.Values) writer.WriteStringValue(value);
            writer.WriteEndArray();
            writer.WriteString("source", sign.Source);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteStartArray("rules");
        foreach (var rule in catalogue.Rules)
        {
            writer.WriteStartObject();
            writer.WriteString("sign", rule.Sign);
            writer.WriteString("value", rule.Value);
            writer.WriteString("culprit", rule.Culprit);
            writer.WriteNumber("count", rule.Count);
            writer.WriteString("source", rule.Source);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }
}
