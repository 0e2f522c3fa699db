using System.Collections.Immutable;
using System.Globalization;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Desk.Entry;

/// <summary>The check sheet as a form: boxes in the order in which they are printed.</summary>
public static class CheckForm
{
    /// <summary>Visits that are no check of the crew's round, though they are visits.</summary>
    private static readonly ImmutableArray<string> OtherPurposes = ["camera_service", "second_search", "chance"];

    /// <summary>The sheet of one transect and check day.</summary>
    /// <param name="answer">What the desk knows; the season must be readable.</param>
    /// <param name="transect">The transect.</param>
    /// <param name="day">One of the season's check days.</param>
    /// <param name="words">The language.</param>
    /// <param name="record">A record with the heads of its values; null where there is none.</param>
    public static EntrySheet Of(DeskAnswer answer, Transect transect, int day, Catalogue words, Func<Guid, RecordState?> record)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(transect);
        ArgumentNullException.ThrowIfNull(words);
        var settings = answer.Season!.Settings;
        var isLast = day == settings.CheckDays[^1];
        var nests = answer.Season.Nests.Where(n => n.Transect == transect).OrderBy(n => n.Number).DistinctBy(n => n.Number).ToArray();
        var visits = EntryParts.There(answer.Tables, RecordKind.Visits, transect, record);
        var own = EntryParts.Line(transect, record);
        var first = nests.FirstOrDefault(n => n.SetOn is not null)?.SetOn;
        var rows = nests.Select(n => Row(n, day, answer, visits, Boxes(words, isLast))).ToList();
        if (isLast && own is not null) rows.Add(EntryParts.LineRow(transect, own, [EntryParts.Typed("flags_in", "sheets.flags_in", words), EntryParts.Typed("washers_in", "sheets.washers_in", words)]));
        return new EntrySheet(
            string.Create(CultureInfo.InvariantCulture, $"sheet-check-day-{day}"), Address(transect, day), Title(transect, day), transect, Head(words, isLast), [.. rows], own is null ? visits : visits.Add(own))
        {
            Dates = first is { } set && CheckWindow.Of(set, day, settings.WindowDays) is var window ? Phrase.Of("enter.counts", ("on", window.On), ("from", window.From), ("to", window.To)) : null,
        };
    }

    /// <summary>Path and query of the sheet.</summary>
    public static string Address(Transect transect, int day) => string.Create(CultureInfo.InvariantCulture, $"/enter/{transect?.Source.Text("id")}?check={day}");

    /// <summary>What the sheet is called.</summary>
    public static Phrase Title(Transect transect, int day) => Phrase.Of("enter.check_title", ("transect", transect?.Name ?? ""), ("day", day));

    /// <summary>The check that a day since set-out belongs to: the nearest.</summary>
    public static int Nearest(double day, ImmutableArray<int> checkDays) => checkDays.MinBy(c => Math.Abs(c - day));

    private static EntryRow Row(Nest nest, int day, DeskAnswer answer, ImmutableArray<RecordState> visits, ImmutableArray<EntryColumn> boxes)
    {
        var settings = answer.Season!.Settings;
        var number = nest.Number.ToString(CultureInfo.InvariantCulture);
        var row = new EntryRow(number, Phrase.Of("enter.row", ("row", number)), RecordKind.Visits, [("transect", nest.Transect.Name), ("nest", number)], boxes)
        {
            Number = Phrase.Of("enter.number", ("number", number)), Whole = ("finding", "intact"), Rule = FindingMissing, Apart = "visited_on", DateColumn = "visited_on", NeedsDate = true,
            Odd = date => OddDate.OfCheck(date, answer.Today, nest.SetOn is { } on ? CheckWindow.Of(on, day, settings.WindowDays) : null),
        };
        if (nest.Status is StationStatus.NoClump or StationStatus.NotSet) return row with { Columns = [], Ended = Phrase.Of("sheets.no_nest_here") };
        var seen = visits.Where(row.Is).Select(v => (Visit: v, Day: DayOf(v, nest))).Where(v => v.Day is > 0).ToArray();
        var here = seen.Where(v => Nearest(v.Day!.Value, settings.CheckDays) == day && !OtherPurposes.Contains(Cell.Token(EntryRow.Text(v.Visit, "purpose")))).OrderBy(v => Math.Abs(v.Day!.Value - day)).Select(v => v.Visit).FirstOrDefault();
        var lost = seen.Where(v => Nearest(v.Day!.Value, settings.CheckDays) < day && Cell.Token(EntryRow.Text(v.Visit, "finding")) is "depredated" or "other_loss").Select(v => v.Day).Min();
        return row with { Record = here, Ended = lost is { } before && here is null ? Phrase.Of("sheets.ended", ("day", before)) : null };
    }

    private static IEnumerable<(string Column, Phrase Told)> FindingMissing(IReadOnlyDictionary<string, string> values)
    {
        if (values.GetValueOrDefault("finding", "").Length == 0) yield return ("finding", Phrase.Of("enter.expect_gist"));
    }

    private static double? DayOf(RecordState visit, Nest nest) => Cell.Date(EntryRow.Text(visit, "visited_on")) is { } on && nest.SetOn is { } set ? on.DayNumber - set.DayNumber : Cell.Number(EntryRow.Text(visit, "day"));

    private static ImmutableArray<EntryColumn> Head(Catalogue words, bool isLast) =>
    [
        EntryParts.Date("visited_on", words), EntryParts.Typed("observer", "sheets.observer", words), EntryParts.Typed("second_observer", "sheets.writer", words),
        .. Boxes(words, isLast).Where(c => c.Name is "eggs_intact" or "eggs_refreshed" or "washer" or "bowl" or "flag").Select(c => c with { IsForWholeNests = true }),
    ];

    private static ImmutableArray<EntryColumn> Boxes(Catalogue words, bool isLast) =>
    [
        EntryParts.Lettered("finding", "enter.finding", words, ("intact", "sheets.whole"), ("depredated", "sheets.eaten"), ("other_loss", "sheets.other_loss"), ("not_relocated", "sheets.not_found")),
        EntryParts.Typed("eggs_intact", "sheets.eggs_whole", words), EntryParts.Typed("eggs_broken", "sheets.eggs_broken", words), EntryParts.Typed("eggs_missing", "sheets.eggs_gone", words),
        .. isLast ? (EntryColumn[])[] : [EntryParts.Lettered("eggs_refreshed", "sheets.fresh_eggs", words, ("yes", "enter.yes"), ("no", "enter.no"))],
        EntryParts.Lettered("washer", "sheets.washer", words, ("in_bowl", "sheets.washer_in_bowl"), ("moved", "sheets.washer_moved"), ("not_found", "sheets.washer_gone")),
        EntryParts.Lettered("bowl", "sheets.bowl", words, ("as_set", "enter.bowl_as_set"), ("disturbed", "enter.bowl_disturbed"), ("gone", "enter.gone_away")),
        EntryParts.Lettered("flag", "enter.flag", words, ("standing", "enter.flag_standing"), ("down", "enter.flag_down"), ("gone", "enter.gone_away")),
        EntryParts.Typed("visited_at", "sheets.time", words), EntryParts.Typed("photos", "sheets.photo", words),
        new EntryColumn("cause", words.Say("enter.cause"), EntryChoice.Of(FieldWords.OtherLossCauses.Select(t => (t.Token, words.Say(t.Name))))),
        new EntryColumn("not_found_because", words.Say("enter.because"), EntryChoice.Of(FieldWords.NotFoundBecause.Select(t => (t.Token, words.Say(t.Name))))),
        EntryParts.Typed("note", "sheets.note", words), EntryParts.Typed("visited_on", "enter.own_date", words),
    ];
}
