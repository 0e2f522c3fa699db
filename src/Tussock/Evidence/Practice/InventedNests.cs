using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Numerics;
using Tussock.Words;

namespace Tussock.Evidence.Practice;

/// <summary>An invented place to practise on: how common each culprit class is there and what each leaves. Data, unlike any real place.</summary>
/// <remarks>The tables stand in <c>Evidence/Catalogue/invented-nests.json</c>. May be shared between threads.</remarks>
internal sealed class InventedNests
{
    private static readonly Lazy<InventedNests> LazyStandard = new(() => new InventedNests(SignCatalogue.Standard, Embedded.Text("evidence/invented-nests.json")));
    private readonly ImmutableArray<(string Sign, ImmutableArray<string> Values)> signs;
    private readonly double[][][] tables; // [class][sign][value]
    private readonly ImmutableArray<(string Sign, string? Value, string With, ImmutableArray<string> Values)> onlyWith;
    private readonly double looked;
    private readonly int fewest;

    private InventedNests(SignCatalogue catalogue, string json)
    {
        using var read = JsonDocument.Parse(json);
        var (root, classes) = (read.RootElement, read.RootElement.GetProperty("classes").EnumerateArray().ToArray());
        (looked, fewest) = (root.GetProperty("looked").GetDouble(), root.GetProperty("fewest_signs").GetInt32());
        Shares = [.. classes.Select(c => c.GetProperty("share").GetDouble())];
        Catalogue = catalogue.Offering([.. classes.Select(c => Text(c, "culprit")).SkipLast(1)]);
        signs = [.. root.GetProperty("signs").EnumerateArray().Select(s => catalogue.Signs.Single(c => c.Sign == s.GetString())).Select(s => (s.Sign, s.Values))];
        tables = [.. classes.Select(c => signs.Select(s => Table(c.GetProperty("signs"), s.Sign, s.Values)).ToArray())];
        onlyWith = [.. root.GetProperty("only_with").EnumerateArray().Select(r => (Text(r, "sign"), r.TryGetProperty("value", out var v) ? v.GetString() : null, Text(r, "with"), r.GetProperty("values").EnumerateArray().Select(x => x.GetString()!).ToImmutableArray()))];
    }

    /// <summary>The place that comes with the program.</summary>
    internal static InventedNests Standard => LazyStandard.Value;

    /// <summary>The signs, and the classes that are offered there; the last is "not on the list".</summary>
    internal SignCatalogue Catalogue { get; }

    /// <summary>Chance that a loss is by each of the classes; they add to 1.</summary>
    internal ImmutableArray<double> Shares { get; }

    /// <summary>Chances of the values of a sign under a class, in the order of the catalogue; null for a sign that the place does not show.</summary>
    internal ImmutableArray<double>? Chances(int culprit, string sign) => signs.ToList().FindIndex(s => s.Sign == sign) is var i and >= 0 ? [.. tables[culprit][i]] : null;

    /// <summary>A loss with what it shows; <c>Confirmed</c> is who it was.</summary>
    /// <param name="chance">Where it comes from. Draws with too few signs to look at are drawn again.</param>
    internal NestEvidence Draw(Seeded chance) => Draw(chance, Shares);

    /// <summary>The same where the classes are otherwise common than usual there.</summary>
    internal NestEvidence Draw(Seeded chance, ImmutableArray<double> shares)
    {
        while (true)
        {
            var culprit = Pick(shares, chance.NextUniform());
            var seen = new Dictionary<string, string>(StringComparer.Ordinal);
            for (var s = 0; s < signs.Length; s++)
            {
                var (isLooked, value) = (chance.NextUniform() < looked, signs[s].Values[Pick(tables[culprit][s], chance.NextUniform())]);
                if (isLooked && CanLie(signs[s].Sign, value, seen)) seen.Add(signs[s].Sign, value);
            }

            if (seen.Count >= fewest) return new NestEvidence(0, [.. signs.Where(s => seen.ContainsKey(s.Sign)).Select(s => new SignSeen(s.Sign, seen[s.Sign]))], Catalogue.Culprits[culprit]);
        }
    }

    private bool CanLie(string sign, string value, Dictionary<string, string> seen) =>
        onlyWith.All(r => r.Sign != sign || (r.Value is not null && r.Value != value) || (seen.TryGetValue(r.With, out var other) && r.Values.Contains(other)));

    private static double[] Table(JsonElement of, string sign, ImmutableArray<string> values)
    {
        var named = of.TryGetProperty(sign, out var chances) ? chances.EnumerateObject().ToDictionary(p => p.Name, p => p.Value.GetDouble(), StringComparer.Ordinal) : [];
        var rest = (1 - named.Values.Sum()) / Math.Max(1, values.Length - named.Count);
        return [.. values.Select(v => named.GetValueOrDefault(v, rest))];
    }

    private static int Pick(IReadOnlyList<double> shares, double u)
    {
        for (var k = 0; k < shares.Count; k++) if ((u -= shares[k]) < 0) return k;
        return shares.Count - 1;
    }

    private static string Text(JsonElement e, string name) => e.GetProperty(name).GetString()!;
}
