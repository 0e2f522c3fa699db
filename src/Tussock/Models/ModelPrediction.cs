namespace Tussock.Models;

/// <summary>Survival that a model predicts for one nest.</summary>
/// <param name="Nest">The nest.</param>
/// <param name="Days">Days since set-out.</param>
/// <param name="Survival">Chance to be intact at that day, limits by the model's own standard errors; in a model with groups on the typical transect.</param>
/// <param name="Clustered">In a model without groups the same chance with limits that allow for lines that differ; null with groups.</param>
/// <param name="Average">In a model with groups the chance averaged over them; null without.</param>
public sealed record ModelPrediction(PredictedNest Nest, double Days, Estimate Survival, Estimate? Clustered, Estimate? Average)
{
    /// <summary>What a nest of the season's lines may expect: averaged over groups where the model has them.</summary>
    public Estimate Marginal => Average ?? Survival;

    /// <summary>What is shown first: averaged over groups, or with limits that allow for lines that differ where there are any.</summary>
    public Estimate Shown => Average ?? (Clustered is { Low: not null } clustered ? clustered : Survival);
}
