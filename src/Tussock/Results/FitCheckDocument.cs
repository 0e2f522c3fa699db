using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Models;

namespace Tussock.Results;

/// <summary>Writes a check of fit as the part <c>fit_check</c> of a model's document.</summary>
internal static class FitCheckDocument
{
    internal static void Write(SeasonModel model, JsonText json)
    {
        var writer = json.Writer;
        if (model.FitCheck is not { } check)
        {
            writer.WriteNull("fit_check");
            return;
        }

        writer.WriteStartObject("fit_check");
        writer.WriteNumber("resamples", check.Options.Resamples);
        writer.WriteNumber("seed", check.Options.Seed);
        writer.WriteNumber("n_intervals", check.Intervals);
        writer.WriteNumber("n_losses", check.Losses);
        Deviance("by_line", check.ByLine, json);
        Deviance("by_risk", check.ByRisk, json);
        Residuals("residuals_by_risk", "class", check.RiskClasses, json);
        Residuals("residuals_by_line", "line", check.Lines, json);
        writer.WriteNumber("outlying_by_chance", check.OutlyingByChance);
        writer.WriteStartArray("outlying_lines");
        foreach (var line in check.OutlyingLines) writer.WriteStringValue(line.Name);
        writer.WriteEndArray();
        writer.WriteStartArray("sentences");
        foreach (var sentence in FitCheckSentences.Of(model)) writer.WriteStringValue(json.Say(sentence));
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static void Deviance(string name, Answer<GroupedDeviance> found, JsonText json)
    {
        json.Writer.WriteStartObject(name);
        json.Answer("p", found.Then(d => d.P));
        json.Number("p_error", found.HasValue ? found.Value.PError : null);
        json.Number("deviance", found.HasValue ? found.Value.Deviance : null);
        json.Number("deviance_expected", found.HasValue ? found.Value.Mean : null);
        json.Number("cells", found.HasValue ? found.Value.Cells : null);
        json.Writer.WriteEndObject();
    }

    private static void Residuals(string name, string part, ImmutableArray<IntervalResidual> residuals, JsonText json)
    {
        json.Writer.WriteStartArray(name);
        foreach (var residual in residuals)
        {
            json.Writer.WriteStartObject();
            json.Writer.WriteString(part, residual.Name);
            json.Writer.WriteNumber("n_intervals", residual.Intervals);
            json.Writer.WriteNumber("observed", residual.Observed);
            json.Writer.WriteNumber("expected", residual.Expected);
            json.Number("standardised", residual.Standardised);
            json.Writer.WriteEndObject();
        }

        json.Writer.WriteEndArray();
    }
}
