using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Evidence.Practice;

/// <summary>Cases to practise reading remains on: drawn from an invented place, read by the program as it reads a season.</summary>
/// <param name="Culprits">Tokens of the classes that are offered; the last is "not on the list".</param>
/// <param name="Percents">How common each is there, in whole percents that add to 100.</param>
/// <param name="Cases">The cases.</param>
public sealed record PracticeSet(ImmutableArray<string> Culprits, ImmutableArray<int> Percents, ImmutableArray<PracticeCase> Cases)
{
    /// <summary>Cases that a phone takes along: two runs of ten.</summary>
    public const int Usual = 20;

    /// <summary>Invented nests whose culprit is known, by which the program reads the cases.</summary>
    public const int Taught = 120;

    /// <summary>Most signs that are named as reasons.</summary>
    public const int MostReasons = 3;

    private const ulong TaughtBy = 20;

    // The same nests teach whatever the seed of the cases is.
    private static readonly Lazy<BeliefModel> Reader = new(() => BeliefModel.Learn(InventedNests.Standard.Catalogue, Drawn(TaughtBy, Taught)));

    /// <summary>Draws cases and reads them.</summary>
    /// <param name="seed">Seed; the same seed gives the same bits. Each case has a stream of its own, so that fewer cases are the first of more.</param>
    /// <param name="cases">How many, ≥ 0.</param>
    /// <remarks>The belief is that of <see cref="BeliefModel"/>, with the classes offered and 120 other nests of the place as if cameras had confirmed them; none of the cases is among these.</remarks>
    public static PracticeSet Of(ulong seed, int cases = Usual)
    {
        var place = InventedNests.Standard;
        return new PracticeSet(place.Catalogue.Culprits, WholePercents.Of(place.Shares), [.. Drawn(seed, cases).Select(n => PracticeReading.Of(Reader.Value, n))]);
    }

    private static IEnumerable<NestEvidence> Drawn(ulong seed, int count) => Enumerable.Range(1, count).Select(i => InventedNests.Standard.Draw(Seeded.Of(seed, (ulong)i)));
}
