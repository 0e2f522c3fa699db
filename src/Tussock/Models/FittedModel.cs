using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>One effect of a fitted model.</summary>
/// <param name="Name">Name of its column.</param>
/// <param name="Estimate">Value on the scale of the link, standard error by observed information, limits.</param>
/// <param name="Z">Value by standard error; null without one.</param>
/// <param name="P">Two-sided p of no effect; null when it can't be had.</param>
/// <param name="Clustered">The same value with a standard error that allows for lines that differ; null in a model with groups, which allows for them itself.</param>
/// <param name="ClusteredP">Two-sided p with it; null when it can't be had.</param>
public sealed record ModelEffect(string Name, Estimate Estimate, double? Z, double? P, Estimate? Clustered, double? ClusteredP);

/// <summary>Groups of nests that share luck in a fitted model.</summary>
/// <param name="Group">transect, pasture or year.</param>
/// <param name="Levels">Number of groups.</param>
/// <param name="Spread">How much they differ.</param>
public sealed record ModelRandom(string Group, int Levels, GroupedSpread Spread);

/// <summary>A survival model of a season, fitted: with groups or without, one shape.</summary>
/// <remarks>May be shared between threads.</remarks>
/// <source>Those of the fits without and with groups, EffectsFit and GroupedFit.</source>
/// <check>reference-seasons</check>
public sealed class FittedModel
{
    private FittedModel(ModelDesign design, Link link, EffectsFit? plain, GroupedFit? grouped, ImmutableArray<ModelRandom> random) =>
        (Design, Link, Plain, Grouped, Random) = (design, link, plain, grouped, random);

    /// <summary>Its effects on the nests used.</summary>
    public ModelDesign Design { get; }

    /// <summary>Scale of the effects.</summary>
    public Link Link { get; }

    /// <summary>The fit of a model without groups; null with groups.</summary>
    public EffectsFit? Plain { get; }

    /// <summary>The fit of a model with groups; null without.</summary>
    public GroupedFit? Grouped { get; }

    /// <summary>Groups that share luck; empty without.</summary>
    public ImmutableArray<ModelRandom> Random { get; }

    /// <summary>Effects in the order of the design's columns.</summary>
    /// <param name="profile">Whether limits of a model without groups are profile limits.</param>
    public ImmutableArray<ModelEffect> Effects(bool profile = false) => Plain is { } fit
        ? [.. fit.Coefficients.Select(c => new ModelEffect(c.Name, profile ? EffectProfile.Of(fit, c.Name) : c.Independent, c.Independent is { Value: { } value, Se: > 0 and var se } ? value / se : null, c.IndependentP, c.Clustered, c.ClusteredP))]
        : [.. Grouped!.Effects.Select(e => new ModelEffect(e.Name, e.Coefficient, e.Z, e.P, null, null))];

    /// <summary>Log-likelihood at the maximum, groups integrated out.</summary>
    public double LogLikelihood => Plain?.LogLikelihood ?? Grouped!.LogLikelihood;

    /// <summary>Coefficients and one for each standard deviation of groups: K.</summary>
    public int Parameters => Plain?.Parameters ?? Grouped!.Parameters;

    /// <summary>AICc with n = visit intervals, or why there is none.</summary>
    public Answer<double> Aicc => Plain?.Aicc ?? Grouped!.Aicc;

    /// <summary>Whether the search for the maximum ended as it should.</summary>
    public bool HasConverged => (Plain?.Diary ?? Grouped!.Diary).IsSound;

    /// <summary>What must be said beside the fit.</summary>
    public ImmutableArray<Phrase> Warnings => Plain?.Warnings ?? [.. Grouped!.Warnings.Select(Named)];

    /// <summary>The bounded answer where the data put an effect at no finite value; null where all are finite.</summary>
    public (Phrase Prior, ImmutableArray<ModelEffect> Effects)? WithPrior => (Plain, Grouped) switch
    {
        ({ IsSeparated: true } fit, _) => (fit.WithPrior.Prior, [.. fit.Table.Columns.Select((name, c) => Bounded(name, fit.WithPrior.Coefficients[c]))]),
        (_, { WithPrior: { } fit }) => (Phrase.Of("model_choice.prior"), [.. fit.Effects.Select(e => Bounded(e.Name, e.Coefficient))]),
        _ => null,
    };

    /// <summary>Fits a design.</summary>
    /// <param name="design">Effects on the nests used.</param>
    /// <param name="link">Scale of the effects.</param>
    /// <param name="groups">Groups that share luck; empty: none.</param>
    /// <param name="nodes">Nodes of the quadrature, 1 to 25; with several kinds of groups always 1.</param>
    /// <returns>The fit; a reason when there is none.</returns>
    public static Answer<FittedModel> Of(ModelDesign design, Link link, ImmutableArray<string> groups, int nodes)
    {
        var shared = NestGroups.Of(design.Nests, groups);
        var table = design.Table(shared);
        if (groups.IsEmpty) return EffectsFit.Of(table, link).Then(fit => new FittedModel(design, link, fit, null, []));
        var options = new GroupedOptions { Nodes = nodes };
        var above = shared.Groupings(table, design.Nests);
        var first = groups.Contains("transect") ? "transect" : groups[0];
        var fitted = above.IsEmpty ? GroupedFit.Of(table, link, options) : GroupedFit.Of(table, link, above, options);
        return fitted.Then(fit => new FittedModel(design, link, null, fit, [.. fit.Spreads.Select((s, i) => i == 0 ? new ModelRandom(first, table.Groups, s) : new ModelRandom(above[i - 1].Name, above[i - 1].Levels, s))]));
    }

    /// <summary>The table's groups are lines to a fit; where they are pastures or years, a warning says so.</summary>
    private Phrase Named(Phrase warning) => new(warning.Key, [.. warning.Arguments.Select(a => a is { Name: "grouping", Value: "line" } ? a with { Value = Random[0].Group } : a)]);

    private static ModelEffect Bounded(string name, Estimate effect) => new(name, effect, null, null, null, null);

    /// <summary>Survival of a nest to a day.</summary>
    /// <param name="nest">The nest of a pattern under this model's design.</param>
    /// <param name="days">Days since set-out, &gt; 0.</param>
    public ModelPrediction Predict(PredictedNest nest, double days)
    {
        var course = nest.Course(days);
        if (Plain is { } fit) return new ModelPrediction(nest, days, SurvivalPrediction.At(fit.Independent, course, days), SurvivalPrediction.At(fit.Clustered, course, days), null);
        return new ModelPrediction(nest, days, GroupedSurvival.Typical(Grouped!, course, days), null, GroupedSurvival.Average(Grouped!, course, days));
    }
}
