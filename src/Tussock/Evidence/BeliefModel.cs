using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>The key and what cameras taught it: from the remains of a nest to a belief over culprit classes.</summary>
/// <remarks>
/// Prior of a class: .95 shared by the classes on the list as culprit_weight even counts plus the camera-confirmed nests; .05, fixed, for "not on
/// the list", under which every value of every sign is equally likely. Likelihood of a sign: Dirichlet mean of its even counts, the rules of
/// thumb, and the confirmed nests of that class. Several values of one sign share its weight. Made once; may be shared between threads.
/// </remarks>
public sealed class BeliefModel
{
    private readonly SignCatalogue catalogue;
    private readonly double[] confirmed;      // [class]
    private readonly double[][][] key, seen;  // [sign][class][value]: prior counts; counts of confirmed nests
    private Belief? withoutSigns;

    private BeliefModel(SignCatalogue catalogue)
    {
        this.catalogue = catalogue;
        var classes = catalogue.Culprits.Length - 1;
        confirmed = new double[classes];
        key = Counts(catalogue, classes, s => catalogue.SignWeight / s.Values.Length);
        seen = Counts(catalogue, classes, _ => 0);
        foreach (var rule in catalogue.Rules)
        {
            var (sign, value) = catalogue.Find(rule.Sign, rule.Value)!.Value;
            key[sign][catalogue.CulpritIndex(rule.Culprit)][value] += rule.Count;
        }
    }

    /// <summary>Power of the signs' likelihood that the confirmed nests chose; 1 for the key alone. <see cref="EvidenceTrust"/>.</summary>
    internal double Trust { get; private set; } = 1;

    /// <summary>Signs, classes and key.</summary>
    internal SignCatalogue Catalogue => catalogue;

    /// <summary>The rules of thumb alone.</summary>
    public static BeliefModel KeyAlone(SignCatalogue catalogue) => new(catalogue);

    /// <summary>The rules of thumb and the nests that cameras confirmed.</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests, any order; those without a confirmed class teach nothing, those found after a second visitor only how common a class is.</param>
    /// <source>Naive Bayes with Dirichlet counts; after the probabilistic reading of nest remains by Anthony et al. 2004, Journal of Field Ornithology 75:40–48 (idea, not the model).</source>
    /// <check>published-values</check>
    public static BeliefModel Learn(SignCatalogue catalogue, IEnumerable<NestEvidence> nests) => Learn(catalogue, nests, []);

    /// <summary>The rules of thumb, this season's confirmed nests, and those of other seasons at a discount.</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests of the season, any order.</param>
    /// <param name="others">Nests of other seasons, each with what it counts, in [0, 1].</param>
    /// <remarks>Counts add: key + Σ own + Σ discount·other. With discounts of 1 the seasons are one; of 0 there is only this one.</remarks>
    /// <source>Power prior with fixed discount: Ibrahim &amp; Chen 2000, Statistical Science 15:46–60 (from memory, to be confirmed); the discounts are this program's choice.</source>
    /// <check>worked-by-hand</check>
    public static BeliefModel Learn(SignCatalogue catalogue, IEnumerable<NestEvidence> nests, IEnumerable<NestOfOtherSeason> others)
    {
        var known = nests.Where(n => n.Confirmed is not null).ToArray();
        var model = Counted(catalogue, known, others);
        if (known.Length >= EvidenceTrust.FewestConfirmed) model.Trust = EvidenceTrust.Of(LeftOneOut.Plain(model, known));
        return model;
    }

    /// <summary>What was counted, with signs as loud as they are written.</summary>
    internal static BeliefModel Counted(SignCatalogue catalogue, IEnumerable<NestEvidence> nests, IEnumerable<NestOfOtherSeason> others)
    {
        var model = new BeliefModel(catalogue);
        foreach (var nest in nests) model.Count(nest, 1);
        foreach (var (nest, discount) in others) model.Count(nest, discount);
        return model;
    }

    /// <summary>Who may have taken this nest's eggs?</summary>
    /// <param name="signs">Rows of remains, any order. A sign without a row, not looked for, or not in the catalogue is missing: it changes nothing.</param>
    /// <returns>Chances that add to 1; without any sign the prior.</returns>
    public Belief Of(IReadOnlyList<SignSeen> signs) => OfRead(Read(signs));

