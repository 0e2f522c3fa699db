using System.Buffers;
using System.Text.Json;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Years;

/// <summary>Writes seasons beside each other as the JSON document <c>compare/1</c>. Same answer, same bytes, but for <c>made_with.at</c>.</summary>
public sealed class CompareDocument
{
    private readonly Utf8JsonWriter writer;
    private readonly JsonText json;

    private CompareDocument(Utf8JsonWriter writer, Catalogue words) => (this.writer, json) = (writer, new JsonText(writer, words));

    /// <summary>Writes the document.</summary>
    /// <param name="years">The answer.</param>
    /// <param name="networkOnly">Whether lands are left out, so that no name or place of a property is in it.</param>
    /// <param name="made">What it was made with.</param>
    /// <param name="words">Language of the sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(YearsCompared years, bool networkOnly, MadeWith made, Catalogue words, IBufferWriter<byte> target)
    {
        ArgumentNullException.ThrowIfNull(years);
        ArgumentNullException.ThrowIfNull(made);
        using var text = new Utf8JsonWriter(target, JsonText.Options);
        new CompareDocument(text, words).Whole(years, networkOnly, made);
    }

    private void Whole(YearsCompared years, bool networkOnly, MadeWith made)
    {
        writer.WriteStartObject();
        writer.WriteString("contract", "compare/1");
        json.Array("years", years.Seasons.Select(s => networkOnly ? Years.Network.Nameless(s.Label) : s.Label).Distinct(StringComparer.Ordinal), writer.WriteStringValue);
        json.Sentences("always", YearSentences.Always);
        if (!networkOnly) json.Array("lands", years.Lands, Land);
        if (years.Network.HasValue) json.Object("network", () => Network(years.Network.Value));
        else writer.WriteNull("network");
        if (!years.Network.HasValue) writer.WriteString("network_why", json.Say(years.Network.Why));
        json.Made(made);
        writer.WriteEndObject();
    }

    private void Land(LandYears land) => json.Item(() =>
    {
        writer.WriteString("property", land.Property);
        json.Text("pasture", land.Pasture);
        json.Array("years", land.Years, Year);
        json.Array("differences", land.Steps, Step);
        if (land.Trend.HasValue) json.Object("trend", () => Trend(land.Trend.Value));
        else writer.WriteNull("trend");
        if (!land.Trend.HasValue) writer.WriteString("trend_why", json.Say(land.Trend.Why));
    });

    private void Year(PastureYear year) => json.Item(() =>
    {
        writer.WriteString("season", year.Conduct.Season);
        writer.WriteString("year", year.Label);
        writer.WriteNumber("nests", year.Counts.Nests);
        writer.WriteNumber("transects", year.LinesKnown);
        writer.WriteNumber("fate_known", year.Counts.FateKnown);
        writer.WriteNumber("intact", year.Counts.Intact);
        json.Estimate("survival", year.Survival);
        json.Estimate("per_acre", year.Density);
        Measured("cover_ratio", year.CoverRatio);
        Measured("parity_per_acre", year.Parity);
        json.Object("set_on", () =>
        {
            Date("first", year.Conduct.SetOn?.First);
            Date("middle", year.Conduct.SetOn?.Middle);
            Date("last", year.Conduct.SetOn?.Last);
            writer.WriteBoolean("assumed", year.Conduct.AreSetDatesAssumed);
        });
        json.Number("rain_since_october_mm", year.Conduct.RainMm);
        json.Number("rain_normal_mm", year.Conduct.RainNormalMm);
        json.Array("events", year.Events, e => json.Item(() =>
        {
            writer.WriteString("kind", e.Kind);
            Date("from", e.From);
        }));
        json.Object("losses", () =>
        {
            foreach (var (cause, nests) in year.Losses) writer.WriteNumber(cause, nests);
        });
        json.Object("confirmed", () =>
        {
            foreach (var (culprit, nests) in year.Confirmed) writer.WriteNumber(culprit, nests);
        });
    });

