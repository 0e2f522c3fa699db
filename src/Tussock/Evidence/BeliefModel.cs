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

    /// <summary>The rules of thumb alone.</summary>
    public static BeliefModel KeyAlone(SignCatalogue catalogue) => new(catalogue);

    /// <summary>The rules of thumb and the nests that cameras confirmed.</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests, any order; those without a confirmed class teach nothing, those found after a second visitor only how common a class is.</param>
    /// <source>Naive Bayes with Dirichlet counts; after the probabilistic reading of nest remains by Anthony et al. 2004, Journal of Field Ornithology 75:40–48 (idea, not the model).</source>
    /// <check>published-values</check>
    public static BeliefModel Learn(SignCatalogue catalogue, IEnumerable<NestEvidence> nests)
    {
        var model = new BeliefModel(catalogue);
        foreach (var nest in nests) model.Count(nest, 1);
        return model;
    }

    /// <summary>Who may have taken this nest's eggs?</summary>
    /// <param name="signs">Rows of remains, any order. A sign without a row, not looked for, or not in the catalogue is missing: it changes nothing.</param>
    /// <returns>Chances that add to 1; without any sign the prior.</returns>
    public Belief Of(IReadOnlyList<SignSeen> signs)
    {
        if (signs.Count == 0) return withoutSigns ??= Computed([]);
        return Computed(Read(signs));
    }

    private Belief Computed(List<(int Sign, int[] Values)> read)
    {
        var classes = confirmed.Length;
        var log = Prior();
        foreach (var group in read.GroupBy(r => catalogue.Signs[r.Sign].Group, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            var pooled = SignGroups.Pooled([.. group.Select(r => LogLikelihood(r.Sign, r.Values))]);
            for (var k = 0; k <= classes; k++) log[k] += pooled[k];
        }

        var top = log.Max();
        var chances = log.Select(l => Math.Exp(l - top)).ToArray();
        var total = chances.Sum();
        return new Belief(catalogue.Culprits, [.. chances.Select(c => c / total)], read.Count);
    }

    /// <summary>Adds a nest to what was learned, or takes it out again (weight −1).</summary>
    internal void Count(NestEvidence nest, double weight)
    {
        if (nest.Confirmed is null || catalogue.CulpritIndex(nest.Confirmed) is var culprit && culprit == confirmed.Length) return;
        withoutSigns = null;
        confirmed[culprit] += weight;
        if (!nest.Teaches) return;
        foreach (var (sign, values) in Read(nest.Signs))
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

    private double[] LogLikelihood(int sign, int[] values)
    {
        var log = new double[confirmed.Length + 1];
        for (var k = 0; k < confirmed.Length; k++)
        {
            var shares = Dirichlet.Mean(seen[sign][k], key[sign][k]);
            log[k] = values.Average(v => Math.Log(shares[v]));
        }

        log[^1] = -Math.Log(catalogue.Signs[sign].Values.Length);
        return log;
    }

    private List<(int Sign, int[] Values)> Read(IReadOnlyList<SignSeen> signs) =>
        [.. signs.Select(s => catalogue.Find(s.Sign, s.Value)).OfType<(int Sign, int Value)>().Distinct().GroupBy(f => f.Sign)
            .Select(g => (g.Key, g.Select(f => f.Value).Order().ToArray())).OrderBy(r => r.Key)];
}
