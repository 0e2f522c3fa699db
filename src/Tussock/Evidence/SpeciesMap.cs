using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Words;

namespace Tussock.Evidence;

/// <summary>The culprit class of an animal's name.</summary>
/// <param name="Culprit">Token of the class; <c>other</c> for a name that nobody listed, <c>unknown</c> where none was given.</param>
/// <param name="IsListed">Whether the list knows the name.</param>
public readonly record struct SpeciesClass(string Culprit, bool IsListed);

/// <summary>From the names of animals to culprit classes. Data; a user's own list goes before it. An animal that is not listed is told and counts as <c>other</c>, never dropped.</summary>
/// <remarks>Capitals and blanks at the ends do not matter. May be shared between threads.</remarks>
public sealed class SpeciesMap
{
    private static readonly Lazy<SpeciesMap> LazyStandard = new(() => Parse(Embedded.Text("evidence/species.json")));
    private readonly FrozenDictionary<string, string> own, scientific, vernacular, writtenAs;

    private SpeciesMap(FrozenDictionary<string, string> own, FrozenDictionary<string, string> scientific, FrozenDictionary<string, string> vernacular, FrozenDictionary<string, string> writtenAs) =>
        (this.own, this.scientific, this.vernacular, this.writtenAs) = (own, scientific, vernacular, writtenAs);

    /// <summary>The list that comes with the program.</summary>
    public static SpeciesMap Standard => LazyStandard.Value;

    /// <summary>The classes that an animal may count as.</summary>
    public static ImmutableArray<string> Classes { get; } = [.. SignCatalogue.Standard.Culprits, "person", "unknown"];

    /// <summary>Reads a list.</summary>
    /// <param name="json">JSON: <c>scientific</c>, <c>vernacular</c> and <c>written_as</c>, each name to class or class to name.</param>
    public static SpeciesMap Parse(string json)
    {
        using var document = JsonDocument.Parse(json);
        var root = document.RootElement;
        return new SpeciesMap(FrozenDictionary<string, string>.Empty, Names(root, "scientific"), Names(root, "vernacular"), Names(root, "written_as"));
    }

    /// <summary>The list with names of one's own before it.</summary>
    /// <param name="names">Name, scientific or vernacular, and class token.</param>
    public SpeciesMap With(IEnumerable<KeyValuePair<string, string>> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        var all = new Dictionary<string, string>(own, StringComparer.Ordinal);
        foreach (var (name, culprit) in names) all[Plain(name)] = culprit;
        return new SpeciesMap(all.ToFrozenDictionary(StringComparer.Ordinal), scientific, vernacular, writtenAs);
    }

    /// <summary>The class of an animal.</summary>
    /// <param name="name">Name as recorded, scientific as a rule; empty where none was given.</param>
    /// <param name="others">Other names of it, most telling first: its groups (genus, family, order, class) and vernacular names.</param>
    public SpeciesClass Of(string name, params ReadOnlySpan<string> others)
    {
        ArgumentNullException.ThrowIfNull(name);
        if (name.Trim().Length == 0) return new SpeciesClass("unknown", true);
        if (Found(name) is { } culprit) return new SpeciesClass(culprit, true);
        foreach (var other in others) if (Found(other) is { } found) return new SpeciesClass(found, true);
        return new SpeciesClass("other", false);
    }

    /// <summary>The scientific name under which a class is handed on; empty for classes that are no group of animals.</summary>
    public string WrittenAs(string culprit) => writtenAs.GetValueOrDefault(culprit, "");

    private string? Found(string name)
    {
        var plain = Plain(name);
        var cut = plain.IndexOf(' ');
        var genus = cut > 0 ? plain[..cut] : plain;
        var last = plain[(plain.LastIndexOf(' ') + 1)..];
        return own.GetValueOrDefault(plain) ?? scientific.GetValueOrDefault(plain) ?? scientific.GetValueOrDefault(genus) ?? vernacular.GetValueOrDefault(plain) ?? vernacular.GetValueOrDefault(last);
    }

    private static FrozenDictionary<string, string> Names(JsonElement root, string part) =>
        root.GetProperty(part).EnumerateObject().ToFrozenDictionary(p => p.Name, p => p.Value.GetString()!, StringComparer.Ordinal);

    private static string Plain(string name) => string.Join(' ', name.ToLowerInvariant().Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
}
