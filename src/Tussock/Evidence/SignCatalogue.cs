using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Words;

namespace Tussock.Evidence;

/// <summary>How a sign is written down.</summary>
public enum SignKind
{
    /// <summary>One of a list of values.</summary>
    Choice,

    /// <summary>A number; raw evidence that no belief reads.</summary>
    Number,
}

/// <summary>One sign of the catalogue.</summary>
/// <param name="Sign">Its token in records.</param>
/// <param name="Kind">How it is written down.</param>
/// <param name="Group">Signs of one group tell of one thing and together count at most as much as the strongest of them; empty for numbers.</param>
/// <param name="Values">The values of a choice, as records spell them; empty for numbers.</param>
/// <param name="Source">Where its values come from.</param>
public sealed record CatalogueSign(string Sign, SignKind Kind, string Group, ImmutableArray<string> Values, string Source)
{
    /// <summary>Its name for people.</summary>
    public Phrase Name => Phrase.Of("signs." + Sign);

    /// <summary>How to look for it.</summary>
    public Phrase Look => Phrase.Of("signs." + Sign + ".look");

    /// <summary>A value's words for people.</summary>
    public Phrase InWords(string value) => Phrase.Of("signs." + Sign + ".value." + value.Replace(' ', '_'));
}

/// <summary>A rule of thumb: a value of a sign speaks for a culprit class by so many counts.</summary>
/// <param name="Culprit">Token of the class.</param>
/// <param name="Sign">Token of the sign.</param>
/// <param name="Value">Value of the sign.</param>
/// <param name="Count">Prior counts, small.</param>
/// <param name="Source">Where the rule comes from.</param>
public sealed record KeyRule(string Culprit, string Sign, string Value, double Count, string Source);

/// <summary>The catalogue of signs, the culprit classes, and the key: rules of thumb as prior counts. Data, each with its source.</summary>
/// <remarks>The key is a set of untested rules of thumb. May be shared between threads.</remarks>
public sealed class SignCatalogue
{
    /// <summary>The value of every sign that says nobody looked: the same as no row.</summary>
    public const string NotLooked = "not looked";

    private static readonly Lazy<SignCatalogue> LazyStandard = new(() => Parse(Embedded.Text("evidence/signs.json"), Embedded.Text("evidence/culprits.json"), Embedded.Text("evidence/key.json")));
    private readonly FrozenDictionary<string, int> signIndex, culpritIndex;

    private SignCatalogue(ImmutableArray<CatalogueSign> signs, ImmutableArray<string> culprits, ImmutableArray<KeyRule> rules)
    {
        (Signs, Culprits, Rules) = (signs, culprits, rules);
        signIndex = signs.Select((s, i) => (s.Sign, i)).ToFrozenDictionary(p => p.Sign, p => p.i, StringComparer.Ordinal);
        culpritIndex = culprits.Select((c, i) => (c, i)).ToFrozenDictionary(p => p.c, p => p.i, StringComparer.Ordinal);
    }

    /// <summary>The catalogue that comes with the program.</summary>
    public static SignCatalogue Standard => LazyStandard.Value;

    /// <summary>The signs, in the order of the field sheet.</summary>
    public ImmutableArray<CatalogueSign> Signs { get; }

    /// <summary>Tokens of the culprit classes that beliefs run over; the last is "not on the list".</summary>
    public ImmutableArray<string> Culprits { get; }

    /// <summary>The rules of thumb.</summary>
    public ImmutableArray<KeyRule> Rules { get; }

    /// <summary>Prior counts of a sign within a class, spread evenly over its values.</summary>
    public required double SignWeight { get; init; }

    /// <summary>Prior counts of the classes on the list, spread evenly.</summary>
    public required double CulpritWeight { get; init; }

    /// <summary>Fixed prior chance, in (0, 1), that the culprit is not on the list.</summary>
    public required double NotOnTheList { get; init; }

    /// <summary>Reads a catalogue.</summary>
    /// <param name="signs">JSON: signs with kind, group, values and source.</param>
    /// <param name="culprits">JSON: class tokens and the token of "not on the list".</param>
    /// <param name="key">JSON: weights and rules.</param>
    /// <exception cref="ArgumentException">A rule names a class, sign or value that the catalogue lacks.</exception>
    public static SignCatalogue Parse(string signs, string culprits, string key)
    {
        using var signsJson = JsonDocument.Parse(signs);
        using var culpritsJson = JsonDocument.Parse(culprits);
        using var keyJson = JsonDocument.Parse(key);
        var (c, k) = (culpritsJson.RootElement, keyJson.RootElement);
        var catalogue = new SignCatalogue(
            [.. signsJson.RootElement.GetProperty("signs").EnumerateArray().Select(SignOf)],
            [.. c.GetProperty("culprits").EnumerateArray().Select(e => e.GetString()!), Text(c, "not_on_the_list")],
            [.. k.GetProperty("rules").EnumerateArray().Select(r => new KeyRule(Text(r, "culprit"), Text(r, "sign"), Text(r, "value"), r.GetProperty("count").GetDouble(), Text(r, "source")))])
        {
            SignWeight = k.GetProperty("sign_weight").GetDouble(),
            CulpritWeight = k.GetProperty("culprit_weight").GetDouble(),
            NotOnTheList = k.GetProperty("not_on_the_list").GetDouble(),
        };
        var lost = catalogue.Rules.FirstOrDefault(r => !catalogue.culpritIndex.ContainsKey(r.Culprit) || catalogue.Find(r.Sign, r.Value) is null);
        return lost is null ? catalogue : throw new ArgumentException("A rule names what the catalogue lacks: " + lost, nameof(key));
    }

    /// <summary>The same signs with fewer classes, as a region may shorten the list; rules of the others are left out.</summary>
    /// <param name="culprits">Tokens of the classes on the list, in their new order; "not on the list" stays the last.</param>
    internal SignCatalogue Offering(IReadOnlyCollection<string> culprits) =>
        new(Signs, [.. culprits, Culprits[^1]], [.. Rules.Where(r => culprits.Contains(r.Culprit))]) { SignWeight = SignWeight, CulpritWeight = CulpritWeight, NotOnTheList = NotOnTheList };

    /// <summary>Index of a culprit class; whatever is not in the catalogue is "not on the list".</summary>
    public int CulpritIndex(string culprit) => culpritIndex.GetValueOrDefault(culprit, Culprits.Length - 1);

    /// <summary>The sign and the value that a row of remains means.</summary>
    /// <param name="sign">Sign as written; capitals and signs of joining (space, _ , -) do not matter.</param>
    /// <param name="value">Value as written, likewise.</param>
    /// <returns>Indexes of sign and value; null for "not looked", for numbers and for what is not in the catalogue.</returns>
    public (int Sign, int Value)? Find(string sign, string value)
    {
        if (!signIndex.TryGetValue(Plain(sign).Replace(' ', '_'), out var s)) return null;
        var v = Signs[s].Values.IndexOf(Plain(value));
        return v < 0 ? null : (s, v);
    }

    private static string Plain(string text) => text.Trim().Replace('_', ' ').Replace('-', ' ').ToLowerInvariant();

    private static CatalogueSign SignOf(JsonElement e) => new(
        Text(e, "sign"),
        Text(e, "kind") == "choice" ? SignKind.Choice : SignKind.Number,
        e.GetProperty("group").GetString() ?? "",
        [.. e.GetProperty("values").EnumerateArray().Select(v => v.GetString()!)],
        Text(e, "source"));

    private static string Text(JsonElement e, string name) => e.GetProperty(name).GetString()!;
}
