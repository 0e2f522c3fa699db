using Tussock.Models;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>What a survival model says, in survival terms: the sentences that command line and report share.</summary>
public static class ModelSentences
{
    /// <summary>What each effect does, then what was asked for; survival averaged over groups where the model has them.</summary>
    public static IEnumerable<Phrase> Of(SeasonModel model) =>
        model.Contrasts.SelectMany(c => c.Contrast.Effect == "cover" ? Classes(c, model.Days, "model_choice.says_cover") : Classes(c, model.Days, "model_choice.says_effect")).Concat(model.Predictions.Select(Prediction)).Concat(Typical(model));

    /// <summary>"sd between transects …".</summary>
    public static Phrase Spread(ModelRandom random) => random.Spread.Sd is { Value: { } sd, Low: { } low, High: { } high }
        ? Phrase.Of("model_choice.spread", ("group", random.Group), ("levels", random.Levels), ("sd", sd), ("low", low), ("high", high), ("p", P(random.Spread.P)))
        : Phrase.Of("model_choice.spread_alone", ("group", random.Group), ("levels", random.Levels), ("sd", random.Spread.Sd.Value ?? 0), ("why", (object?)random.Spread.Sd.Why ?? ""));

    /// <summary>A p value: three decimals, never 0.</summary>
    public static string P(double p) => p < 0.001 ? "< 0.001" : Numbers.Fixed(p, 3);

    /// <summary>An effect on the scale of the link; as many decimals that its standard error shows two digits, so that an effect of one clump an acre is no 0.</summary>
    public static string Value(Estimate effect) => effect.Value is { } value ? Numbers.Fixed(value, Decimals(effect)) : "–";

    /// <summary>Its limits, "-0.05 … 0.55".</summary>
    public static string Limits(Estimate effect) => effect is { Low: { } low, High: { } high } ? Numbers.Fixed(low, Decimals(effect)) + " … " + Numbers.Fixed(high, Decimals(effect)) : "–";

    /// <summary>Nests, intervals, losses, log-likelihood and AICc.</summary>
    public static Phrase Counts(SeasonModel model)
    {
        var (fit, nests) = (model.Model, model.Model.Design.Nests);
        return Phrase.Of("model_choice.counts", ("nests", nests.Rows.Length), ("intervals", nests.Intervals), ("losses", nests.Losses), ("log_likelihood", fit.LogLikelihood), ("parameters", fit.Parameters), ("aicc", fit.Aicc.HasValue ? Numbers.Fixed(fit.Aicc.Value, 2) : fit.Aicc.Why));
    }

    /// <summary>Survival averaged over models.</summary>
    public static Phrase Averaged(AveragedSurvival average) =>
        Phrase.Of("model_choice.averaged", ("pattern", InWords(average.Pattern)), ("days", average.Days), ("survival", Survival(average.Survival)));

    private static int Decimals(Estimate e) => e.Se is > 0 and var se ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(se)), 2, 9) : 3;

    private static Phrase Prediction(ModelPrediction prediction) =>
        Phrase.Of("model_choice.predicted", ("pattern", InWords(prediction.Nest.Pattern)), ("days", prediction.Days), ("survival", Survival(prediction.Shown)));

    /// <summary>What the typical nest is, where a sentence rests on it: with two effects or more.</summary>
    private static IEnumerable<Phrase> Typical(SeasonModel model)
    {
        var nest = PredictedNest.Of(model.Model.Design, Pattern.Typical).Value;
        var pattern = string.Join(", ", nest.Fixed.Select(f => f.Effect.Name + " = " + (f.Effect.IsNumber ? Numbers.ThreeDigits(f.Value) : f.Effect.Levels[(int)f.Value])));
        if (nest.Effects.Length > 1 && pattern.Length > 0) yield return Phrase.Of("model_choice.typical_nest", ("pattern", pattern));
    }

    private static IEnumerable<Phrase> Classes((Contrast Contrast, System.Collections.Immutable.ImmutableArray<ModelPrediction> Points) contrast, double days, string key)
    {
        var (given, effect, points) = (contrast.Contrast.Given, contrast.Contrast.Effect, contrast.Contrast.Points);
        for (var i = 1; i < points.Length; i++)
        {
            var says = Phrase.Of(key, ("effect", effect), ("other", Short(points[i])), ("reference", Short(points[0])), ("days", days), ("survival", Survival(contrast.Points[i].Shown)), ("against", Survival(contrast.Points[0].Shown)));
            yield return given.Set.IsEmpty ? says : Phrase.Of("model_choice.given", ("pattern", InWords(given)), ("says", says));
        }
    }

    private static object InWords(Pattern pattern) => pattern.Set.IsEmpty ? Phrase.Of("model_choice.typical") : string.Join(", ", pattern.Set.Select(s => s.Effect + " = " + Short(s.Value)));

    /// <summary>A number as people read it; any other text as it is.</summary>
    internal static string Short(string value) => Records.Cell.Number(value) is { } x ? Numbers.ThreeDigits(x) : value;

    private static object Survival(Estimate e) => e switch
    {
        { Value: { } x, Low: { } low, High: { } high } => Numbers.Percent(x) + " (" + Numbers.PercentRange(low, high) + ")",
        { Value: { } x } => Numbers.Percent(x),
        _ => Phrase.Of("model_choice.no_survival"),
    };
}
