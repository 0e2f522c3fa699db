using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Evidence;

/// <summary>What signs are worth on this land: beliefs against cameras, beside the key alone and beside knowing only how common each class is.</summary>
/// <param name="Scoring">Scores of beliefs, each nest read by what the others taught.</param>
/// <param name="LogScoreKey">Mean −log of the belief in the class seen by the rules of thumb alone.</param>
/// <param name="LogScoreShares">The same knowing only how common each class is among the other nests.</param>
/// <param name="BrierShares">Brier score of the latter.</param>
/// <param name="GainBits">Bits a nest by which signs moved the belief in the class that it was; above 0 signs help.</param>
/// <param name="ChanceOfGain">Permutation p: how often remains dealt out among the nests at random score as well.</param>
/// <param name="NestsNeeded">Confirmed nests at which a gain of <see cref="WorthwhileBits"/> would be seen in four of five seasons.</param>
/// <param name="ReadingAgainstCameras">Cohen's kappa of readings against cameras, "cannot tell" being a reading.</param>
/// <param name="Trust">How loud signs may speak: <see cref="EvidenceTrust"/>.</param>
/// <param name="OtherNests">Confirmed nests of other seasons that taught too.</param>
public sealed record Learning(
    Scoring Scoring, double LogScoreKey, double LogScoreShares, double BrierShares, Estimate GainBits, double ChanceOfGain, Answer<int> NestsNeeded, Estimate ReadingAgainstCameras, double Trust, int OtherNests)
{
    /// <summary>Gain in bits a nest that would be worth the looking.</summary>
    public const double WorthwhileBits = 0.25;

    /// <summary>Times that remains are dealt out at random.</summary>
    public const int Permutations = 199;

    /// <summary>Chance above which signs are said to carry no information that could be told from chance.</summary>
    public const double NoInformation = 0.05;

    private const double ZBoth = 1.959963984540054 + 0.841621233572914;
    private const string GainMethod = "mean log2 ratio over nests left out one by one, t(n - 1)";

    /// <summary>Whether the signs carry no information here that could be told from chance.</summary>
    public bool TellsNothing => ChanceOfGain > NoInformation;

    /// <summary>How well do signs predict cameras here?</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests of the season.</param>
    /// <param name="others">Nests of other seasons with their discounts.</param>
    /// <param name="seed">Seed of the permutations.</param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>Scores; a reason with fewer than two confirmed nests that teach.</returns>
    /// <remarks>
    /// Permutation: which nest shows which remains is dealt anew 199 times, classes stay; p = (1 + times that the mean log score was as good)/(1 + 199); trust is 1 there, so that it is not chosen anew.
    /// Nests needed: ((1.96 + 0.84)·s/0.25)², s the spread of the gain from nest to nest.
    /// </remarks>
    /// <source>Permutation test: Phipson &amp; Smyth 2010, Statistical Applications in Genetics and Molecular Biology 9(1), article 39 (from memory, to be confirmed); number of nests: textbook formula for a mean.</source>
    /// <check>worked-by-hand</check>
    public static Answer<Learning> Of(SignCatalogue catalogue, IReadOnlyCollection<NestEvidence> nests, IReadOnlyCollection<NestOfOtherSeason> others, ulong seed, CancellationToken cancel = default)
    {
        var answer = LeftOneOut.Of(catalogue, nests, others);
        if (!answer.HasValue) return new NoAnswer(answer.Why);
        var read = answer.Value;
        double LogOf(Func<LeftOneOut, Belief> of) => read.Average(r => -Math.Log(of(r).Chances[r.Truth]));
        return new Learning(
            Scoring.Of(catalogue, read),
            LogOf(r => r.ByKey),
            LogOf(r => r.WithoutSigns),
            Scoring.BrierOf([.. read.Select(r => r.WithoutSigns.Chances)], [.. read.Select(r => r.Truth)]),
            Gain(read),
            Permuted(catalogue, [.. nests], others, read, seed, cancel),
            Needed(read),
            Kappa(catalogue, read),
            EvidenceTrust.Of(catalogue, nests, others),
            others.Count(o => o.Nest.Confirmed is not null));
    }

    private static Estimate Gain(ImmutableArray<LeftOneOut> read)
    {
        var mean = read.Average(r => r.GainBits);
        var se = Spread(read) / Math.Sqrt(read.Length);
        var half = Tails.StudentQuantile(0.975, read.Length - 1) * se;
        return new Estimate { Method = GainMethod, Value = mean, Se = se, Low = mean - half, High = mean + half };
    }

    private static double Spread(ImmutableArray<LeftOneOut> read)
    {
        var mean = read.Average(r => r.GainBits);
        return Math.Sqrt(read.Sum(r => Math.Pow(r.GainBits - mean, 2)) / (read.Length - 1));
    }

    private static Answer<int> Needed(ImmutableArray<LeftOneOut> read)
    {
        var spread = Spread(read);
        if (spread < 1e-9) return NoAnswer.Because("signs.learning.no_spread");
        return (int)Math.Ceiling(Math.Pow(ZBoth * spread / WorthwhileBits, 2));
    }

    private static Estimate Kappa(SignCatalogue catalogue, ImmutableArray<LeftOneOut> read)
    {
        var size = catalogue.Culprits.Length + 1;
        var counts = Enumerable.Range(0, size).Select(_ => new int[size]).ToArray();
        foreach (var r in read) counts[r.Belief.Reading ?? size - 1][r.Truth]++;
        return CohenKappa.Of(counts);
    }

    private static double Permuted(SignCatalogue catalogue, NestEvidence[] nests, IReadOnlyCollection<NestOfOtherSeason> others, ImmutableArray<LeftOneOut> read, ulong seed, CancellationToken cancel)
    {
        var known = nests.Where(n => n.Confirmed is not null).ToArray();
        var own = LeftOneOut.Plain(BeliefModel.Counted(catalogue, known, others), known).Sum(r => Math.Log(r.Belief.Chances[r.Truth]));
        var isAsGood = new bool[Permutations];
        Ordered.For(Permutations, p =>
        {
            var model = BeliefModel.Counted(catalogue, known.Where(n => !n.Teaches), others);
            var dealt = Dealt([.. known.Where(n => n.Teaches).Select(n => model.Read(n.Signs))], Seeded.Of(seed, (ulong)p + 1));
            for (var i = 0; i < dealt.Length; i++) model.Count(read[i].Truth, dealt[i], 1);
            var sum = 0.0;
            for (var i = 0; i < dealt.Length; i++)
            {
                model.Count(read[i].Truth, dealt[i], -1);
                sum += Math.Log(model.OfRead(dealt[i]).Chances[read[i].Truth]);
                model.Count(read[i].Truth, dealt[i], 1);
            }

            isAsGood[p] = sum >= own - 1e-9;
        }, cancel);
        return (1.0 + isAsGood.Count(g => g)) / (1 + Permutations);
    }

    private static List<SignRead>[] Dealt(List<SignRead>[] remains, Seeded chance)
    {
        for (var i = remains.Length - 1; i > 0; i--)
        {
            var j = chance.NextBelow(i + 1);
            (remains[i], remains[j]) = (remains[j], remains[i]);
        }

        return remains;
    }
}
