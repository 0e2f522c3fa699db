using System.Buffers;
using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Fates;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>What a document was made with.</summary>
/// <param name="Version">Version of the program.</param>
/// <param name="Seed">Seed of everything that resamples.</param>
/// <param name="At">When, an ISO 8601 instant.</param>
public sealed record MadeWith(string Version, ulong Seed, string At);

/// <summary>Writes the answer of a season as the JSON document <c>results/1</c>. Same answer, same bytes, but for <c>made_with.at</c>.</summary>
public sealed class ResultsDocument
{
    private readonly SeasonResults results;
    private readonly Utf8JsonWriter writer;
    private readonly JsonText json;
    private readonly Catalogue words;

    private ResultsDocument(SeasonResults results, Utf8JsonWriter writer, Catalogue words) => (this.results, this.writer, this.words, json) = (results, writer, words, new JsonText(writer, words));

    /// <summary>Writes the document.</summary>
    /// <param name="results">The answer.</param>
    /// <param name="made">What it was made with.</param>
    /// <param name="withFates">Whether <c>fates</c>, one row a nest, is added.</param>
    /// <param name="words">Language of the sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(SeasonResults results, MadeWith made, bool withFates, Catalogue words, IBufferWriter<byte> target)
    {
        using var text = new Utf8JsonWriter(target, JsonText.Options);
        new ResultsDocument(results, text, words).Whole(made, withFates);
    }

    private void Whole(MadeWith made, bool withFates)
    {
        writer.WriteStartObject();
        writer.WriteString("contract", "results/1");
        writer.WritePropertyName("season");
        Season();
        if (results.Season.Tables.Pooled is { } pooled) Pooled(pooled);
        writer.WriteNumber("planned_nests", results.Fates.PlannedNests);
        json.Array("groups", Shown(results.Groups), Group);
        json.Array("cover_comparison", results.CoverComparisons, Comparison);
        json.Estimate("parity_density", results.Parity.PerAcre);
        json.Array("runs", results.Runs, Runs);
        json.Array("density", results.Densities.Where(d => d.Level != GroupLevel.Property || HasSeveralProperties), Density);
        new CulpritsText(json).Write(results.Culprits, results.Season);
        json.Array("verdicts", results.Verdicts, Verdict);
        if (withFates) json.Array("fates", results.Fates.Nests, Fate);
        json.Made(made);
        writer.WriteEndObject();
    }

    private bool HasSeveralProperties => results.Groups.Count(g => g.Level == GroupLevel.Property) > 1;

    /// <summary>A property is a group of its own only where there are several; otherwise it would repeat the season.</summary>
    private IEnumerable<GroupResults> Shown(ImmutableArray<GroupResults> groups) => groups.Where(g => g.Level != GroupLevel.Property || HasSeveralProperties);

    private void Season()
    {
        var s = results.Season.Settings;
        writer.WriteStartObject();
        writer.WriteString("name", s.Name);
        writer.WriteString("title", s.Title);
        writer.WriteString("year", s.Year);
        writer.WriteString("species", s.Species);
        writer.WriteString("time_zone", s.TimeZone);
        writer.WriteNumber("trial_days", s.TrialDays);
        json.Array("check_days", s.CheckDays, writer.WriteNumberValue);
        writer.WriteNumber("window_days", s.WindowDays);
        json.Array("cover_classes", s.CoverClasses, c =>
        {
            writer.WriteStartObject();
            writer.WriteString("name", c.Name);
            writer.WriteString("role", c.Role == Records.CoverRole.Grass ? "grass" : "other");
            writer.WriteEndObject();
        });
        writer.WriteString("loss_rule", s.LossRule == Records.LossRule.AnyEgg ? "any_egg" : "all_eggs");
        writer.WriteStartObject("benchmarks");
        writer.WriteNumber("survival", s.SurvivalBenchmark);
        writer.WriteNumber("clumps_per_acre", s.ClumpsPerAcreBenchmark);
        writer.WriteEndObject();
        writer.WriteEndObject();
    }

    /// <summary>Only there where seasons were pooled: the document of one season has no such key.</summary>
    private void Pooled(Records.PooledYears pooled)
    {
        writer.WriteStartObject("pooled");
        json.Array("seasons", pooled.Seasons, writer.WriteStringValue);
        json.Array("years", pooled.Years, writer.WriteStringValue);
        json.Array("cautions", pooled.Cautions, c => writer.WriteStringValue(words.Say(c)));
        writer.WriteEndObject();
    }

    private void Group(GroupResults g)
    {
        writer.WriteStartObject();
        writer.WriteString("level", Level(g.Level));
        writer.WriteString("name", g.Name);
        json.Text("property", g.Property);
        json.Text("pasture", g.Pasture);
        json.Text("cover", g.Cover);
        if (results.Season.Tables.Pooled is not null) json.Text("year", g.Year);
        writer.WriteNumber("nests", g.Counts.Nests);
        writer.WriteNumber("transects", g.Lines);
        writer.WriteNumber("fate_known", g.Counts.FateKnown);
        writer.WriteNumber("intact", g.Counts.Intact);
        writer.WriteNumber("depredated", g.Counts.Depredated);
        writer.WriteNumber("other_loss", g.Counts.OtherLoss);
        writer.WriteNumber("unknown", g.Counts.Unknown);
        writer.WriteStartObject("survival");
        json.Estimate("day14", g.Day14);
        json.Estimate("day28", g.Day28);
        json.Estimate("day28_posterior", g.Day28Posterior);
        json.Estimate("predation_only", g.PredationOnly);
        json.Answer("day28_if_unknown_lost", g.Day28IfUnknownLost);
        json.Answer("day28_if_unknown_survived", g.Day28IfUnknownSurvived);
        writer.WriteEndObject();
        json.Estimate("daily_survival", g.DailySurvival);
        json.Array("daily_survival_by_fortnight", g.DailySurvivalByFortnight, json.Estimate);
        json.Estimate("survival_two_piece_day28", g.TwoPieceDay28);
        if (g.WhyTwoPieceBeside is { } beside) writer.WriteString("two_piece_stands_beside", words.Say(beside));
        Curve(g);
        json.Answer("chance_at_least_benchmark", g.ChanceAtLeastBenchmark);
        Priors(g);
        writer.WriteEndObject();
    }

