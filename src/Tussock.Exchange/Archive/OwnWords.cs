using System.Collections.Frozen;
using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fieldwork;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>Words that are the program's own: signs and their values, classes of animals, causes. They say nothing about a place, whatever a pasture is called.</summary>
internal static class OwnWords
{
    private static readonly FrozenSet<string> All = new[]
    {
        [.. SpeciesMap.Classes], SignCatalogue.Standard.Signs.Select(s => s.Sign), SignCatalogue.Standard.Signs.SelectMany(s => s.Values),
        FieldWords.OtherLossCauses.Select(t => t.Token), FieldWords.NotFoundBecause.Select(t => t.Token), [SignCatalogue.NotLooked, "moved", "other"],
    }.SelectMany(w => w).Select(Cell.Token).ToFrozenSet(StringComparer.Ordinal);

    /// <summary>Whether a text is one of them, in any of the spellings that are read.</summary>
    internal static bool Has(string text) => All.Contains(Cell.Token(text));

    /// <summary>Those of some texts that somebody wrote freely, each once: neither empty, nor a number, nor a word of the program.</summary>
    internal static ImmutableArray<string> Others(IEnumerable<string> texts) =>
        [.. texts.Where(w => w.Length > 0 && !Has(w) && Cell.Number(w) is null).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
}
