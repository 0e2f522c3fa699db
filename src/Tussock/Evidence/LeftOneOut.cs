using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>A confirmed nest, read by what all the others taught.</summary>
/// <param name="Belief">Belief from its signs.</param>
/// <param name="WithoutSigns">Belief before any sign: how common each class is among the others. What "always the commonest class" knows.</param>
/// <param name="ByKey">Belief by the rules of thumb alone.</param>
/// <param name="Truth">Index of the class that the camera saw.</param>
internal sealed record LeftOneOut(Belief Belief, Belief WithoutSigns, Belief ByKey, int Truth)
{
    /// <summary>Reads each confirmed nest that teaches, with the trust that signs earned here.</summary>
    /// <returns>One a nest, in the order of the rows; a reason with fewer than two.</returns>
    internal static Answer<ImmutableArray<LeftOneOut>> Of(SignCatalogue catalogue, IEnumerable<NestEvidence> nests, IEnumerable<NestOfOtherSeason> others)
    {
        var known = nests.Where(n => n.Confirmed is not null).ToArray();
        if (known.Count(n => n.Teaches) < 2) return NoAnswer.Because("signs.scoring.too_few");
        var plain = Plain(BeliefModel.Counted(catalogue, known, others), known);
        var trust = EvidenceTrust.Of(plain);
        return plain.Select(r => r with { Belief = EvidenceTrust.Tempered(r.Belief, r.WithoutSigns, trust) }).ToImmutableArray();
    }

    /// <summary>The same with signs as loud as they are written.</summary>
    /// <param name="model">What all nests taught; as it was afterwards.</param>
    /// <param name="known">Confirmed nests that it counted.</param>
    internal static ImmutableArray<LeftOneOut> Plain(BeliefModel model, IEnumerable<NestEvidence> known)
    {
        var key = BeliefModel.KeyAlone(model.Catalogue);
        return [.. known.Where(n => n.Teaches).Select(nest =>
        {
            var (read, truth) = (model.Read(nest.Signs), model.Catalogue.CulpritIndex(nest.Confirmed!));
            model.Count(truth, read, -1);
            var left = new LeftOneOut(model.OfRead(read), model.OfRead([]), key.OfRead(read), truth);
            model.Count(truth, read, 1);
            return left;
        })];
    }

    /// <summary>Bits by which the signs moved the belief in the class that it was.</summary>
    internal double GainBits => Math.Log2(Belief.Chances[Truth] / WithoutSigns.Chances[Truth]);
}
