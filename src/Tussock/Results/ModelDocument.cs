using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Models;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>Writes a survival model as the JSON document <c>model/1</c>. Same model, same bytes.</summary>
public sealed class ModelDocument
{
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private readonly SeasonModel model;
    private readonly Utf8JsonWriter writer;
    private readonly JsonText json;
    private readonly Catalogue words;

    private ModelDocument(SeasonModel model, Utf8JsonWriter writer, Catalogue words) => (this.model, this.writer, this.words, json) = (model, writer, words, new JsonText(writer, words));

    /// <summary>Writes the document.</summary>
    /// <param name="model">The model.</param>
    /// <param name="words">Language of the sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(SeasonModel model, Catalogue words, IBufferWriter<byte> target)
    {
        using var text = new Utf8JsonWriter(target, Options);
        new ModelDocument(model, text, words).Whole();
    }

    private void Whole()
    {
        var (fit, nests) = (model.Model, model.Model.Design.Nests);
        writer.WriteStartObject();
        writer.WriteString("contract", "model/1");
        writer.WriteString("season", model.Season.Settings.Name);
        writer.WriteString("outcome", model.Request.Outcome == Outcome.Survival ? "survival" : "predation");
        writer.WriteString("link", fit.Link == Link.DailyLogit ? "daily-logit" : "log-hazard");
        writer.WriteString("cameras", model.Request.Cameras == CameraTimes.Exact ? "exact" : "ignore");
        writer.WriteString("model", fit.Design.Choice.ToString());
        json.Array("effects", model.Effects, Effect);
        json.Array("random", fit.Random, Random);
        json.Number("quadrature", fit.Grouped is { } grouped ? fit.Random.Length > 1 ? 1 : grouped.Options.Nodes : null);
        writer.WriteNumber("log_likelihood", fit.LogLikelihood);
        writer.WriteNumber("parameters", fit.Parameters);
        json.Answer("aicc", fit.Aicc);
        writer.WriteNumber("n_nests", nests.Rows.Length);
        writer.WriteNumber("n_intervals", nests.Intervals);
        writer.WriteNumber("n_losses", nests.Losses);
        writer.WriteBoolean("converged", fit.HasConverged);
        json.Array("warnings", model.Warnings, Sentence);
        json.Array("left_out", nests.LeftOut, LeftOut);
        Prior(fit);
        json.Array("predictions", model.Predictions.Select(p => (p, (string?)null)).Concat(model.Contrasts.SelectMany(c => c.Points.Select(p => (p, (string?)c.Contrast.Effect)))), Prediction);
        Comparison();
        FitCheckDocument.Write(model, json);
        writer.WriteEndObject();
    }

    private void Sentence(Phrase phrase) => writer.WriteStringValue(Sentences.Sentence(words.Say(phrase)));

    private void Effect(ModelEffect effect)
    {
        writer.WriteStartObject();
        writer.WriteString("name", effect.Name);
        json.Number("z", effect.Z);
        Numbers(effect.Estimate, effect.P);
        if (effect.Clustered is { } clustered)
        {
            writer.WriteStartObject("cluster_robust");
            Numbers(clustered, effect.ClusteredP);
            writer.WriteEndObject();
        }
        else
        {
            writer.WriteNull("cluster_robust");
        }

        writer.WriteEndObject();
    }

    /// <summary>An estimate with its test, in one object.</summary>
    private void Numbers(Estimate e, double? p)
    {
        json.Number("estimate", e.Value);
        json.Number("se", e.Se);
        json.Number("low", e.Low);
        json.Number("high", e.High);
        json.Number("p", p);
        writer.WriteNumber("level", e.Level);
        writer.WriteString("method", e.Method);
        Why(e);
    }

    private void Why(Estimate e)
    {
        if (e.Why is not null || !e.Notes.IsEmpty) writer.WriteString("why", string.Join(" ", (e.Why is { } why ? e.Notes.Insert(0, why) : e.Notes).Select(w => Sentences.Sentence(words.Say(w)))));
    }

