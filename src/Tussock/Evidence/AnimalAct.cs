using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Evidence;

/// <summary>What a camera's record says an animal did at the nest. A visit is not yet a loss: without a word that says so nothing is known of the eggs.</summary>
/// <param name="Role">Role as a token of <c>cameras.csv</c>; empty when nothing says it.</param>
/// <param name="TookEggs">Whether it took eggs; null when nothing says it.</param>
/// <param name="EggsTaken">Eggs taken, where they were counted.</param>
public readonly record struct AnimalAct(string Role, bool? TookEggs, int? EggsTaken)
{
    private static readonly Lazy<FrozenDictionary<string, string>> Behaviours = new(Read);

    private static ImmutableArray<string> Roles => RecordKind.Cameras.ColumnNamed("role")!.Tokens;

    /// <summary>Reads an act: the tags <c>role:…</c>, <c>took_eggs:yes</c> and <c>eggs_taken:n</c> first, else the behaviour that stands foremost and is listed.</summary>
    /// <param name="tags">Names and values; a tag without a value has an empty one.</param>
    /// <param name="behaviours">Behaviours, the dominant one first.</param>
    public static AnimalAct Of(IReadOnlyList<KeyValuePair<string, string>> tags, IReadOnlyList<string> behaviours)
    {
        ArgumentNullException.ThrowIfNull(tags);
        ArgumentNullException.ThrowIfNull(behaviours);
        var role = tags.Select(t => t.Key == "role" ? Cell.Token(t.Value) : t.Value.Length == 0 ? Cell.Token(t.Key) : "").FirstOrDefault(r => Roles.Contains(r)) ?? "";
        var took = tags.Where(t => t.Key == "took_eggs").Select(t => t.Value.Length == 0 ? true : Cell.YesNo(t.Value)).FirstOrDefault(y => y is not null);
        var eggs = tags.Where(t => t.Key == "eggs_taken").Select(t => Cell.Whole(t.Value)).FirstOrDefault(n => n is >= 0);
        var act = behaviours.Select(b => Behaviours.Value.GetValueOrDefault(b.Trim().ToLowerInvariant())).FirstOrDefault(a => a is not null);
        took ??= role is "took_first" or "took_later" || eggs > 0 || (role.Length == 0 && act == "took_eggs") ? true : null;
        return new AnimalAct(role.Length > 0 || act is null or "took_eggs" ? role : act, took, eggs);
    }

    private static FrozenDictionary<string, string> Read()
    {
        using var document = JsonDocument.Parse(Embedded.Text("evidence/acts.json"));
        return document.RootElement.EnumerateObject().Where(p => p.Value.ValueKind == JsonValueKind.Array)
            .SelectMany(p => p.Value.EnumerateArray().Select(b => (Behaviour: b.GetString()!, Act: p.Name))).ToFrozenDictionary(b => b.Behaviour, b => b.Act, StringComparer.Ordinal);
    }
}
