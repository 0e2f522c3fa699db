using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>A survival model of a season, fitted and put into survival terms: what the command line and its JSON say.</summary>
/// <remarks>Same season and request, same bits. May be shared between threads.</remarks>
public sealed class SeasonModel
{
    private SeasonModel()
    {
    }

    /// <summary>The season.</summary>
    public required Season Season { get; init; }

    /// <summary>What was asked for.</summary>
    public required ModelRequest Request { get; init; }

    /// <summary>The model that is shown.</summary>
    public required FittedModel Model { get; init; }

    /// <summary>All models that were fitted, in the order of the candidates; the shown one is among them.</summary>
    public required ImmutableArray<FittedModel> Models { get; init; }

    /// <summary>Its effects, with the limits asked for.</summary>
    public required ImmutableArray<ModelEffect> Effects { get; init; }

    /// <summary>What each effect does in survival terms, with a prediction a point.</summary>
    public required ImmutableArray<(Contrast Contrast, ImmutableArray<ModelPrediction> Points)> Contrasts { get; init; }

    /// <summary>Predictions that were asked for; without effects and without a wish the season's typical nest.</summary>
    public required ImmutableArray<ModelPrediction> Predictions { get; init; }

    /// <summary>The models compared; null when none were.</summary>
    public required ModelComparison? Comparison { get; init; }

    /// <summary>Whether the model shown agrees with the season; null when it was not asked.</summary>
    public required FitCheck? FitCheck { get; init; }

    /// <summary>What must be said beside the model.</summary>
    public required ImmutableArray<Phrase> Warnings { get; init; }

    /// <summary>Day that survival is predicted to.</summary>
    public double Days => Request.Days ?? Season.Settings.TrialDays;

    /// <summary>Fits what is asked for.</summary>
    /// <returns>The model; a reason when an effect or a pattern is not known, nothing can be fitted, or a check of fit is asked for beside groups.</returns>
    /// <exception cref="OperationCanceledException">The check of fit was stopped.</exception>
    public static Answer<SeasonModel> Of(Season season, ModelRequest request)
    {
        if (request.FitCheck is not null && !request.Random.IsEmpty) return NoAnswer.Because("fit_check.no_groups");
        var options = new FrameOptions { Cameras = request.Cameras, Outcome = request.Outcome, ClumpsPerAcre = LineDensities.Of(season, Belts.Of(season)) };
        var frame = ModelFrame.Of(season, SeasonFates.Of(season), options);
        var candidates = Candidates(frame, request);
        var nests = ModelNests.Of(frame, candidates.SelectMany(c => c.Effects).Concat(request.Random.Where(r => r == "year")));
        if (!nests.HasValue) return new NoAnswer(nests.Why);
        List<FittedModel> models = [];
        foreach (var choice in candidates)
        {
            var fit = FittedModel.Of(ModelDesign.Of(nests.Value, choice), request.Link, request.Random, request.Nodes);
            if (!fit.HasValue) return new NoAnswer(fit.Why);
            models.Add(fit.Value);
        }

        return Shown(season, request, models);
    }

    private static ImmutableArray<EffectChoice> Candidates(ModelFrame frame, ModelRequest request)
    {
        if (request.Compare is not { } list) return [request.Effects ?? (frame.Choices().Contains("cover") ? EffectChoice.Read("cover") : EffectChoice.Constant)];
        var candidates = list.IsEmpty ? ModelComparison.Usual(frame) : list;
        return [.. (request.Effects is { } own ? candidates.Add(own) : candidates).Distinct()];
    }

    private static Answer<SeasonModel> Shown(Season season, ModelRequest request, List<FittedModel> models)
    {
        var days = request.Days ?? season.Settings.TrialDays;
        var shown = request.Effects is { } own ? models.First(m => m.Design.Choice.Equals(own)) : Best(models);
        var asked = Predicted(shown, request.Predict, days);
        if (!asked.HasValue) return new NoAnswer(asked.Why);
        var contrasts = Contrast.Of(shown.Design).Select(c => (c, Predicted(shown, c.Patterns, days).Value)).ToImmutableArray();
        return new SeasonModel
        {
            Season = season,
            Request = request,
            Model = shown,
            Models = [.. models],
            Effects = shown.Effects(request.Profile),
            Contrasts = contrasts,
            Predictions = asked.Value.IsEmpty && contrasts.IsEmpty ? Predicted(shown, [Pattern.Typical], days).Value : asked.Value,
            Comparison = request.Compare is null ? null : Compared(models, request, days),
            FitCheck = request.FitCheck is { } check ? FitCheck.Of(shown.Design.Visits(), request.Link, check) : null,
            Warnings = Said(shown, request),
        };
    }

    /// <summary>The best by AICc; the smallest where no model has it.</summary>
    private static FittedModel Best(List<FittedModel> models) => models.MinBy(m => m.Aicc.HasValue ? (0, m.Aicc.Value) : (1, m.Parameters))!;

    private static Answer<ImmutableArray<ModelPrediction>> Predicted(FittedModel model, IEnumerable<Pattern> patterns, double days)
    {
        var all = ImmutableArray.CreateBuilder<ModelPrediction>();
        foreach (var pattern in patterns)
        {
            var nest = PredictedNest.Of(model.Design, pattern);
            if (!nest.HasValue) return new NoAnswer(nest.Why);
            all.Add(model.Predict(nest.Value, days));
        }

        return all.ToImmutable();
    }

    private static ModelComparison Compared(List<FittedModel> models, ModelRequest request, double days)
    {
        var nests = models[0].Design.Nests;
        var together = new EffectChoice([.. models.SelectMany(m => m.Design.Choice.Effects).Distinct(StringComparer.Ordinal)], []);
        IEnumerable<Pattern> patterns = request.Predict.IsEmpty ? Contrast.Of(ModelDesign.Of(nests, together)).SelectMany(c => c.Patterns) : request.Predict;
        var predictions = patterns.DefaultIfEmpty(Pattern.Typical).Select(p => (p, days, models.Select(m => m.Predict(PredictedNest.Of(m.Design, p.For(m.Design)).Value, days)).ToArray()));
        return ModelComparison.Of(models, [.. predictions]);
    }

    private static ImmutableArray<Phrase> Said(FittedModel model, ModelRequest request)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        var nests = model.Design.Nests;
        foreach (var (effect, count) in nests.LeftOut) said.Add(Phrase.Of("model_choice.left_out", ("effect", effect), ("nests", count)));
        foreach (var name in model.Design.LeftOut) said.Add(Phrase.Of("model_choice.says_nothing", ("name", name)));
        said.AddRange(model.Warnings);
        if (ModelComparison.IsTooMany(model.Parameters, nests.Losses)) said.Add(Phrase.Of("model_choice.few_losses", ("parameters", model.Parameters), ("losses", nests.Losses)));
        if (request.Profile && model.Grouped is not null) said.Add(Phrase.Of("model_choice.no_profile"));
        if (nests.Frame.Outcome == Outcome.Predation) said.Add(Phrase.Of("model_choice.predation_only"));
        return said.ToImmutable();
    }
}
