using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>What has to be said wherever a culprit is shown.</summary>
public static class Cautions
{
    /// <summary>The cautions of a season.</summary>
    /// <param name="eggKinds">Kinds of eggs that were set out, as written.</param>
    /// <returns>Always that the key is a set of untested rules of thumb and that an animal near a nest is no proof; with quail eggs, that shells will be rare.</returns>
    /// <source>Staller et al. 2005, Journal of Wildlife Management 69:124–132 (30 % of mammals named right); west Texas 1994–95, National Quail Symposium Proceedings 4, article 21 (shells at 83 % and 3 % of nests). Abstracts read.</source>
    public static ImmutableArray<Phrase> Of(IEnumerable<string> eggKinds)
    {
        var quail = eggKinds.Any(k => k.Contains("quail", StringComparison.OrdinalIgnoreCase));
        ImmutableArray<Phrase> always = [Phrase.Of("signs.caution.rules"), Phrase.Of("signs.caution.near")];
        return quail ? always.Add(Phrase.Of("signs.caution.quail")) : always;
    }
}
