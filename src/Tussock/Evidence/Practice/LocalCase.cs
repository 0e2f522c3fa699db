using System.Collections.Immutable;

namespace Tussock.Evidence.Practice;

/// <summary>A nest from here as a case to practise on: a camera saw who took its eggs, and a lead let it be shown.</summary>
/// <param name="Id">Tells cases apart; it tells no place.</param>
/// <param name="Photos">SHA-256 of the photos that may be shown.</param>
/// <param name="Case">Remains, truth and the program's belief.</param>
/// <param name="Common">How common each class is without this nest, in whole percents that add to 100.</param>
public sealed record LocalCase(string Id, ImmutableArray<string> Photos, PracticeCase Case, ImmutableArray<int> Common)
{
    /// <summary>Reads a nest by what all the others taught: this one has no part in its own belief.</summary>
    /// <param name="id">Tells it apart.</param>
    /// <param name="photos">Photos that may be shown.</param>
    /// <param name="nest">The nest; its class is confirmed.</param>
    /// <param name="others">All other nests of its season.</param>
    /// <param name="elsewhere">Nests of other seasons, each with what it counts.</param>
    /// <remarks>Rows of remains that the catalogue does not know, and numbers, are left out: a phone could not show them.</remarks>
    public static LocalCase Of(string id, ImmutableArray<string> photos, NestEvidence nest, IEnumerable<NestEvidence> others, IEnumerable<NestOfOtherSeason> elsewhere)
    {
        ArgumentNullException.ThrowIfNull(nest);
        var catalogue = SignCatalogue.Standard;
        var model = BeliefModel.Learn(catalogue, others, elsewhere);
        return new LocalCase(id, photos, PracticeReading.Of(model, nest with { Signs = Shown(nest.Signs) }), WholePercents.Of(model.Of([]).Chances));
    }

    /// <summary>Remains as the catalogue spells them, in its order.</summary>
    public static ImmutableArray<SignSeen> Shown(IEnumerable<SignSeen> signs)
    {
        var all = SignCatalogue.Standard.Signs;
        return [.. signs.Select(s => SignCatalogue.Standard.Find(s.Sign, s.Value)).OfType<(int Sign, int Value)>().Distinct().Order().Select(f => new SignSeen(all[f.Sign].Sign, all[f.Sign].Values[f.Value]))];
    }
}
