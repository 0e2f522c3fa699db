using System.Buffers;
using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.Planning.Power;

/// <summary>Writes the answer about a design as the JSON document <c>power/1</c>. Same answer, same bytes but for the seconds.</summary>
public sealed class PowerDocument
{
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private readonly PowerAnswer answer;
    private readonly Utf8JsonWriter writer;
    private readonly JsonText json;

    private PowerDocument(PowerAnswer answer, Utf8JsonWriter writer, Catalogue words) => (this.answer, this.writer, json) = (answer, writer, new JsonText(writer, words));

    /// <summary>Writes the document.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="earlier">Earlier seasons whose guidance was taken; may be empty.</param>
    /// <param name="seconds">How long it took.</param>
    /// <param name="words">Language of the sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(PowerAnswer answer, ImmutableArray<EarlierSeason> earlier, double seconds, Catalogue words, IBufferWriter<byte> target)
    {
        ArgumentNullException.ThrowIfNull(answer);
        using var text = new Utf8JsonWriter(target, Options);
        new PowerDocument(answer, text, words).Whole(earlier, seconds);
    }

    private void Whole(ImmutableArray<EarlierSeason> earlier, double seconds)
    {
        var (question, rates) = (answer.Question, answer.Rates);
        writer.WriteStartObject();
        writer.WriteString("contract", "power/1");
        writer.WriteNumber("pastures", question.Pastures);
        writer.WriteString("judged_by", question.JudgedBy == JudgedBy.Pasture ? "pasture" : "property");
        Design(question.Judged);
        Truth(question);
        writer.WriteNumber("survival_benchmark", question.SurvivalBenchmark);
        json.Number("density_benchmark_per_acre", question.HasDensity ? question.DensityBenchmark : null);
        writer.WriteNumber("seasons", rates.Seasons);
        writer.WriteNumber("seed", question.Seed);
        writer.WriteNumber("largest_chance_error", rates.LargestChanceError);
        Rates(rates);
        Formula(answer.Formula);
        Needed();
        json.Array("same_nests", answer.Designs, d =>
        {
            writer.WriteStartObject();
            Design(d.Rates.Design);
            writer.WriteNumber("seasons", d.Rates.Seasons);
            Rates(d.Rates);
            Formula(d.Formula);
            writer.WriteEndObject();
        });
        Curves();
        Cover();
        Cameras();
        Pastures();
        json.Array("earlier_seasons", earlier, Earlier);
        writer.WriteNumber("seconds", seconds);
        writer.WriteEndObject();
    }

    private void Design(SeasonDesign design)
    {
        writer.WriteNumber("transects", design.Lines);
        writer.WriteNumber("nests", design.Nests);
    }

    private void Truth(PowerQuestion question)
    {
        var truth = question.Truth;
        writer.WriteStartObject("truth");
        writer.WriteNumber("survival", truth.Survival);
        writer.WriteNumber("transect_sd", truth.LineSd);
        writer.WriteNumber("early_share", truth.EarlyShare);
        writer.WriteNumber("not_relocated", truth.NotRelocated);
        writer.WriteNumber("lost_not_relocated", truth.LostNotRelocated);
        writer.WriteNumber("late_days", truth.LateDays);
        json.Number("clumps_per_acre", question.HasDensity ? truth.PerAcre : null);
        json.Number("density_cv", question.HasDensity ? truth.DensityCv : null);
        writer.WriteEndObject();
    }

    private void Rates(CallRates rates)
    {
        json.Number("coverage", rates.Coverage);
        json.Number("mean_width", rates.MeanWidth);
        json.Number("sd_width", rates.SdWidth);
        json.Number("mean_share", rates.MeanShare);
        json.Number("sd_share", rates.SdShare);
        writer.WriteNumber("with_interval", rates.WithInterval);
        writer.WriteStartObject("chance_of");
        writer.WriteNumber("survival_likely", rates.SurvivalLikely);
        writer.WriteNumber("survival_unlikely", rates.SurvivalUnlikely);
        json.Number("density_likely", rates.DensityLikely);
        json.Number("density_unlikely", rates.DensityUnlikely);
        writer.WriteNumber("not_enough_data", rates.NotEnough);
        for (var v = 0; v < rates.Verdicts.Length; v++) if ((VerdictKind)v != VerdictKind.NotEnoughData) writer.WriteNumber(Verdict.TokenOf((VerdictKind)v), rates.Verdicts[v]);
        writer.WriteEndObject();
        writer.WriteStartObject("wrong_side");
        writer.WriteNumber("survival", rates.SurvivalWrong);
        json.Number("density", rates.DensityWrong);
        json.Number("naive_rule", rates.NaiveWrong);
        writer.WriteEndObject();
    }

