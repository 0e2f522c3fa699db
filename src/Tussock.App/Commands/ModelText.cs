using Spectre.Console;
using Tussock.Models;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>A survival model as a page of text: what it says in survival terms first, then its numbers.</summary>
internal sealed class ModelText
{
    private readonly SeasonModel model;
    private readonly Catalogue words;
    private readonly TextWriter output;
    private readonly TextPage page;

    private ModelText(SeasonModel model, Catalogue words, TextWriter output)
    {
        (this.model, this.words, this.output) = (model, words, output);
        page = new TextPage(words, output);
    }

    internal static void Write(SeasonModel model, Catalogue words, TextWriter output) => new ModelText(model, words, output).Whole();

    private void Whole()
    {
        output.WriteLine(model.Season.Settings.Title);
        foreach (var sentence in ModelSentences.Of(model)) Line("  " + words.Say(sentence));
        output.WriteLine();
        Line(words.Say(Phrase.Of("model_choice.head", ("model", model.Model.Design.Choice.ToString()), ("link", Phrase.Of(model.Model.Link == Models.Link.DailyLogit ? "model_choice.daily_logit" : "model_choice.log_hazard")))));
        Effects();
        foreach (var random in model.Model.Random) Line(words.Say(ModelSentences.Spread(random)));
        Line(words.Say(ModelSentences.Counts(model)));
        Prior();
        if (model.Comparison is { } comparison) Compared(comparison);
        if (model.FitCheck is { } check) Checked(check);
        foreach (var warning in model.Warnings.Concat(model.Comparison?.Notes ?? [])) Line(words.Say(Phrase.Of("model_choice.note", ("note", Sentences.Sentence(words.Say(warning))))));
    }

    private void Line(string text) => output.WriteLine(text);

    private void Effects()
    {
        var isGrouped = model.Model.Grouped is not null;
        var alone = model.Request.Profile ? "model_choice.column.limits_profile" : "model_choice.column.limits_independent";
        var table = isGrouped
            ? page.Table("model_choice.column.effect", "model_choice.column.estimate", "model_choice.column.limits", "model_choice.column.p")
            : page.Table("model_choice.column.effect", "model_choice.column.estimate", "model_choice.column.limits_clustered", "model_choice.column.p", alone, "model_choice.column.p");
        foreach (var e in model.Effects)
        {
            if (isGrouped) table.AddRow(Markup.Escape(e.Name), ModelSentences.Value(e.Estimate), ModelSentences.Limits(e.Estimate), P(e.P));
            else table.AddRow(Markup.Escape(e.Name), ModelSentences.Value(e.Estimate), ModelSentences.Limits(e.Clustered!), P(e.ClusteredP), ModelSentences.Limits(e.Estimate), P(e.P));
        }

        page.Write(table);
    }

    private void Prior()
    {
        if (model.Model.WithPrior is not { } prior) return;
        Line(words.Say(prior.Prior));
        var table = page.Table("model_choice.column.effect", "model_choice.column.estimate", "model_choice.column.limits");
        foreach (var e in prior.Effects) table.AddRow(Markup.Escape(e.Name), ModelSentences.Value(e.Estimate), ModelSentences.Limits(e.Estimate));
        page.Write(table);
    }

    private void Compared(ModelComparison comparison)
    {
        output.WriteLine();
        Line(words.Say(Phrase.Of("model_choice.compared", ("n", comparison.Rows))));
        var table = page.Table("model_choice.column.model", "model_choice.column.k", "model_choice.column.log_likelihood", "model_choice.column.aicc", "model_choice.column.delta", "model_choice.column.weight", "model_choice.column.ratio");
        foreach (var r in comparison.Ranked)
        {
            table.AddRow(Markup.Escape(r.Model.Name), Numbers.Whole(r.Model.Parameters), Numbers.Fixed(r.Model.LogLikelihood, 2), r.Aicc.HasValue ? Numbers.Fixed(r.Aicc.Value, 2) : "–", Fixed(r.Delta, 2), r.Aicc.HasValue ? Numbers.Fixed(r.Weight, 3) : "–", r.EvidenceRatio is < 1e6 and var ratio ? Numbers.Fixed(ratio, 1) : "–");
        }

        page.Write(table);
        foreach (var average in comparison.Averaged) Line("  " + words.Say(ModelSentences.Averaged(average)));
    }

    private void Checked(FitCheck check)
    {
        output.WriteLine();
        Line(words.Say(Phrase.Of("fit_check.head", ("resamples", check.Options.Resamples), ("seed", check.Options.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)))));
        foreach (var sentence in FitCheckSentences.Of(model)) Line("  " + words.Say(sentence));
        if (check.ByRisk.HasValue)
        {
            Line(words.Say("fit_check.by_class"));
            Residuals("fit_check.column.class", check.RiskClasses);
        }

        if (FitCheckSentences.Lines(check) is not { } lines) return;
        Line(words.Say(lines));
        if (!check.OutlyingLines.IsEmpty) Residuals("fit_check.column.line", check.OutlyingLines.Take(FitCheck.MostNamed));
    }

    private void Residuals(string part, IEnumerable<IntervalResidual> residuals)
    {
        var table = page.Table(part, "fit_check.column.intervals", "fit_check.column.observed", "fit_check.column.expected", "fit_check.column.standardised");
        foreach (var r in residuals) table.AddRow(Markup.Escape(r.Name), Numbers.Whole(r.Intervals), Numbers.Whole(r.Observed), Numbers.Fixed(r.Expected, 1), Fixed(r.Standardised, 1));
        page.Write(table);
    }

    private static string P(double? p) => p is { } x ? ModelSentences.P(x) : "–";

    private static string Fixed(double? x, int decimals) => x is { } value ? Numbers.Fixed(value, decimals) : "–";
}
