using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Models;

/// <summary>How many times as quickly nests of one cover class are lost as those of the reference, nests of a line sharing luck.</summary>
public static class HazardRatio
{
    /// <summary>The method, as it stands in documents.</summary>
    public const string Method = "hazard ratio; log hazard, other hazard after the first check, cover, normal intercept a line (9-node adaptive Gauss-Hermite), Wald on the log scale";

    /// <summary>Are nests in this cover lost more quickly than in the reference class?</summary>
    /// <param name="nests">One row a nest, rows of a line together.</param>
    /// <param name="trial">The first planned check is where the hazard may change.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>For each cover class after the reference, in the order of <see cref="NestSpans.CoverNames"/>: the ratio of hazards, &gt; 1 where the class loses more quickly; a reason where it can't be had.</returns>
    /// <remarks>
    /// One fit holds all classes. Edges: a class without a loss has no finite ratio, nor has one without an intact nest; a single line gives a fit without a spread of lines.
    /// The hazards are taken as proportional over the 28 days. Cost: linear in nests. It misleads when the classes stand on different lines.
    /// </remarks>
    /// <source>Proportional hazards from interval-censored times: Finkelstein 1986, Biometrics 42, 845–854; random intercept by quadrature: Pinheiro &amp; Bates 1995, Journal of Computational and Graphical Statistics 4, 12–35 (both from memory, to be confirmed).</source>
    /// <check>line-intercept-by-integration</check>
    public static ImmutableArray<Estimate> Of(NestSpans nests, Trial trial, double level = 0.95)
    {
        var names = nests.CoverNames;
        var seen = new bool[names.Length];
        for (var row = 0; row < nests.Count; row++) seen[nests.Cover[row]] |= nests.IsWatched(row);
        if (names.Length < 2) return [];
        if (!seen[0]) return All(names, seen, level, Phrase.Of("hazard_ratio.no_reference", ("cover", names[0])));
        int[] classes = [.. Enumerable.Range(1, names.Length - 1).Where(c => seen[c])];
        if (classes.Length == 0) return All(names, seen, level, null);
        var table = SpanTable.Of(nests, [.. classes.Select(c => names[c])], (row, x) =>
        {
            for (var c = 0; c < classes.Length; c++) x[c] = nests.Cover[row] == classes[c] ? 1 : 0;
        }, trial.FirstCheck);
        var fit = GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Level = level, Profile = false });
        if (!fit.HasValue) return All(names, seen, level, fit.Why);
        var ratios = new Estimate[names.Length - 1];
        for (var c = 1; c < names.Length; c++) ratios[c - 1] = seen[c] ? Ratio(fit.Value.Effects[Array.IndexOf(classes, c) + 2].Coefficient) : Absent(names[c], level);
        return ImmutableArray.Create(ratios);
    }

    private static ImmutableArray<Estimate> All(ImmutableArray<string> names, bool[] seen, double level, Phrase? why) =>
        [.. Enumerable.Range(1, names.Length - 1).Select(c => seen[c] && why is not null ? Estimate.None(Method, why) with { Level = level } : Absent(names[c], level))];

    private static Estimate Absent(string cover, double level) => Estimate.None(Method, Phrase.Of("hazard_ratio.no_other", ("cover", cover))) with { Level = level };

    private static Estimate Ratio(Estimate effect)
    {
        var bare = new Estimate { Level = effect.Level, Method = Method, Why = effect.Why, Notes = effect.Notes };
        if (effect.Value is not { } log || !double.IsFinite(Math.Exp(log))) return bare;
        var ratio = Math.Exp(log);
        var isBounded = effect is { Low: { } low, High: { } high } && double.IsFinite(Math.Exp(high)) && Math.Exp(low) > 0;
        return isBounded ? bare with { Value = ratio, Low = Math.Exp(effect.Low!.Value), High = Math.Exp(effect.High!.Value), Se = effect.Se * ratio } : bare with { Value = ratio, Why = effect.Why ?? Phrase.Of("hazard_ratio.without_limits") };
    }
}