    /// <summary>The belief from signs that were looked up already.</summary>
    internal Belief OfRead(List<SignRead> read) => read.Count == 0 ? withoutSigns ??= Computed(read) : Computed(read);

    private Belief Computed(List<SignRead> read)
    {
        var classes = confirmed.Length;
        var log = Prior();
        foreach (var group in InGroups(read))
        {
            var pooled = SignGroups.Pooled([.. group.Select(LogLikelihood)]);
            for (var k = 0; k <= classes; k++) log[k] += Trust * pooled[k];
        }

        var top = log.Max();
        var chances = log.Select(l => Math.Exp(l - top)).ToArray();
        var total = chances.Sum();
        return new Belief(catalogue.Culprits, [.. chances.Select(c => c / total)], read.Count);
    }

    private IEnumerable<IGrouping<string, SignRead>> InGroups(List<SignRead> read) =>
        read.GroupBy(r => catalogue.Signs[r.Sign].Group, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal);

    /// <summary>What each sign adds to the logarithm of the chances, as its group lets it: the parts of a group add to what the group says.</summary>
    internal ImmutableArray<(SignRead Read, double[] Log)> Parts(List<SignRead> read) =>
        [.. InGroups(read).SelectMany(g => g.Zip(SignGroups.Parts([.. g.Select(LogLikelihood)]))).Select(p => (p.First, p.Second.Select(x => Trust * x).ToArray())).OrderBy(p => p.First.Sign)];

    /// <summary>Adds a nest to what was learned, or takes it out again (weight −1).</summary>
    internal void Count(NestEvidence nest, double weight)
    {
        if (nest.Confirmed is { } seenTaking) Count(catalogue.CulpritIndex(seenTaking), nest.Teaches ? Read(nest.Signs) : [], weight);
    }

    /// <summary>The same with class and signs looked up already; "not on the list" teaches nothing.</summary>
    internal void Count(int culprit, List<SignRead> read, double weight)
    {
        if (culprit == confirmed.Length) return;
        withoutSigns = null;
        confirmed[culprit] += weight;
        foreach (var (sign, values) in read)
        {
            foreach (var value in values) seen[sign][culprit][value] += weight / values.Length;
        }
    }

    private static double[][][] Counts(SignCatalogue catalogue, int classes, Func<CatalogueSign, double> start) =>
        [.. catalogue.Signs.Select(s => Enumerable.Range(0, classes).Select(_ => Enumerable.Repeat(s.Values.IsEmpty ? 0 : start(s), s.Values.Length).ToArray()).ToArray())];

    private double[] Prior()
    {
        var even = Enumerable.Repeat(catalogue.CulpritWeight / confirmed.Length, confirmed.Length).ToArray();
        return [.. Dirichlet.Mean(confirmed, even).Select(p => Math.Log(p * (1 - catalogue.NotOnTheList))), Math.Log(catalogue.NotOnTheList)];
    }

    /// <summary>Logarithm of the chance of a sign under each class: of its only value, or the mean over several.</summary>
    internal double[] LogLikelihood(SignRead read)
    {
        var (sign, values) = (read.Sign, read.Values);
        var log = new double[confirmed.Length + 1];
        for (var k = 0; k < confirmed.Length; k++)
        {
            var shares = Dirichlet.Mean(seen[sign][k], key[sign][k]);
            log[k] = values.Average(v => Math.Log(shares[v]));
        }

        log[^1] = -Math.Log(catalogue.Signs[sign].Values.Length);
        return log;
    }

    /// <summary>Looks signs up: one row a sign, in the order of the catalogue; what it lacks is left out.</summary>
    internal List<SignRead> Read(IReadOnlyList<SignSeen> signs) =>
        [.. signs.Select(s => catalogue.Find(s.Sign, s.Value)).OfType<(int Sign, int Value)>().Distinct().GroupBy(f => f.Sign)
            .Select(g => new SignRead(g.Key, [.. g.Select(f => f.Value).Order()])).OrderBy(r => r.Sign)];
}
