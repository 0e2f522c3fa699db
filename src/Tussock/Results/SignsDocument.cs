using System.Buffers;
using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>Writes who did it as the JSON document <c>signs/1</c>. Same answer, same bytes, but for <c>made_with.at</c>.</summary>
public sealed class SignsDocument
{
    private readonly SeasonSigns signs;
    private readonly Utf8JsonWriter writer;
    private readonly JsonText json;

    private SignsDocument(SeasonSigns signs, Utf8JsonWriter writer, Catalogue words) => (this.signs, this.writer, json) = (signs, writer, new JsonText(writer, words));

    /// <summary>Writes the document.</summary>
    /// <param name="signs">The answer.</param>
    /// <param name="made">What it was made with.</param>
    /// <param name="words">Language of the sentences.</param>
    /// <param name="target">Where the bytes go.</param>
    public static void Write(SeasonSigns signs, MadeWith made, Catalogue words, IBufferWriter<byte> target)
    {
        ArgumentNullException.ThrowIfNull(signs);
        ArgumentNullException.ThrowIfNull(made);
        using var text = new Utf8JsonWriter(target, JsonText.Options);
        new SignsDocument(signs, text, words).Whole(made);
    }

    private void Whole(MadeWith made)
    {
        var settings = signs.Season.Settings;
        writer.WriteStartObject();
        writer.WriteString("contract", "signs/1");
        json.Object("season", () =>
        {
            writer.WriteString("name", settings.Name);
            writer.WriteString("title", settings.Title);
            writer.WriteString("year", settings.Year);
        });
        json.Array("cautions", signs.Cautions, c => writer.WriteStringValue(json.Say(c)));
        json.Array("other_seasons", signs.OtherSeasons, writer.WriteStringValue);
        json.Object("cameras", Cameras);
        json.Array("composition", signs.Groups.SelectMany(g => g.Composition.Shares.Select(s => (g, s))), c => Share(c.g, c.s));
        json.Array("differences", signs.Differences, Difference);
        Learning();
        json.Array("agreement", signs.Agreement, a => json.Item(() =>
        {
            writer.WriteString("sign", a.Sign);
            writer.WriteNumber("nests", a.Nests);
            json.Number("same_reading", a.SharedReading);
            json.Estimate("kappa", a.Kappa);
        }));
        json.Estimate("guesses_against_cameras", signs.GuessesAgainstCameras);
        json.Array("nests", signs.Nests, n => json.Item(() => Nest(n)));
        json.Made(made);
        writer.WriteEndObject();
    }

    private void Cameras()
    {
        var cameras = signs.Cameras;
        writer.WriteNumber("nests", cameras.Nests);
        json.Object("chosen", () =>
        {
            foreach (var (how, deployments) in cameras.Chosen) writer.WriteNumber(how, deployments);
        });
        writer.WriteString("in_words", Sentences.Sentence(json.Say(cameras.InWords)));
        json.Array("pastures", cameras.Pastures, p => json.Item(() =>
        {
            writer.WriteString("property", p.Pasture.Property);
            writer.WriteString("pasture", p.Pasture.Name);
            writer.WriteNumber("nests", p.Nests);
            writer.WriteNumber("with_camera", p.WithCamera);
            writer.WriteNumber("losses", p.Losses);
            writer.WriteNumber("losses_with_camera", p.LossesWithCamera);
            writer.WriteNumber("confirmed", p.Confirmed);
        }));
    }

    private void Share(LossGroup group, CulpritShare share) => json.Item(() =>
    {
        Group(group);
        writer.WriteNumber("losses", group.Composition.Losses);
        writer.WriteNumber("confirmed", group.Composition.Confirmed);
        writer.WriteString("class", share.Culprit);
        json.Estimate("share", share.Share);
        json.Estimate("share_with_remains", share.ShareWithRemains);
        json.Number("naive", share.Naive);
        if (share.Naive is null) writer.WriteString("naive_why", json.Say(Phrase.Of("results.no_losses")));
    });

    private void Group(LossGroup group)
    {
        writer.WriteString("level", LevelToken(group.Level));
        writer.WriteString("name", group.Name);
        json.Text("property", group.Property);
    }

    private void Difference(LossDifference difference) => json.Item(() =>
    {
        Group(difference.Group);
        writer.WriteString("against", difference.Against.Name);
        json.Text("against_property", difference.Against.Property);
        writer.WriteString("class", difference.Culprit);
        json.Estimate("difference", difference.Difference);
    });

