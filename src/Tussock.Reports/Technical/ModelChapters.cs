using Tussock.Models;
using Tussock.Pictures;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Why: what goes with survival, from the usual models of the season, and where other cover and grass survive alike.</summary>
internal sealed class ModelChapters(Html html, ReportNumbers numbers)
{
    /// <summary>Clumps an acre at which, as a rule of thumb, nests in other cover and in grass survive alike; common practice, no source.</summary>
    private const double RuleOfThumb = 300;

    private readonly SeasonResults results = numbers.Results;
    private readonly ReportModels models = numbers.Models;

    private double Benchmark => results.Season.Settings.SurvivalBenchmark;

    internal void Why()
    {
        html.Paragraph(Phrase.Of("model_report.intro"));
        if (!models.Season.HasValue)
        {
            html.Paragraph(Phrase.Of("model_report.no_models", ("why", models.Season.Why)));
            return;
        }

        var season = models.Season.Value;
        Compared(season);
        Effects(season);
        Transects(season);
        Together(season);
        Courses();
        html.List(season.Warnings.Concat(season.Comparison!.Notes).Select(w => Sentences.Sentence(html.Say(w))).Distinct(StringComparer.Ordinal), "class=\"notes\"");
    }

    internal void Parity()
    {
        html.Open("article").Paragraph(Phrase.Of("model_report.parity_intro", ("clumps", RuleOfThumb)));
        var parity = results.Parity.PerAcre;
        if (models.Ratio.HasValue)
        {
            var ratio = models.Ratio.Value;
            var curve = ratio.Curve.Select(c => new RatioDot(c.PerAcre, Dot.Of(c.Ratio), c.IsWalked));
            var (other, grass) = (string.Join(", ", ratio.Other), string.Join(", ", ratio.Grass));
            html.Paragraph(Phrase.Of("model_report.ratio", ("other", other), ("grass", grass), ("days", results.Trial.Days)));
            html.Picture(RatioCurve.Draw(new RatioContent(other, grass, [.. curve], ratio.Walked, Dot.Of(parity), results.Season.Settings.ClumpsPerAcreBenchmark), html.Words)).Close("article");
            html.List(ratio.Curve.SelectMany(c => Tables.Said(html, c.Ratio)).Distinct(StringComparer.Ordinal), "class=\"notes\"");
        }
        else
        {
            html.Paragraph(models.Ratio.Why).Close("article");
        }

        html.Paragraph(InWords(parity));
        html.List(parity.Notes.Where(n => n.Key != "parity.caution").Select(n => Sentences.Sentence(html.Say(n))), "class=\"notes\"");
        html.List([html.Words.Say("model_report.caution_crosses"), html.Words.Say("model_report.caution_uncertain")], "class=\"caution\"");
    }

    /// <summary>The parity density with its limits or the reason why it has none; nothing where the reason already stands in place of the picture.</summary>
    private Phrase? InWords(Estimate parity) => parity switch
    {
        { Value: { } value, Low: { } low, High: { } high } => Phrase.Of("model_report.parity_says", ("value", value), ("low", low), ("high", high), ("level", parity.Level)),
        { Value: { } value, Why: { } why } => Phrase.Of("model_report.parity_says_why", ("value", value), ("why", Sentences.Sentence(html.Say(why)))),
        { Value: null, Why: { } why } when models.Ratio.HasValue || why.Key != models.Ratio.Why.Key => why,
        _ => null,
    };

    private void Compared(SeasonModel season)
    {
        var (nests, ranked) = (season.Model.Design.Nests, season.Comparison!.Ranked);
        html.Element("h3", html.Words.Say("model_report.compared_head"))
            .Paragraph(Phrase.Of("model_report.compared", ("nests", nests.Rows.Length), ("intervals", nests.Intervals), ("losses", nests.Losses)));
        Tables.Write(html, ["model_report.col.model", "model_report.col.numbers", "model_choice.column.aicc", "model_choice.column.delta", "model_choice.column.weight", "model_report.col.ratio"], ranked.Select(r => (string[])
        [
            html.Say(ModelNames.Of(EffectChoice.Read(r.Model.Name))), Numbers.Whole(r.Model.Parameters), r.Aicc.HasValue ? Numbers.Fixed(r.Aicc.Value, 2) : "–", r.Delta is { } delta ? Numbers.Fixed(delta, 2) : "–",
            r.Aicc.HasValue ? Weight(r.Weight) : "–", r.EvidenceRatio is { } ratio ? Evidence(ratio) : "–",
        ]));
        if (ranked is [{ Weight: > 0 }, { EvidenceRatio: { } next }, ..]) html.Paragraph(Phrase.Of("model_report.evidence", ("best", ModelNames.Of(EffectChoice.Read(ranked[0].Model.Name))), ("ratio", Evidence(next))));
    }

    private string Weight(double weight) => weight < 0.005 ? html.Words.Say("say.under_1") : Numbers.Percent(weight);

