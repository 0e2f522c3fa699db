using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Cover;

/// <summary>The clump density at which nests in other cover survive as nests in grass do, with the model it comes from.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record ParityDensity
{
    private const string Method = "log hazard with a normal intercept a line, covers by role, log density of the line, 9-node adaptive Gauss-Hermite; profile likelihood";

    /// <summary>Clumps an acre beyond which a crossing means nothing: less than one on a thousand acres, more than twenty on a square foot.</summary>
    private const double Least = 1e-3, Most = 1e6;

    private ParityDensity()
    {
    }

    /// <summary>Clumps an acre, D* = exp(−b1/b3), with its profile limits.</summary>
    public required Estimate PerAcre { get; init; }

    /// <summary>Shape of the set of densities that fit; null when there is no estimate.</summary>
    public ParityShape? Shape { get; init; }

    /// <summary>The fit of log h = b0 + b1·other + b2·x + b3·other·x, x the log density of the line; null when it can't be had.</summary>
    public GroupedFit? Fit { get; init; }

    /// <summary>Smallest and largest density walked, clumps an acre; null without a line that tells.</summary>
    public (double Least, double Most)? Walked { get; init; }

    /// <summary>At which density do the cover classes survive alike?</summary>
    /// <param name="nests">One row a nest, rows of a line together.</param>
    /// <param name="isOther">For each class of <see cref="NestSpans.CoverNames"/>, whether its role is "other" (not grass).</param>
    /// <param name="perAcre">Suitable clumps an acre by name of the line, each &gt; 0 (a line without a clump counts as half a clump); lines without a belt are not in it.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>
    /// The density and its limits; null with a reason when grass does not gain on the other cover with density (b3 ≤ 0), when a role or a belt is missing, when all lines have one density, or when the lines cross beyond any density that means something (0.001 to a million an acre).
    /// Limits are null when the densities that fit are not all between two; the reason says their shape and finite ends.
    /// </returns>
    /// <remarks>
    /// The set {D: 2(ℓ̂ − ℓ(D)) ≤ χ²₁}: each ℓ(D) is a fit with the roles held alike at D. It is bounded exactly when b3 = 0 is rejected.
    /// A straight line crosses at D*, while the rule of thumb says that the classes become alike; a line's own density is uncertain, which pulls b3 to 0.
    /// Cost: some 15 to 30 fits, each linear in nests.
    /// </remarks>
    /// <source>Profile likelihood of a ratio of effects: common practice, no source. Model: common practice, no source.</source>
    /// <check>line-intercept-by-integration</check>
    public static ParityDensity Of(NestSpans nests, ImmutableArray<bool> isOther, IReadOnlyDictionary<string, double> perAcre, double level = 0.95)
    {
        var lines = new ParityLines(nests, isOther, perAcre);
        if (lines.Used.Count == 0) return None(Phrase.Of("parity.no_belts"), level);
        var walked = (Math.Exp(lines.Least), Math.Exp(lines.Most));
        if (!lines.HasBoth) return None(Phrase.Of("parity.one_role"), level) with { Walked = walked };
        if (!(lines.Most > lines.Least)) return None(Phrase.Of("parity.one_density"), level) with { Walked = walked };
        var fit = GroupedFit.Of(Table(lines), Link.LogHazard, new GroupedOptions { Level = level, Profile = false });
        if (!fit.HasValue) return None(fit.Why, level) with { Walked = walked };
        var (main, change) = (fit.Value.Effects[1].Coefficient, fit.Value.Effects[3].Coefficient);
        var found = main.Value is null || change.Value is null || fit.Value.Covariance.IsEmpty ? Estimate.None(Method, main.Why ?? change.Why ?? Phrase.Of("models.flat")) : null;
        if (found is not null) return new ParityDensity { PerAcre = found with { Level = level }, Fit = fit.Value, Walked = walked };
        if (!(change.Value > 0)) return new ParityDensity { PerAcre = Estimate.None(Method, Phrase.Of("parity.not_rising")) with { Level = level }, Fit = fit.Value, Walked = walked };
        return Found(lines, fit.Value, level) with { Walked = walked };
    }

    /// <summary>How many times as many nests in other cover as in grass survive to a day on lines of this density?</summary>
    /// <param name="clumpsPerAcre">Density, &gt; 0.</param>
    /// <param name="day">Day, &gt; 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Ratio of survival averaged over lines; a reason when there is no fit.</returns>
    /// <source>Common practice, no source: delta method on the logarithm of the ratio.</source>
    /// <check>line-intercept-by-integration</check>
    public Estimate SurvivalRatioAt(double clumpsPerAcre, double day, double level = 0.95)
    {
        if (Fit is not { } fit) return Estimate.None("ratio of survival averaged over lines", PerAcre.Why ?? Phrase.Of("parity.no_belts")) with { Level = level };
        var x = Math.Log(clumpsPerAcre);
        return SurvivalRatio.Of(fit, [new PatternDays([1, 1, x, x], day)], [new PatternDays([1, 0, x, 0], day)], day, level);
    }

    private static ModelTable Table(ParityLines lines) => SpanTable.Of(lines.Used, ["other cover", "log density", "other cover, by log density"], (row, x) =>
    {
        x[0] = lines.IsOther(lines.Used.Cover[row]) ? 1 : 0;
        x[1] = lines.Log(lines.Used.Line[row]);
        x[2] = x[0] * x[1];
    });

    private static ParityDensity Found(ParityLines lines, GroupedFit fit, double level)
    {
        var width = fit.Table.Width + 1;
        var ratio = new RatioOfEffects(fit.Effects[1].Coefficient.Value!.Value, fit.Effects[3].Coefficient.Value!.Value, fit.Covariance[width + 1], fit.Covariance[width + 3], fit.Covariance[(3 * width) + 3]);
        var notes = ImmutableArray.CreateBuilder<Phrase>();
        var log = ratio.Estimate;
        if (!(log > Math.Log(Least) && log < Math.Log(Most))) return new ParityDensity { PerAcre = Estimate.None(Method, Phrase.Of("parity.beyond_numbers")) with { Level = level }, Fit = fit };
        if (log < lines.Least || log > lines.Most) notes.Add(Phrase.Of("parity.outside", ("least", Math.Exp(lines.Least)), ("most", Math.Exp(lines.Most))));
        if (lines.WithoutBelt > 0) notes.Add(Phrase.Of("parity.without_belt", ("nests", lines.WithoutBelt)));
        notes.Add(Phrase.Of("parity.caution"));
        var set = ParitySet.Of(new ParityFall(lines.Used, lines, fit.LogLikelihood, level), log, Tails.ChiSquareQuantile(level, 1), ratio);
        var se = Math.Exp(log) * ratio.Se;
        return new ParityDensity
        {
            PerAcre = new Estimate
            {
                Value = Math.Exp(log),
                Low = set.Shape == ParityShape.Bounded ? Math.Exp(set.Low!.Value) : null,
                High = set.Shape == ParityShape.Bounded ? Math.Exp(set.High!.Value) : null,
                Se = double.IsFinite(se) ? se : null,
                Level = level,
                Method = Method,
                Why = Why(set),
                Notes = notes.ToImmutable(),
            },
            Shape = set.Shape,
            Fit = fit,
        };
    }

    private static Phrase? Why(ParitySet set) => set.Shape switch
    {
        ParityShape.Bounded => null,
        ParityShape.TwoRays => Phrase.Of("parity.two_rays", ("low", Math.Exp(set.Low!.Value)), ("high", Math.Exp(set.High!.Value))),
        _ => Phrase.Of("parity.everything"),
    };

    private static ParityDensity None(Phrase why, double level) => new() { PerAcre = Estimate.None(Method, why) with { Level = level } };
}
