using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Results;

/// <summary>One thing that two kept results say of a group.</summary>
/// <param name="Group">Season, property or pasture.</param>
/// <param name="What">Key of its name: verdict, share, density.</param>
/// <param name="Before">What the first says; null where it has no such group.</param>
/// <param name="After">What the second says; null where it has no such group.</param>
public sealed record ComparedRow(string Group, string What, Phrase? Before, Phrase? After)
{
    /// <summary>Whether both say the same.</summary>
    public bool IsSame => Equals(Before, After);
}

/// <summary>Two results documents side by side: verdict, counted share and clump density of the season, each property and each pasture.</summary>
/// <remarks>Read from the documents as they were kept, so that a report of an older version of the program is compared by what it said then.</remarks>
public static class ComparedResults
{
    /// <summary>The rows, in the order of the second document, then what only the first has; empty when a document is none of ours.</summary>
    public static ImmutableArray<ComparedRow> Of(JsonElement first, JsonElement second)
    {
        if (!IsOurs(first) || !IsOurs(second)) return [];
        var (before, after) = (Said(first), Said(second));
        return [.. after.Keys.Concat(before.Keys.Where(k => !after.ContainsKey(k))).Select(k => new ComparedRow(k.Group, k.What, before.GetValueOrDefault(k), after.GetValueOrDefault(k)))];
    }

    private static bool IsOurs(JsonElement document) =>
        document.ValueKind == JsonValueKind.Object && document.TryGetProperty("contract", out var contract) && contract.ValueEquals("results/1");

    private static Dictionary<(string Group, string What), Phrase> Said(JsonElement document)
    {
        var said = new Dictionary<(string, string), Phrase>();
        foreach (var verdict in document.GetProperty("verdicts").EnumerateArray()) said.TryAdd((Name(verdict, ""), "compare.verdict"), Phrase.Of("verdict.words." + verdict.GetProperty("verdict").GetString()));
        foreach (var group in document.GetProperty("groups").EnumerateArray().Where(IsWide))
        {
            var day28 = group.GetProperty("survival").GetProperty("day28");
            var counted = (Intact: group.GetProperty("intact").GetInt32(), Known: group.GetProperty("fate_known").GetInt32());
            said.TryAdd((Name(group, "name"), "compare.share"), Number(day28, "estimate") is { } share
                ? Number(day28, "low") is { } low && Number(day28, "high") is { } high
                    ? Phrase.Of("compare.share_between", ("intact", counted.Intact), ("known", counted.Known), ("share", share), ("low", low), ("high", high))
                    : Phrase.Of("moved.counted", ("intact", counted.Intact), ("known", counted.Known), ("share", share))
                : Phrase.Of("moved.no_share"));
        }

        foreach (var density in document.GetProperty("density").EnumerateArray().Where(d => IsWide(d) && d.GetProperty("cover").ValueEquals("all")))
        {
            said.TryAdd((Name(density, "name"), "compare.density"), Number(density.GetProperty("per_acre"), "estimate") is { } amount ? Phrase.Of("moved.per_acre", ("amount", amount)) : Phrase.Of("moved.no_density"));
        }

        return said;
    }

    private static bool IsWide(JsonElement group) => group.GetProperty("level").GetString() is "season" or "property" or "pasture";

    private static string Name(JsonElement of, string name)
    {
        var (property, pasture) = (Text(of, "property"), Text(of, "pasture"));
        if (pasture.Length > 0) return property + ", " + pasture;
        if (Text(of, "level") == "pasture") return property.Length > 0 ? property + ", " + Text(of, "name") : Text(of, "name");
        return property.Length > 0 ? property : Text(of, name);
    }

    private static string Text(JsonElement of, string name) => of.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";

    private static double? Number(JsonElement of, string name) => of.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;
}