    private string Evidence(double ratio) => ratio < 100 ? Numbers.Fixed(ratio, 1) : ratio < 1e6 ? Numbers.Whole((long)Math.Round(ratio)) : html.Words.Say("model_report.over_a_million");

    private void Effects(SeasonModel season)
    {
        html.Open("article").Element("h3", html.Words.Say("model_report.effects_head"))
            .Paragraph(Phrase.Of("model_report.effects", ("model", ModelNames.Of(season.Model.Design.Choice)), ("days", season.Days)));
        EffectShown[] shown = season.Contrasts.IsEmpty
            ? [new EffectShown(html.Words.Say("model_report.typical"), [.. season.Predictions.Select(p => Value("", p))])]
            : [.. season.Contrasts.Select(c => new EffectShown(Heading(c.Contrast), [.. c.Points.Zip(c.Contrast.Points, (p, point) => Value(html.Say(ModelNames.Value(c.Contrast.Effect, point)), p))]))];
        if (shown.Any(e => e.Values.Any(v => v.Average.Value is not null))) html.Picture(EffectsChart.Draw(shown, Benchmark, season.Days, html.Words));
        html.Close("article").List(season.Contrasts.SelectMany(c => c.Points).Concat(season.Predictions).SelectMany(p => Tables.Said(html, p.Shown)).Distinct(StringComparer.Ordinal), "class=\"notes\"");
        Tables.Write(html, ["model_report.col.effect", "model_choice.column.estimate", "model_choice.column.limits", "model_choice.column.p"], season.Effects.Select(Effect), "class=\"short\"");
        if (season.Model.WithPrior is not { } prior) return;
        html.Paragraph(prior.Prior);
        Tables.Write(html, ["model_report.col.effect", "model_choice.column.estimate", "model_choice.column.limits", "model_choice.column.p"], prior.Effects.Select(Effect), "class=\"short\"");
    }

    private static string[] Effect(ModelEffect e) => [e.Name, ModelSentences.Value(e.Estimate), ModelSentences.Limits(e.Estimate), e.P is { } p ? ModelSentences.P(p) : "–"];

    private string Heading(Contrast contrast)
    {
        var effect = Sentences.Heading(html.Say(contrast.Effect == "fortnight" ? Phrase.Of("model_report.fortnight_heading") : ModelNames.Effect(contrast.Effect)));
        return contrast.Given.Set.IsEmpty ? effect : html.Say(Phrase.Of("model_report.given", ("effect", effect), ("given", ModelNames.Of(contrast.Given))));
    }

    private EffectValue Value(string name, ModelPrediction prediction) =>
        new(name, Dot.Of(prediction.Shown), Dot.Of(prediction.Survival), prediction.Shown.Why is { } why ? html.Say(why) : "");

    /// <summary>How much transects differ beside the effects: the standard deviation, and what it means for survival.</summary>
    private void Transects(SeasonModel season)
    {
        html.Element("h3", html.Words.Say("model_report.transects_head"));
        foreach (var random in season.Model.Random) html.Paragraph(Phrase.Of("model_report.spread", ("spread", ModelSentences.Spread(random))));
        if (models.Between is { } between) html.Paragraph(Phrase.Of("model_report.between", ("share", ReportModels.MostTransects), ("low", between.Low), ("high", between.High), ("days", season.Days)));
    }

    private void Together(SeasonModel season)
    {
        if (season.Comparison!.Averaged.All(a => a.Survival.Value is null)) return;
        html.Element("h3", html.Words.Say("model_report.together_head")).Paragraph(Phrase.Of("model_report.together"));
        Tables.Write(html, ["model_report.col.nest", "model_report.col.together"], season.Comparison.Averaged.Select(a => (string[])[Sentences.Heading(html.Say(ModelNames.Of(a.Pattern))), EstimateText.Share(a.Survival)]));
        html.List(season.Comparison.Averaged.SelectMany(a => Tables.Said(html, a.Survival)).Distinct(StringComparer.Ordinal), "class=\"notes\"");
    }

    private void Courses()
    {
        html.Open("article").Element("h3", html.Words.Say("model_report.courses_head"));
        if (!models.Courses.HasValue)
        {
            html.Paragraph(models.Courses.Why).Close("article");
            return;
        }

        var courses = models.Courses.Value;
        var drawn = courses.Classes.Where(c => c.AtEnd.Value is not null).ToArray();
        html.Paragraph(Phrase.Of("model_report.courses", ("model", ModelNames.Of(courses.Model)), ("weight", Weight(courses.Weight))));
        if (drawn.Length > 0) html.Picture(SurvivalByClassChart.Draw([.. Tables.First(html, drawn, SurvivalByClassChart.MostClasses).Select(Course)], [.. results.Season.Settings.CheckDays.Select(d => (double)d)], Benchmark, results.Trial.Days, html.Words));
        html.Close("article");
        Tables.Notes(html, courses.Classes.Select(c => (c.Cover, Tables.Said(html, c.AtEnd))));
    }

    private static ClassCourse Course(CoverCourse course) => new(course.Cover, [.. course.Days.Select(d => (d.Day, Dot.Of(d.Survival)))]);
}
