using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Survival that a model with fixed effects predicts.</summary>
/// <remarks>Effects of a model with random intercepts may be used too: then this is survival in a typical group (intercept 0), not the average over groups.</remarks>
public static class SurvivalPrediction
{
    /// <summary>What share of nests like this one survives to a day?</summary>
    /// <param name="effects">Effects with their covariance.</param>
    /// <param name="course">Pieces of days with constant effects from day 0 on, at least one; the last goes on as long as needed.</param>
    /// <param name="day">Day, ≥ 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>S in [0, 1] with limits on log(−log S) and the standard error of S; without limits, and with a reason, where the covariance can't be had, where the groups do not differ in it, on day 0, or where S is 0 or 1 in any digit. Null with a reason where the table says nothing about such nests.</returns>
    /// <remarks>S = e^(−H), H = Σ days·h(η). Delta method on log H: its slope is the mean of h′/h·x over the pieces, weighted by their hazards.</remarks>
    /// <source>Kalbfleisch and Prentice 1980, The Statistical Analysis of Failure Time Data, section 1.3 (limits on log(−log S)); from memory, to be confirmed. Delta method: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static Estimate At(FittedEffects effects, IReadOnlyList<PatternDays> course, double day, double level = 0.95)
    {
        var method = "predicted survival, " + effects.Method;
        if (!course.All(piece => effects.Knows(piece.X))) return Estimate.None(method, Phrase.Of("models.prediction_unknown")) with { Level = level };
        var hazard = CumulativeHazard.Of(effects, PatternDays.Until(course, day));
        var survival = Math.Exp(-hazard.H);
        var bare = new Estimate { Value = survival, Level = level, Method = method };
        if (effects.Variance(hazard.LogSlope) is not { } variance) return bare with { Why = effects.Why };
        if (survival is 0 or 1) return bare with { Why = Phrase.Of("models.prediction_at_end") };
        if (variance == 0) return bare with { Why = Phrase.Of("models.groups_alike") };
        var se = Math.Sqrt(variance);
        var reach = effects.Reach(level) * se;
        return bare with { Se = survival * hazard.H * se, Low = Math.Exp(-Math.Exp(hazard.Log + reach)), High = Math.Exp(-Math.Exp(hazard.Log - reach)) };
    }

    /// <summary>The curve of survival over days.</summary>
    /// <param name="effects">Effects with their covariance.</param>
    /// <param name="course">Pieces of days with constant effects from day 0 on, at least one.</param>
    /// <param name="days">Days, each ≥ 0.</param>
    /// <param name="level">Confidence level in (0, 1), of each day by itself.</param>
    /// <returns>One estimate a day, in the order of the days.</returns>
    /// <source>Kalbfleisch and Prentice 1980, The Statistical Analysis of Failure Time Data, section 1.3 (limits on log(−log S)); from memory, to be confirmed. Delta method: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static ImmutableArray<Estimate> Curve(FittedEffects effects, IReadOnlyList<PatternDays> course, IEnumerable<double> days, double level = 0.95) =>
        [.. days.Select(day => At(effects, course, day, level))];
}