    private void Date(string name, DateOnly? date) => json.Text(name, date?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));

    private void Measured(string name, Measured? number)
    {
        json.Object(name, () =>
        {
            json.Number("estimate", number?.Value);
            json.Number("low", number?.Low);
            json.Number("high", number?.High);
            if (number?.High is null) writer.WriteString("why", json.Sentence(Phrase.Of(number is null ? "years.no_number" : "years.number_no_limits")));
        });
    }

    private void Step(YearStep step) => json.Item(() =>
    {
        writer.WriteString("from", step.Before.Label);
        writer.WriteString("to", step.After.Label);
        writer.WriteString("from_season", step.Before.Conduct.Season);
        writer.WriteString("to_season", step.After.Conduct.Season);
        json.Sentences("before_comparing", step.First);
        json.Estimate("survival", step.Survival.Difference);
        json.Answer("chance_survival_rose", step.Survival.ChanceRose);
        json.Estimate("density_ratio", step.Density.Ratio);
        json.Answer("chance_density_rose", step.Density.ChanceRose);
        json.Array("lines", step.Lines, l => json.Item(() =>
        {
            writer.WriteString("line", l.Line);
            writer.WriteNumber("intact_before", l.Before.Survived);
            writer.WriteNumber("known_before", l.Before.Known);
            writer.WriteNumber("intact_after", l.After.Survived);
            writer.WriteNumber("known_after", l.After.Known);
        }));
        json.Sentences("could_also_explain", step.Others);
    });

    private void Trend(YearTrend trend)
    {
        writer.WriteNumber("years", trend.Years);
        json.Estimate("log_odds_a_year", trend.LogOddsAYear);
        json.Estimate("survival_a_year", trend.PointsAYear);
        writer.WriteNumber("year_sd", trend.YearSd);
        writer.WriteNumber("chance_rising", trend.ChanceRising);
    }

    private void Network(Network network)
    {
        writer.WriteNumber("properties", network.Properties);
        writer.WriteNumber("nests", network.Nests);
        writer.WriteNumber("design_effect", network.DesignEffect);
        json.Object("all_years", () => NetworkYear(network.Together));
        json.Array("by_year", network.Years, y => json.Item(() =>
        {
            writer.WriteString("year", y.Label);
            NetworkYear(y);
        }));
        if (network.Trend.HasValue) json.Object("trend", () => NetworkTrend(network.Trend.Value));
        else writer.WriteNull("trend");
        if (!network.Trend.HasValue) writer.WriteString("trend_why", json.Say(network.Trend.Why));
    }

    private void NetworkYear(NetworkYear year)
    {
        writer.WriteNumber("nests", year.Nests);
        Synthesis("survival", year.Survival);
        Synthesis("per_acre", year.Density);
        Synthesis("cover_ratio", year.CoverRatio);
        Synthesis("parity_per_acre", year.Parity);
    }

    private void Synthesis(string name, Synthesis of) => json.Object(name, () =>
    {
        writer.WriteNumber("properties", of.Properties);
        writer.WriteNumber("without_number", of.LeftOut);
        json.Estimate("mean", of.Mean);
        json.Number("new_property_low", of.NewProperty?.Low);
        json.Number("new_property_high", of.NewProperty?.High);
        json.Number("sd", of.Sd);
        json.Number("i2", of.I2);
        json.Number("lower_quartile", of.Quartiles?.Lower);
        json.Number("median", of.Quartiles?.Middle);
        json.Number("upper_quartile", of.Quartiles?.Upper);
    });

    private void NetworkTrend(NetworkTrend trend)
    {
        writer.WriteNumber("properties", trend.Properties);
        writer.WriteNumber("years", trend.Years);
        json.Estimate("log_odds_a_year", trend.SlopeAYear);
        writer.WriteNumber("property_sd", trend.PropertySd);
        writer.WriteNumber("year_sd", trend.YearSd);
        writer.WriteNumber("own_year_sd", trend.OwnYearSd);
        writer.WriteNumber("chance_rising", trend.ChanceRising);
    }
}
