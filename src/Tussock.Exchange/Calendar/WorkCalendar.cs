using System.Globalization;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;
using Tussock.Workdays;

namespace Tussock.Exchange.Calendar;

/// <summary>A plan of work as an iCalendar file: an event for each line, work and day, in the local time of the land. Exact: it names lines.</summary>
/// <remarks>An event keeps its UID as long as its line and its check stay, so that a plan made anew after rain moves events instead of doubling them.</remarks>
/// <source>RFC 5545: floating local times (3.3.5, form 1), lines and escapes as in <see cref="CheckCalendar"/>.</source>
public static class WorkCalendar
{
    /// <summary>The text of the calendar.</summary>
    /// <param name="season">The season.</param>
    /// <param name="plan">Its plan of work.</param>
    /// <param name="now">When it is written; calendars ask for it.</param>
    /// <param name="words">Language.</param>
    public static string Of(Season season, WorkPlan plan, DateTimeOffset now, Catalogue words)
    {
        var text = new CalendarText();
        text.Line("BEGIN", "VCALENDAR");
        text.Line("VERSION", "2.0");
        text.Line("PRODID", "-//Tussock//Tussock//EN");
        text.Line("CALSCALE", "GREGORIAN");
        text.Text("NAME", season.Settings.Title);
        foreach (var work in plan.Works)
        {
            text.Line("BEGIN", "VEVENT");
            text.Line("UID", Uuid.FromName(NaturalKey.SeasonId(season.Settings.Name), string.Join(NaturalKey.Between, "work", work.CheckDay.ToString(CultureInfo.InvariantCulture), work.Line.Name)).ToString());
            text.Line("DTSTAMP", now.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture));
            text.Line("DTSTART", At(work.On, work.From));
            text.Line("DTEND", At(work.On, work.To));
            text.Text("SUMMARY", words.Say(Phrase.Of("workdays.event", ("crew", work.Crew), ("what", WorkWords.What(work)))));
            text.Line("END", "VEVENT");
        }

        text.Line("END", "VCALENDAR");
        return text.ToString();
    }

    private static string At(DateOnly on, TimeOnly time) => on.ToDateTime(time).ToString("yyyyMMdd'T'HHmmss", CultureInfo.InvariantCulture);
}
