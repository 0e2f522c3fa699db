using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>What several models together say about one number, so that the choice of a model is not taken for certain.</summary>
public static class ModelAverage
{
    /// <summary>The average of one number over models, with its unconditional standard error.</summary>
    /// <param name="models">Weight, value and standard error of each model; weights ≥ 0 that add to 1.</param>
    /// <returns>θ̄ = Σw·θ, and se = Σw·√(se² + (θ − θ̄)²), which holds the differences between models beside the doubt within each.</returns>
    /// <source>Burnham &amp; Anderson 2002, Model Selection and Multimodel Inference, 2nd ed., section 4.3; Buckland, Burnham &amp; Augustin 1997, Biometrics 53:603–618.</source>
    /// <check>published-values</check>
    public static (double Value, double Se) Of(IReadOnlyCollection<(double Weight, double Value, double Se)> models)
    {
        var mean = models.Sum(m => m.Weight * m.Value);
        return (mean, models.Sum(m => m.Weight * Math.Sqrt(m.Se * m.Se + (m.Value - mean) * (m.Value - mean))));
    }

    /// <summary>Name of the method, as results give it.</summary>
    public const string Method = "average over models by AICc weight, unconditional standard error, limits on the logit scale";

    /// <summary>Survival averaged over models, with limits.</summary>
    /// <param name="models">Weight, survival in [0, 1] and standard error of each model.</param>
    /// <param name="level">Level of the limits.</param>
    /// <returns>Survival in [0, 1]; limits expit(logit S̄ ± z·se/(S̄(1 − S̄))); without limits and with a reason when S̄ is 0 or 1.</returns>
    /// <source>Burnham &amp; Anderson 2002, Model Selection and Multimodel Inference, 2nd ed., section 4.3; limits on the logit scale: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static Estimate Survival(IReadOnlyCollection<(double Weight, double Value, double Se)> models, double level = 0.95)
    {
        var (value, se) = Of(models);
        if (!(value is > 0 and < 1)) return new Estimate { Method = Method, Value = Math.Clamp(value, 0, 1), Level = level, Why = Phrase.Of("model_choice.average_at_end") };
        var half = Tails.NormalQuantile((1 + level) / 2) * se / (value * (1 - value));
        return new Estimate { Method = Method, Value = value, Se = se, Level = level, Low = Exponentials.Expit(Exponentials.Logit(value) - half), High = Exponentials.Expit(Exponentials.Logit(value) + half) };
    }
}