    private void Curve(GroupResults g)
    {
        if (!g.Curve.HasValue)
        {
            writer.WriteNull("curve");
            writer.WriteString("curve_why", words.Say(g.Curve.Why));
            return;
        }

        var curve = g.Curve.Value;
        writer.WriteStartObject("curve");
        json.Array("left", curve.Left, writer.WriteNumberValue);
        json.Array("right", curve.Right, x =>
        {
            if (x is { } day) writer.WriteNumberValue(day);
            else writer.WriteNullValue();
        });
        json.Array("mass", curve.Mass, writer.WriteNumberValue);
        writer.WriteEndObject();
    }

    private void Priors(GroupResults g)
    {
        writer.WriteStartObject("chance_under_other_priors");
        if (g.Posterior.HasValue)
        {
            foreach (var (prior, chance) in g.Posterior.Value.OtherPriors) writer.WriteNumber(prior, chance);
        }
        else
        {
            foreach (var prior in Survival.ChancePrior.Others) json.Answer(prior.Name, new NoAnswer(g.Posterior.Why));
        }

        writer.WriteEndObject();
    }

    private void Comparison(CoverComparisonRow row)
    {
        writer.WriteStartObject();
        json.Text("property", row.Property);
        json.Text("pasture", row.Pasture);
        writer.WriteString("reference", row.Reference);
        writer.WriteString("other", row.Other);
        json.Estimate("survival_ratio", row.Comparison.SurvivalRatio);
        json.Estimate("odds_ratio", row.Comparison.OddsRatio);
        json.Estimate("hazard_ratio", row.HazardRatio);
        writer.WriteEndObject();
    }

    private void Runs(RunsRow row)
    {
        writer.WriteStartObject();
        writer.WriteString("level", Level(row.Level));
        writer.WriteString("name", row.Name);
        writer.WriteNumber("check", row.Check);
        if (row.Runs.HasValue)
        {
            writer.WriteNumber("runs", row.Runs.Value.Runs);
            writer.WriteNumber("expected", row.Runs.Value.Expected);
            writer.WriteNumber("p", row.Runs.Value.P);
        }
        else
        {
            foreach (var name in (string[])["runs", "expected", "p"]) json.Answer(name, new NoAnswer(row.Runs.Why));
        }

        writer.WriteEndObject();
    }

    private void Density(DensityRow row)
    {
        writer.WriteStartObject();
        writer.WriteString("level", Level(row.Level));
        writer.WriteString("name", row.Name);
        json.Text("property", row.Property);
        writer.WriteString("cover", row.Cover ?? "all");
        writer.WriteNumber("clumps", row.Density.Clumps);
        writer.WriteNumber("area_m2", row.Density.AreaM2);
        json.Estimate("per_acre", row.Density.PerAcre);
        json.Estimate("per_ha", row.Density.PerHa);
        json.Answer("chance_at_least_benchmark", row.Cover is null ? row.Density.ChanceAtLeastBenchmark : NoAnswer.Because("results.benchmark_is_for_all"));
        writer.WriteEndObject();
    }

    private void Verdict(VerdictRow row)
    {
        writer.WriteStartObject();
        writer.WriteString("property", row.Property);
        json.Text("pasture", row.Pasture?.Name);
        writer.WriteString("leaning", row.Verdict.Leaning switch { Leaning.Above => "above", Leaning.Below => "below", _ => "none" });
        writer.WriteStartObject("losses");
        foreach (var (cause, count) in row.Verdict.Losses.ByCause) writer.WriteNumber(LossCounts.Token(cause), count);
        writer.WriteEndObject();
        writer.WriteString("verdict", row.Verdict.Token);
        writer.WriteString("because", string.Join(" ", Sentences.Because(row.Verdict, words)));
        if (row.MoreLines is { } more)
        {
            if (more.HasValue) writer.WriteNumber("more_lines", more.Value);
            else json.Answer("more_lines", new NoAnswer(more.Why));
        }

        writer.WriteEndObject();
    }

    private void Fate(NestFate fate)
    {
        writer.WriteStartObject();
        writer.WriteString("transect", fate.Nest.Transect.Name);
        writer.WriteNumber("nest", fate.Nest.Number);
        json.Number("a", fate.IsCounted ? fate.LastIntact : null);
        json.Number("b", fate.FirstLost);
        json.Number("t", fate.LostAt);
        writer.WriteString("day14", Token(fate.IsCounted, fate.Day14));
        writer.WriteString("day28", Token(fate.IsCounted, fate.Day28));
        writer.WriteEndObject();
    }

    private static string Token(bool isCounted, FateAt fate) => !isCounted ? "left_out" : fate switch { FateAt.Survived => "survived", FateAt.Lost => "lost", _ => "unknown" };

    private static string Level(GroupLevel level) => level switch
    {
        GroupLevel.Season => "season",
        GroupLevel.Property => "property",
        GroupLevel.Pasture => "pasture",
        GroupLevel.Transect => "transect",
        GroupLevel.Cover => "cover",
        GroupLevel.Year => "year",
        GroupLevel.PastureYear => "pasture_year",
        _ => "pasture_cover",
    };
}