    private void Formula(PowerFormula formula)
    {
        writer.WriteStartObject("formula");
        writer.WriteNumber("correlation", formula.Correlation);
        writer.WriteNumber("design_effect", formula.DesignEffect);
        writer.WriteNumber("effective_nests", formula.EffectiveNests);
        writer.WriteNumber("sd_share", formula.SdShare);
        json.Number("width", formula.Width);
        writer.WriteNumber("survival_likely", formula.SurvivalLikely);
        writer.WriteNumber("survival_unlikely", formula.SurvivalUnlikely);
        json.Number("density_likely", answer.Question.HasDensity ? formula.DensityLikely : null);
        json.Number("density_unlikely", answer.Question.HasDensity ? formula.DensityUnlikely : null);
        writer.WriteNumber("not_enough_data", 1 - formula.Clear(answer.Question.HasDensity));
        writer.WriteEndObject();
    }

    private void Needed()
    {
        writer.WriteStartObject("needed_for_clear_answer");
        writer.WriteNumber("chance", NeededLines.Enough);
        json.Number("transects_by_formula", answer.NeededByFormula);
        json.Number("transects", answer.Needed is { HasValue: true } found ? found.Value.Lines : null);
        json.Number("nests", answer.Needed is { HasValue: true } nests ? nests.Value.Nests : null);
        json.Text("transects_why", answer.Needed switch { null => json.Say(Phrase.Of("power.not_asked")), { HasValue: false } none => json.Say(none.Why), _ => null });
        writer.WriteEndObject();
    }

    private void Curves()
    {
        if (answer.Curves is not { } curves)
        {
            writer.WriteNull("curves");
            return;
        }

        writer.WriteStartObject("curves");
        writer.WriteNumber("seasons", curves.Seasons);
        foreach (var (name, points) in ((string, ImmutableArray<CallsAtTruth>)[])[("survival", curves.Survival), ("density", curves.Density)])
        {
            json.Array(name, points, p =>
            {
                writer.WriteStartObject();
                writer.WriteNumber("truth", p.Truth);
                writer.WriteNumber("likely", p.Likely);
                writer.WriteNumber("unlikely", p.Unlikely);
                writer.WriteNumber("not_called", p.NotCalled);
                writer.WriteEndObject();
            });
        }

        writer.WriteEndObject();
    }

    private void Cover()
    {
        writer.WriteStartObject("cover_ratio");
        writer.WriteNumber("ratio", answer.Extras.CoverRatio);
        var cover = answer.Cover.HasValue ? answer.Cover.Value : null;
        json.Number("chance_seen", cover?.Seen);
        json.Number("chance_opposite", cover?.Opposite);
        json.Number("chance_by_formula", cover?.ChanceByFormula);
        json.Number("nests_a_class_by_formula", cover?.NestsByFormula);
        json.Text("why", answer.Cover.Why is { } why ? json.Say(why) : null);
        writer.WriteEndObject();
    }

    private void Cameras()
    {
        writer.WriteStartObject("cameras");
        writer.WriteNumber("within", NeededCameras.WithinPoints);
        var cameras = answer.Cameras.HasValue ? answer.Cameras.Value : null;
        json.Number("losses_seen", cameras?.Losses);
        json.Number("losses_by_formula", cameras?.LossesByFormula);
        json.Number("cameras", cameras?.Cameras);
        json.Text("why", answer.Cameras.Why is { } why ? json.Say(why) : null);
        writer.WriteEndObject();
    }

    private void Pastures()
    {
        if (answer.Pastures is not { } two)
        {
            writer.WriteNull("two_pastures");
            return;
        }

        writer.WriteStartObject("two_pastures");
        writer.WriteNumber("other_survival", two.Other);
        writer.WriteNumber("nests_if_independent", two.Independent);
        writer.WriteNumber("nests", two.Nests);
        writer.WriteNumber("transects", two.Lines);
        writer.WriteEndObject();
    }

    private void Earlier(EarlierSeason season)
    {
        writer.WriteStartObject();
        writer.WriteString("season", season.Name);
        writer.WriteNumber("transects", season.Lines);
        writer.WriteNumber("nests_a_transect", season.NestsALine);
        writer.WriteNumber("survival", season.Survival);
        writer.WriteNumber("transect_sd", season.LineSd);
        writer.WriteNumber("early_share", season.EarlyShare);
        writer.WriteNumber("unknown", season.Unknown);
        json.Number("clumps_per_acre", season.PerAcre);
        json.Number("density_cv", season.DensityCv);
        writer.WriteEndObject();
    }
}
