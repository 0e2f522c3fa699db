using System.Text;
using Ical.Net.CalendarComponents;
using Tussock.Exchange.Calendar;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>The calendar of check days, read by a general-purpose library and held against the lines that RFC 5545 asks for.</summary>
public class CheckCalendarChecks
{
    private static readonly DateTimeOffset Now = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);
    private static readonly Season Demo = SeasonReading.Read(DemoSeason.Write(1), out _)!;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Every_line_ends_in_CRLF_has_at_most_75_octets_and_every_event_what_it_must_have(bool isExact)
    {
        var text = Text(isExact);
        Assert.DoesNotContain("\n", text.Replace("\r\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.All(text.Split("\r\n"), l => Assert.InRange(Encoding.UTF8.GetByteCount(l), 0, 75));
        Assert.StartsWith("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:", text, StringComparison.Ordinal);
        Assert.EndsWith("END:VCALENDAR\r\n", text, StringComparison.Ordinal);
        foreach (var one in text.Split("BEGIN:VEVENT\r\n").Skip(1)) Assert.All(new[] { "UID:", "DTSTAMP:20260501T120000Z", "DTSTART;VALUE=DATE:", "DTEND;VALUE=DATE:", "SUMMARY:", "TRANSP:TRANSPARENT" }, p => Assert.Contains(p, one, StringComparison.Ordinal));
    }

    [Fact]
    public void A_library_reads_the_check_days_of_every_line()
    {
        var events = Read(true);
        var set = Demo.Nests.Where(n => n.IsSet).Select(n => (n.Transect, SetOn: n.SetOn!.Value)).Distinct();
        foreach (var (transect, setOn) in set)
        {
            foreach (var day in Demo.Settings.CheckDays)
            {
                Assert.Contains(events, e => Date(e) == setOn.AddDays(day) && Names(e, transect) && e.Summary!.StartsWith("Day", StringComparison.Ordinal));
                Assert.Contains(events, e => Date(e) == setOn.AddDays(day + Demo.Settings.WindowDays) && Names(e, transect) && e.Summary!.StartsWith("Last day", StringComparison.Ordinal));
            }
        }

        Assert.All(events, e => Assert.True(e.IsAllDay));
        Assert.All(events, e => Assert.Equal(1, e.DtEnd!.Date.DayNumber - e.DtStart!.Date.DayNumber));
    }

    [Fact]
    public void Every_event_has_an_id_of_its_own_that_stays_when_a_date_is_corrected()
    {
        var ids = Read(true).Select(e => e.Uid!).ToArray();
        Assert.Equal(ids.Length, ids.Distinct().Count());
        var tables = DemoSeason.Write(1);
        var later = tables with { Tables = [.. tables.Tables.Select(Later)] };
        Assert.Equal(ids.Order(), Calendar(CheckCalendar.Of(SeasonReading.Read(later, out _)!, true, Now, Catalogue.English)!).Select(e => e.Uid!).Order());
    }

    [Fact]
    public void A_line_set_on_two_days_has_events_of_both_with_ids_of_their_own()
    {
        var tables = DemoSeason.Write(1);
        var nests = tables.Table(RecordKind.Nests)!;
        var at = nests.IndexOf("set_on");
        var later = nests with { Rows = [.. nests.Rows.Select((r, i) => i % 2 == 0 ? r : r with { Cells = r.Cells.SetItem(at, "2026-05-20") })] };
        var events = Calendar(CheckCalendar.Of(SeasonReading.Read(tables with { Tables = tables.Tables.Replace(nests, later) }, out _)!, true, Now, Catalogue.English)!);
        Assert.Equal(events.Count, events.Select(e => e.Uid).Distinct().Count());
    }

    [Fact]
    public void A_season_with_nothing_set_has_no_calendar()
    {
        var tables = DemoSeason.Write(1);
        var season = SeasonReading.Read(tables with { Tables = [.. tables.Tables.Where(t => t.Kind.IsRequired).Select(t => t.Kind == RecordKind.Visits ? t with { Rows = [] } : Unset(t))] }, out _)!;
        Assert.Null(CheckCalendar.Of(season, true, Now, Catalogue.English));
    }

    private static RecordTable Later(RecordTable table) => Changed(table, text => Cell.Date(text) is { } date ? date.AddDays(1).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) : text);

    private static RecordTable Unset(RecordTable table) => Changed(table, _ => "");

    private static RecordTable Changed(RecordTable table, Func<string, string> change)
    {
        var at = table.IndexOf("set_on");
        return at < 0 ? table : table with { Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.SetItem(at, change(r.Cells[at])) })] };
    }

    private static string Text(bool isExact) => CheckCalendar.Of(Demo, isExact, Now, Catalogue.English)!;

    private static List<CalendarEvent> Read(bool isExact) => Calendar(Text(isExact));

    private static List<CalendarEvent> Calendar(string text) => [.. Ical.Net.Calendar.Load(text)!.Events];

    private static DateOnly Date(CalendarEvent e) => e.DtStart!.Date;

    private static bool Names(CalendarEvent e, Transect transect) => System.Text.RegularExpressions.Regex.IsMatch(e.Summary!, @"(?<!\w)" + transect.Name + @"(?!\w)");
}
