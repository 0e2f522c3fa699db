using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>How loud the signs may speak here: a power of their likelihood that the confirmed nests choose.</summary>
public static class EvidenceTrust
{
    /// <summary>Fewest confirmed nests that may choose; with fewer it is 1.</summary>
    public const int FewestConfirmed = 10;

    /// <summary>Greatest trust; the least is 0, which leaves only how common each class is.</summary>
    public const double Most = 2;

    private const double Step = 0.125, Usual = 1.6, Spread = 0.5, Doubt = 10;

    /// <summary>What power of the signs' likelihood fits cameras here?</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests of the season, any order.</param>
    /// <param name="others">Nests of other seasons with their discounts.</param>
    /// <returns>A multiple of 1/8 in [0, 2]; 1 with fewer than ten confirmed nests that teach.</returns>
    /// <remarks>
    /// Greatest Σ log belief in the class seen, each nest read by the others, − (λ − u)²/(2·0.5²) with u = 1.6·n/(n + 10) for n nests.
    /// Below 1 where signs of different groups go together and would count twice, or tell nothing; above 1 where bounding the groups made beliefs too careful. 1.6, 10 and 0.5 were set on invented places.
    /// </remarks>
    /// <source>Scaling of confidence by one number: Guo et al. 2017, International Conference on Machine Learning, 1321–1330; chosen by leaving one out with a prior: this program's choice.</source>
    /// <check>worked-by-hand</check>
    public static double Of(SignCatalogue catalogue, IEnumerable<NestEvidence> nests, IEnumerable<NestOfOtherSeason> others)
    {
        var known = nests.Where(n => n.Confirmed is not null).ToArray();
        return Of(LeftOneOut.Plain(BeliefModel.Counted(catalogue, known, others), known));
    }

    internal static double Of(ImmutableArray<LeftOneOut> plain)
    {
        if (plain.Length < FewestConfirmed) return 1;
        var usual = Usual * plain.Length / (plain.Length + Doubt);
        var (best, chosen) = (double.NegativeInfinity, 1.0);
        for (var trust = 0.0; trust <= Most; trust += Step)
        {
            var score = plain.Sum(r => Math.Log(Tempered(r.Belief, r.WithoutSigns, trust).Chances[r.Truth])) - Math.Pow((trust - usual) / Spread, 2) / 2;
            if (score > best) (best, chosen) = (score, trust);
        }

        return chosen;
    }

    /// <summary>The belief as it would be with another trust: prior times the signs' likelihood to that power.</summary>
    internal static Belief Tempered(Belief belief, Belief withoutSigns, double trust)
    {
        var log = belief.Chances.Zip(withoutSigns.Chances, (b, w) => Math.Log(w) + (trust * Math.Log(b / w))).ToArray();
        var top = log.Max();
        var chances = log.Select(l => Math.Exp(l - top)).ToArray();
        var total = chances.Sum();
        return belief with { Chances = [.. chances.Select(c => c / total)] };
    }
}
