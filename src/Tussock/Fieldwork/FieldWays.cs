using System.Globalization;
using System.Text.Json;
using Tussock.Records;
using Tussock.Wayfinding;
using Tussock.Words;

namespace Tussock.Fieldwork;

/// <summary>What a phone needs to find a nest again: people's steps, declination, the way back to each nest.</summary>
internal static class FieldWays
{
    /// <summary>Writes <c>people</c>, <c>declination</c> and <c>ways</c>; all empty where the season can't be read.</summary>
    internal static void Write(Utf8JsonWriter w, Season? season, Action<Utf8JsonWriter, string?, Phrase> say, Catalogue words)
    {
        var ways = season is null ? null : new SeasonWays(season);
        w.WriteStartArray("people");
        if (ways is not null) WritePeople(w, season!, ways);
        w.WriteEndArray();
        w.WriteStartArray("declination");
        foreach (var transect in season?.Transects ?? []) WriteDeclination(w, ways!, transect, words);
        w.WriteEndArray();
        w.WriteStartArray("ways");
        foreach (var nest in season?.Nests ?? []) WriteWay(w, season!, ways!.Of(nest), say, words);
        w.WriteEndArray();
    }

    private static void WritePeople(Utf8JsonWriter w, Season season, SeasonWays ways)
    {
        var names = season.CrewWalks.Select(c => c.Observer).Concat(season.Nests.Select(SeasonWays.WalkerOf)).Where(n => n.Length > 0).Distinct().Order(StringComparer.Ordinal);
        foreach (var name in names)
        {
            var step = ways.StepOf(name, null);
            w.WriteStartObject();
            w.WriteString("observer", name);
            w.WriteNumber("walks", step.Walks);
            w.WriteNumber("step_m", Math.Round(step.Metres, 4));
            Number(w, "step_sd_m", step.SdM, 4);
            w.WriteBoolean("assumed", step.Origin == StepOrigin.Assumed);
            Number(w, "arm_span_m", season.CrewWalks.Where(c => c.Observer == name && c.ArmSpanM is not null).Select(c => c.ArmSpanM).LastOrDefault(), 3);
            w.WriteEndObject();
        }
    }

    private static void WriteDeclination(Utf8JsonWriter w, SeasonWays ways, Transect transect, Catalogue words)
    {
        var declination = ways.DeclinationOf(transect);
        w.WriteStartObject();
        w.WriteString("transect", transect.Name);
        w.WriteString("on", ways.DayOf(transect)?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "");
        Number(w, "degrees_east", declination.HasValue ? declination.Value.DegreesEast : null, 2);
        w.WriteString("why", declination.HasValue ? null : words.Say(declination.Why));
        Number(w, "change_per_year", declination.HasValue ? declination.Value.ChangePerYear : null, 3);
        w.WriteEndObject();
    }

    private static void WriteWay(Utf8JsonWriter w, Season season, NestWay way, Action<Utf8JsonWriter, string?, Phrase> say, Catalogue words)
    {
        w.WriteStartObject();
        w.WriteString("nest", way.Nest.Source.Text("id"));
        Said(w, "words", WayBack.InWords(way), say);
        Said(w, "short", WayBack.Short(way), say);
        w.WriteStartArray("places");
        foreach (var place in way.Places) WritePlace(w, way, place, say);
        w.WriteEndArray();
        w.WriteStartArray("sense_offer");
        foreach (var other in FoundSense.OfferedTo(season, way.Nest)) w.WriteStringValue(other.Source.Text("id"));
        w.WriteEndArray();
        w.WriteString("why", way.Why is null ? null : words.Say(way.Why));
        Said(w, "why_words", way.Why, say);
        w.WriteEndObject();
    }

    private static void WritePlace(Utf8JsonWriter w, NestWay way, WayPlace place, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        w.WriteStartObject();
        Number(w, "lat", place.At?.Latitude, 7);
        Number(w, "lon", place.At?.Longitude, 7);
        Number(w, "distance_m", place.Area.Centre.DistanceM, 2);
        Number(w, "bearing_true_deg", place.IsTrue ? place.Area.Centre.BearingTrueDeg : null, 2);
        w.WriteString("sense", place.Sense switch { DirectionSense.FlagToNest => "flag_to_nest", DirectionSense.NestToFlag => "nest_to_flag", _ => "" });
        Number(w, "left_right_m", place.Area.LeftRightM, 2);
        Number(w, "ahead_back_m", place.Area.AheadBackM, 2);
        say(w, "words", WayBack.InWords(way, place));
        w.WriteEndObject();
    }

    private static void Said(Utf8JsonWriter w, string name, Phrase? phrase, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        if (phrase is null) w.WriteNull(name);
        else say(w, name, phrase);
    }

    private static void Number(Utf8JsonWriter w, string name, double? number, int decimals)
    {
        if (number is { } x) w.WriteNumber(name, Math.Round(x, decimals));
        else w.WriteNull(name);
    }
}
