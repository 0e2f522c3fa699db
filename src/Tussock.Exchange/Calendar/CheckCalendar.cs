using System.Collections.Immutable;
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Calendar;

/// <summary>The check days of a season as an iCalendar file: for each check an all-day event on its day, and one on the last day on which a nest not found may be searched again.</summary>
/// <remarks>
/// Exact: an event for each pasture, date of set-out and check, with the names of its lines. Coarsened: one for each date and check, with numbers alone.
/// An event keeps its UID as long as its first line and its check stay, so that a calendar which takes the file again moves events instead of doubling them.
/// </remarks>
/// <source>RFC 5545: lines end with CRLF and are folded at 75 octets (3.1), text is escaped (3.3.11), UID and DTSTAMP (3.8.4.7, 3.8.7.2), DTEND is the day after (3.6.1); NAME and DESCRIPTION of a calendar: RFC 7986.</source>
public static class CheckCalendar
{
    /// <summary>The text of the calendar; null when no line has been set out.</summary>
    /// <param name="season">The season.</param>
    /// <param name="isExact">Whether names of land and lines are written.</param>
    /// <param name="now">When it is written; calendars ask for it.</param>
    /// <param name="words">Language.</param>
    public static string? Of(Season season, bool isExact, DateTimeOffset now, Catalogue words)
    {
        var groups = season.Nests.Where(n => n.IsSet).Select(n => (Nest: n, SetOn: n.SetOn!.Value))
            .GroupBy(n => (n.SetOn, Land: isExact ? n.Nest.Transect.Pasture : null)).OrderBy(g => g.Key.SetOn).ToArray();
        if (groups.Length == 0 || season.Settings.CheckDays.IsEmpty) return null;
        var text = new CalendarText();
        text.Line("BEGIN", "VCALENDAR");
        text.Line("VERSION", "2.0");
        text.Line("PRODID", "-//Tussock//Tussock//EN");
        text.Line("CALSCALE", "GREGORIAN");
        text.Text("NAME", isExact ? season.Settings.Title : words.Say(Phrase.Of("maps.coarse_name", ("year", season.Settings.Year))));
        text.Text("DESCRIPTION", words.Say(isExact ? "maps.calendar_exact" : "maps.calendar_coarse"));
        var before = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var group in groups)
        {
            // A line whose nests were set on several days begins several groups.
            var first = group.First().Nest.Transect.Name;
            var nth = before[first] = before.GetValueOrDefault(first) + 1;
            foreach (var day in season.Settings.CheckDays) WriteCheck(text, season, new Check(day, group.Key.SetOn, group.Key.Land, [.. group.Select(g => g.Nest)], nth), now, words);
        }

        text.Line("END", "VCALENDAR");
        return text.ToString();
    }

    private static void WriteCheck(CalendarText text, Season season, Check check, DateTimeOffset now, Catalogue words)
    {
        var window = season.Settings.WindowDays;
        var on = check.SetOn.AddDays(check.Day);
        var what = check.Land is null
            ? Phrase.Of("maps.calendar_counts", ("nests", check.Nests.Length), ("lines", check.Lines.Length))
            : Phrase.Of("maps.calendar_lines", ("lines", check.Lines.ToArray()), ("pasture", check.Land.Name), ("property", check.Land.Property), ("nests", check.Nests.Length));
        Event("check", on, Phrase.Of("maps.calendar_check", ("day", check.Day), ("what", what)), Phrase.Of("maps.calendar_window", ("from", on.AddDays(-window)), ("to", on.AddDays(window))));
        if (window > 0) Event("last", on.AddDays(window), Phrase.Of("maps.calendar_last", ("day", check.Day), ("what", what)), Phrase.Of("maps.calendar_second", ("day", check.Day)));

        void Event(string kind, DateOnly date, Phrase summary, Phrase description)
        {
            text.Line("BEGIN", "VEVENT");
            text.Line("UID", check.Uid(season, kind).ToString());
            text.Line("DTSTAMP", now.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture));
            text.Line("DTSTART;VALUE=DATE", Day(date));
            text.Line("DTEND;VALUE=DATE", Day(date.AddDays(1)));
            text.Text("SUMMARY", words.Say(summary));
            text.Text("DESCRIPTION", words.Say(description));
            text.Line("TRANSP", "TRANSPARENT");
            text.Line("END", "VEVENT");
        }
    }

    private static string Day(DateOnly date) => date.ToString("yyyyMMdd", CultureInfo.InvariantCulture);

    /// <summary>One check of lines that were set out on one day; of one pasture when names are told.</summary>
    private sealed record Check(int Day, DateOnly SetOn, Pasture? Land, ImmutableArray<Nest> Nests, int Nth)
    {
        internal ImmutableArray<string> Lines { get; } = [.. Nests.Select(n => n.Transect.Name).Distinct()];

        /// <summary>Named by its first line, so that a corrected date moves the event; by its date where no name may be told.</summary>
        internal Guid Uid(Season season, string kind) =>
            Uuid.FromName(NaturalKey.SeasonId(season.Settings.Name), string.Join(NaturalKey.Between, kind, Day.ToString(CultureInfo.InvariantCulture), Land is null ? CheckCalendar.Day(SetOn) : Lines[0] + (Nth > 1 ? NaturalKey.Between + Nth.ToString(CultureInfo.InvariantCulture) : "")));
    }
}