    private void Random(ModelRandom random)
    {
        var spread = random.Spread;
        writer.WriteStartObject();
        writer.WriteString("group", random.Group);
        json.Number("sd", spread.Sd.Value);
        json.Number("low", spread.Sd.Low);
        json.Number("high", spread.Sd.High);
        json.Number("se_log_sd", spread.LogSe);
        writer.WriteNumber("likelihood_ratio", spread.LikelihoodRatio);
        writer.WriteNumber("p", spread.P);
        writer.WriteNumber("levels", random.Levels);
        writer.WriteString("method", spread.Sd.Method);
        Why(spread.Sd);
        writer.WriteEndObject();
    }

    private void LeftOut((string Effect, int Nests) left)
    {
        writer.WriteStartObject();
        writer.WriteString("effect", left.Effect);
        writer.WriteNumber("nests", left.Nests);
        writer.WriteEndObject();
    }

    /// <summary>The bounded answer where the likelihood has none.</summary>
    private void Prior(FittedModel fit)
    {
        if (fit.WithPrior is not { } prior)
        {
            writer.WriteNull("with_prior");
            return;
        }

        writer.WriteStartObject("with_prior");
        writer.WriteString("prior", words.Say(prior.Prior));
        json.Array("effects", prior.Effects, e =>
        {
            writer.WriteStartObject();
            writer.WriteString("name", e.Name);
            Numbers(e.Estimate, null);
            writer.WriteEndObject();
        });
        writer.WriteEndObject();
    }

    private void Prediction((ModelPrediction Prediction, string? Shows) row)
    {
        var (prediction, shows) = row;
        writer.WriteStartObject();
        json.Text("shows", shows);
        Pattern(prediction.Nest);
        writer.WriteNumber("days", prediction.Days);
        json.Estimate("survival", prediction.Survival);
        Perhaps("cluster_robust", prediction.Clustered);
        Perhaps("average_over_groups", prediction.Average);
        writer.WriteEndObject();
    }

    private void Perhaps(string name, Estimate? estimate)
    {
        if (estimate is null) writer.WriteNull(name);
        else json.Estimate(name, estimate);
    }

    private void Pattern(PredictedNest nest)
    {
        writer.WriteStartObject("pattern");
        foreach (var (effect, value) in nest.Fixed)
        {
            if (effect.IsNumber) writer.WriteNumber(effect.Name, value);
            else writer.WriteString(effect.Name, effect.Levels[(int)value]);
        }

        writer.WriteEndObject();
    }

    private void Comparison()
    {
        if (model.Comparison is not { } comparison)
        {
            writer.WriteNull("comparison");
            return;
        }

        writer.WriteStartObject("comparison");
        writer.WriteNumber("n", comparison.Rows);
        json.Array("models", comparison.Ranked, Ranked);
        json.Array("notes", comparison.Notes, Sentence);
        json.Array("averaged", comparison.Averaged, average =>
        {
            writer.WriteStartObject();
            writer.WriteStartObject("pattern");
            foreach (var (effect, value) in average.Pattern.Set)
            {
                if (Records.Cell.Number(value) is { } number) writer.WriteNumber(effect, number);
                else writer.WriteString(effect, value);
            }

            writer.WriteEndObject();
            writer.WriteNumber("days", average.Days);
            json.Estimate("survival", average.Survival);
            writer.WriteEndObject();
        });
        writer.WriteEndObject();
    }

    private void Ranked(RankedModel row)
    {
        writer.WriteStartObject();
        writer.WriteString("model", row.Model.Name);
        writer.WriteNumber("parameters", row.Model.Parameters);
        writer.WriteNumber("log_likelihood", row.Model.LogLikelihood);
        json.Answer("aicc", row.Aicc);
        json.Number("delta", row.Delta);
        writer.WriteNumber("weight", row.Weight);
        json.Number("evidence_ratio", row.EvidenceRatio);
        writer.WriteEndObject();
    }
}
