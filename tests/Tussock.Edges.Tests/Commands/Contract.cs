using System.Text.Json;

namespace Tussock.Edges.Tests.Commands;

/// <summary>Holds a document against its contract under <c>tests/corpus/contract</c>: every key is there, every number that can't be had says why. A key written with ? may be null without one.</summary>
internal static class Contract
{
    /// <summary>What breaks the contract, as paths; empty when nothing does.</summary>
    internal static IReadOnlyList<string> Breaches(JsonElement document, string contract = "results-1.json")
    {
        var breaches = new List<string>();
        Object(Typed.Json(File.ReadAllText(Path.Combine(Corpus.Folder("contract"), contract))), document, "", breaches);
        return breaches;
    }

    private static void Object(JsonElement expected, JsonElement found, string path, List<string> breaches)
    {
        foreach (var key in expected.EnumerateObject())
        {
            var name = key.Name.TrimEnd('?');
            if (!found.TryGetProperty(name, out var value)) breaches.Add(path + "/" + name + " is missing");
            else if (name == key.Name || value.ValueKind != JsonValueKind.Null) One(key.Value, value, IsWhy(found, name + "_why"), path + "/" + name, breaches);
        }
    }

    private static void One(JsonElement expected, JsonElement found, bool saysWhy, string path, List<string> breaches)
    {
        switch (expected.ValueKind)
        {
            case JsonValueKind.Object when found.ValueKind == JsonValueKind.Object:
                Object(expected, found, path, breaches);
                return;
            case JsonValueKind.Array when found.ValueKind == JsonValueKind.Array:
                var i = 0;
                foreach (var item in found.EnumerateArray()) One(expected[0], item, false, path + "/" + i++, breaches);
                return;
            case JsonValueKind.Object when found.ValueKind == JsonValueKind.Null && saysWhy:
                return;
        }

        if (expected.ValueKind != JsonValueKind.String || !Holds(expected.GetString()!, found, saysWhy)) breaches.Add(path + " is " + found.GetRawText());
    }

    private static bool Holds(string kind, JsonElement found, bool saysWhy) => kind switch
    {
        "text" => found.ValueKind == JsonValueKind.String,
        "text?" => found.ValueKind is JsonValueKind.String or JsonValueKind.Null,
        "count" => IsNumber(found),
        "day?" => found.ValueKind == JsonValueKind.Null || IsNumber(found),
        "number" => IsNumber(found) || (found.ValueKind == JsonValueKind.Null && saysWhy),
        "numbers" => found.ValueKind == JsonValueKind.Object && found.EnumerateObject().All(p => p.Value.ValueKind == JsonValueKind.String || IsNumber(p.Value) || IsWhy(found, p.Name + "_why")),
        "estimate" => IsEstimate(found),
        _ => false,
    };

    private static bool IsEstimate(JsonElement found) =>
        found.ValueKind == JsonValueKind.Object
        && new[] { "estimate", "low", "high", "level", "method", "se" }.All(k => found.TryGetProperty(k, out var value) && (k == "method" ? value.ValueKind == JsonValueKind.String : IsNumber(value) || value.ValueKind == JsonValueKind.Null))
        && (IsWhy(found, "why") || new[] { "estimate", "low", "high" }.All(k => IsNumber(found.GetProperty(k))));

    private static bool IsNumber(JsonElement found) => found.ValueKind == JsonValueKind.Number && double.IsFinite(found.GetDouble());

    private static bool IsWhy(JsonElement parent, string name) => parent.TryGetProperty(name, out var why) && why.ValueKind == JsonValueKind.String && why.GetString()!.Length > 3;
}
