using System.Globalization;
using System.Text.Json;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Fieldwork;

/// <summary>What is due and in which order: check days as dates, nests along the line, nests that are over.</summary>
internal static class FieldDue
{
    /// <summary>Writes <c>checks</c>, <c>searches</c>, <c>order</c> and <c>ended</c>; all empty where the season can't be read.</summary>
    internal static void Write(Utf8JsonWriter w, Season? season, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        w.WriteStartArray("checks");
        if (season is not null) WriteChecks(w, season);
        w.WriteEndArray();
        w.WriteStartArray("searches");
        if (season is not null) WriteSearches(w, season, say);
        w.WriteEndArray();
        w.WriteStartArray("order");
        if (season is not null) WriteOrder(w, season);
        w.WriteEndArray();
        w.WriteStartArray("ended");
        if (season is not null) WriteEnded(w, season, say);
        w.WriteEndArray();
    }

    /// <summary>One entry a line, date of set-out and check day; ends belong to the window.</summary>
    private static void WriteChecks(Utf8JsonWriter w, Season season)
    {
        foreach (var (transect, setOn) in season.Nests.Where(n => n.IsSet).Select(n => (n.Transect, n.SetOn!.Value)).Distinct())
        {
            foreach (var day in season.Settings.CheckDays)
            {
                w.WriteStartObject();
                w.WriteString("transect", transect.Name);
                w.WriteNumber("check_day", day);
                var check = CheckWindow.Of(setOn, day, season.Settings.WindowDays);
                w.WriteString("on", Iso(check.On));
                w.WriteString("from", Iso(check.From));
                w.WriteString("to", Iso(check.To));
                w.WriteEndObject();
            }
        }
    }

    /// <summary>Nests whose last look, within the window of a check, did not find them: until when a second search counts.</summary>
    private static void WriteSearches(Utf8JsonWriter w, Season season, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        foreach (var looks in season.Visits.Where(v => v.Nest.IsSet && v.Day is > 0).GroupBy(v => v.Nest))
        {
            var last = looks.MaxBy(v => v.Day)!;
            var setOn = looks.Key.SetOn!.Value;
            if (looks.Any(v => v.Day == last.Day && v.Finding != Finding.NotRelocated)) continue;
            foreach (var check in season.Settings.CheckDays.Select(d => CheckWindow.Of(setOn, d, season.Settings.WindowDays)).Where(c => c.Holds(setOn.AddDays((int)Math.Floor(last.Day!.Value)))))
            {
                w.WriteStartObject();
                w.WriteString("nest", looks.Key.Source.Text("id"));
                w.WriteNumber("check_day", check.Day);
                w.WriteString("until", Iso(check.To));
                say(w, "say", Phrase.Of("field.second_search", ("day", check.Day + season.Settings.WindowDays), ("date", check.To)));
                w.WriteEndObject();
            }
        }
    }

    private static void WriteOrder(Utf8JsonWriter w, Season season)
    {
        foreach (var line in season.Nests.GroupBy(n => n.Transect))
        {
            w.WriteStartObject();
            w.WriteString("transect", line.Key.Name);
            w.WriteStartArray("nests");
            foreach (var nest in line.OrderBy(n => n.Number)) w.WriteStringValue(nest.Source.Text("id"));
            w.WriteEndArray();
            w.WriteEndObject();
        }
    }

    private static void WriteEnded(Utf8JsonWriter w, Season season, Action<Utf8JsonWriter, string?, Phrase> say)
    {
        foreach (var fate in SeasonFates.Of(season).Nests.Where(f => f.IsLost || f.EndedBy is not null))
        {
            w.WriteStartObject();
            w.WriteString("nest", fate.Nest.Source.Text("id"));
            say(w, "say", (fate.LostAt ?? fate.FirstLost) is not { } day ? Phrase.Of("field.ended.watching") : Phrase.Of("field.ended.lost", ("day", day)));
            w.WriteEndObject();
        }
    }

    private static string Iso(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
