using System.Collections.Immutable;
using Tussock.Models;

namespace Tussock.Results;

/// <summary>Several models of the same nests, held against each other.</summary>
/// <param name="Ranked">The models, best first.</param>
/// <param name="Rows">n: visit intervals.</param>
/// <param name="Averaged">Survival averaged over the models, one a prediction of the shown model.</param>
/// <param name="Notes">What must be said beside the table.</param>
public sealed record ModelComparison(ImmutableArray<RankedModel> Ranked, int Rows, ImmutableArray<AveragedSurvival> Averaged, ImmutableArray<Phrase> Notes)
{
    /// <summary>More candidates than this need a reason each.</summary>
    private const int ManyModels = 10;

    /// <summary>Losses that each coefficient should have.</summary>
    private const int LossesEach = 10;

    /// <summary>A list that answers the usual questions with what this season recorded: nothing, cover, fortnight, clumps and concealment, and cover together with each.</summary>
    public static ImmutableArray<EffectChoice> Usual(ModelFrame frame)
    {
        var offered = frame.Choices();
        string[] wanted = ["constant", "cover", "fortnight", "cover, fortnight", "cover, clumps_per_acre", "cover by clumps_per_acre", "cover, concealment"];
        // Where years are pooled nobody can look past them; a single season's list stays what it was.
        if (frame.Season.Tables.Pooled is not null) wanted = [.. wanted, "year", "cover, year"];
        return [.. wanted.Select(EffectChoice.Read).Where(c => c.Effects.All(e => offered.Contains(e)))];
    }

    /// <summary>Whether a model has more coefficients than its losses can carry.</summary>
    /// <source>Common practice, no source: ten events a coefficient.</source>
    public static bool IsTooMany(int parameters, int losses) => parameters > 1 && LossesEach * parameters > losses;

    /// <summary>Holds fitted models against each other.</summary>
    /// <param name="models">Models of the same nests.</param>
    /// <param name="predictions">What is predicted by each model, in the same order; one list a prediction.</param>
    internal static ModelComparison Of(IReadOnlyList<FittedModel> models, IReadOnlyList<(Pattern Pattern, double Days, ModelPrediction[] ByModel)> predictions)
    {
        var nests = models[0].Design.Nests;
        var compared = models.Select(m => new ComparedModel(m.Design.Choice.ToString(), m.Parameters, m.LogLikelihood)).ToArray();
        var ranked = Akaike.Rank(compared, nests.Intervals);
        var weights = compared.Select(c => ranked.First(r => ReferenceEquals(r.Model, c)).Weight).ToArray();
        return new ModelComparison(ranked, nests.Intervals, [.. predictions.Select(p => Average(p.Pattern, p.Days, p.ByModel, weights))], Said(ranked, compared, nests));
    }

    private static AveragedSurvival Average(Pattern pattern, double days, ModelPrediction[] models, double[] weights)
    {
        var used = models.Select((m, i) => (Prediction: m, Weight: weights[i])).Where(m => m.Weight > 0).ToArray();
        var isWhole = used.Length > 0 && used.All(m => m.Prediction.Marginal is { Value: not null, Se: not null });
        return new AveragedSurvival(pattern, days, [.. models], isWhole
            ? ModelAverage.Survival([.. used.Select(m => (m.Weight, m.Prediction.Marginal.Value!.Value, m.Prediction.Marginal.Se!.Value))])
            : Estimate.None(ModelAverage.Method, Phrase.Of("model_choice.no_average")));
    }

    private static ImmutableArray<Phrase> Said(ImmutableArray<RankedModel> ranked, ComparedModel[] compared, ModelNests nests)
    {
        var notes = ImmutableArray.CreateBuilder<Phrase>();
        if (compared.Length > ManyModels) notes.Add(Phrase.Of("model_choice.many_models", ("models", compared.Length)));
        var largest = compared.Max(c => c.Parameters);
        if (IsTooMany(largest, nests.Losses)) notes.Add(Phrase.Of("model_choice.few_losses_largest", ("parameters", largest), ("losses", nests.Losses)));
        var byNests = Akaike.Rank(compared, nests.Rows.Length);
        var both = ranked.Where(r => r.Aicc.HasValue).Select(r => r.Model).Intersect(byNests.Where(r => r.Aicc.HasValue).Select(r => r.Model)).ToHashSet();
        var order = ranked.Select(r => r.Model).Where(both.Contains).ToArray();
        var other = byNests.Select(r => r.Model).Where(both.Contains).ToArray();
        if (!order.SequenceEqual(other)) notes.Add(Phrase.Of("model_choice.order_changes", ("intervals", nests.Intervals), ("nests", nests.Rows.Length), ("best", other[0].Name)));
        return notes.ToImmutable();
    }
}

/// <summary>Survival of one nest averaged over models.</summary>
/// <param name="Pattern">The nest.</param>
/// <param name="Days">Days since set-out.</param>
/// <param name="ByModel">What each model says, in the order of the candidates.</param>
/// <param name="Survival">The average; in models with groups of the survival averaged over groups.</param>
public sealed record AveragedSurvival(Pattern Pattern, double Days, ImmutableArray<ModelPrediction> ByModel, Estimate Survival);