    private void Learning()
    {
        if (!signs.Learning.HasValue)
        {
            writer.WriteNull("learning");
            writer.WriteString("learning_why", json.Say(signs.Learning.Why));
            return;
        }

        json.Object("learning", () =>
        {
            var learned = signs.Learning.Value;
            var scoring = learned.Scoring;
            writer.WriteNumber("nests", scoring.Nests);
            writer.WriteNumber("nests_of_other_seasons", learned.OtherNests);
            writer.WriteNumber("trust", learned.Trust);
            json.Object("log_score", () =>
            {
                writer.WriteNumber("signs", scoring.LogScore);
                writer.WriteNumber("key_alone", learned.LogScoreKey);
                writer.WriteNumber("commonest", learned.LogScoreShares);
            });
            json.Object("brier", () =>
            {
                writer.WriteNumber("signs", scoring.Brier);
                writer.WriteNumber("commonest", learned.BrierShares);
            });
            json.Object("share_right", () =>
            {
                writer.WriteNumber("signs", scoring.ShareRight);
                writer.WriteNumber("commonest", scoring.ShareRightCommonest);
            });
            json.Estimate("gain_bits", learned.GainBits);
            writer.WriteNumber("chance_of_gain", learned.ChanceOfGain);
            writer.WriteBoolean("tells_nothing", learned.TellsNothing);
            json.Answer("nests_needed", learned.NestsNeeded.Then(n => (double)n));
            json.Answer("cameras_needed", signs.CamerasNeeded.Then(n => (double)n));
            writer.WriteNumber("calibration_error", scoring.CalibrationError);
            json.Array("calibration", learned.Scoring.Bands, Band);
            json.Array("confusion", scoring.Confusions, c => json.Item(() =>
            {
                writer.WriteString("read", c.Read);
                writer.WriteString("confirmed", c.Confirmed);
                writer.WriteNumber("nests", c.Nests);
            }));
            json.Estimate("kappa", learned.ReadingAgainstCameras);
        });
    }

    private void Band(CalibrationBand band) => json.Item(() =>
    {
        writer.WriteNumber("from", band.From);
        writer.WriteNumber("to", band.To);
        writer.WriteNumber("nests", band.Nests);
        writer.WriteNumber("mean_chance", band.MeanChance);
        json.Estimate("right", band.Right);
        writer.WriteBoolean("is_off", band.IsOff);
    });

    private void Nest(NestReasons nest)
    {
        writer.WriteString("transect", nest.Fate.Nest.Transect.Name);
        writer.WriteNumber("nest", nest.Fate.Nest.Number);
        writer.WriteNumber("signs_read", nest.Reasons.After.SignsRead);
        json.Text("confirmed", nest.Confirmed);
        writer.WriteString("visitors", VisitorsToken(nest.Visitors));
        Chances("belief_before", nest.Reasons.Before.Chances);
        Chances("belief", nest.Reasons.After.Chances);
        json.Array("reasons", nest.Reasons.Signs, r => json.Item(() =>
        {
            writer.WriteString("sign", r.Sign);
            json.Array("values", r.Values, writer.WriteStringValue);
            Chances("bits", r.Bits);
        }));
        Chances("together", nest.Reasons.Together);
        json.Array("next", nest.Reasons.Next, s => json.Item(() =>
        {
            writer.WriteString("sign", s.Sign);
            writer.WriteNumber("bits", s.Bits);
        }));
    }

    private void Chances(string name, ImmutableArray<double> numbers) => json.Object(name, () =>
    {
        for (var k = 0; k < numbers.Length; k++) writer.WriteNumber(SignCatalogue.Standard.Culprits[k], numbers[k]);
    });

    /// <summary>A level as documents name it.</summary>
    internal static string LevelToken(LossLevel level) => level switch
    {
        LossLevel.Season => "season", LossLevel.Property => "property", LossLevel.Pasture => "pasture", LossLevel.Cover => "cover", LossLevel.Year => "year", _ => "fortnight",
    };

    /// <summary>Visitors as documents name them.</summary>
    internal static string VisitorsToken(Visitors visitors) => visitors switch
    {
        Visitors.OneSeen => "one_seen", Visitors.SeveralSeen => "several_seen", Visitors.SignsOfSeveral => "signs_of_several", _ => "not_seen",
    };
}
