using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>One of several models fitted to the same rows.</summary>
/// <param name="Name">What was chosen, in plain words.</param>
/// <param name="Parameters">K: coefficients, and one for each standard deviation of groups.</param>
/// <param name="LogLikelihood">Log-likelihood at its maximum.</param>
public sealed record ComparedModel(string Name, int Parameters, double LogLikelihood);

/// <summary>Where a model stands among the others.</summary>
/// <param name="Model">The model.</param>
/// <param name="Aicc">AICc; a reason when there are too few rows for its parameters, and then the model has no weight.</param>
/// <param name="Delta">AICc less that of the best; null without AICc.</param>
/// <param name="Weight">Share of the evidence, in [0, 1]; 0 without AICc.</param>
/// <param name="EvidenceRatio">How many times more the evidence speaks for the best model: e^(Δ/2), ≥ 1; null without AICc or beyond any number.</param>
public sealed record RankedModel(ComparedModel Model, Answer<double> Aicc, double? Delta, double Weight, double? EvidenceRatio);

/// <summary>Which of several models of the same rows do the data speak for?</summary>
public static class Akaike
{
    /// <summary>The models, best first, with their weights.</summary>
    /// <param name="models">Models fitted to the same rows, any order.</param>
    /// <param name="rows">n, the rows: visit intervals.</param>
    /// <returns>In order of AICc, equal ones in the order given; models without AICc last. Weights add to 1 unless no model has AICc.</returns>
    /// <remarks>w = e^(−Δ/2)/Σe^(−Δ/2). Says which of these models the data speak for, not whether any of them is good; adding near copies of a model takes weight from it. Cost O(M log M).</remarks>
    /// <source>Burnham &amp; Anderson 2002, Model Selection and Multimodel Inference, 2nd ed., sections 2.6 and 2.9.</source>
    /// <check>published-values</check>
    public static ImmutableArray<RankedModel> Rank(IReadOnlyList<ComparedModel> models, int rows)
    {
        var aicc = models.Select(m => InformationCriterion.Aicc(m.LogLikelihood, m.Parameters, rows)).ToArray();
        var known = aicc.Where(a => a.HasValue).Select(a => a.Value).ToArray();
        if (known.Length == 0) return [.. models.Select((m, i) => new RankedModel(m, aicc[i], null, 0, null))];
        var best = known.Min();
        var total = known.Sum(a => Math.Exp((best - a) / 2));
        return [.. models.Select((m, i) => Ranked(m, aicc[i], best, total)).OrderBy(r => r.Delta ?? double.PositiveInfinity)];
    }

    private static RankedModel Ranked(ComparedModel model, Answer<double> aicc, double best, double total)
    {
        if (!aicc.HasValue) return new RankedModel(model, aicc, null, 0, null);
        var delta = aicc.Value - best;
        var ratio = Math.Exp(delta / 2);
        return new RankedModel(model, aicc, delta, Math.Exp(-delta / 2) / total, double.IsFinite(ratio) ? ratio : null);
    }
}
