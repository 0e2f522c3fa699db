using System.Collections.Immutable;
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Desk.Entry;

/// <summary>The set-out sheet as a form: what is said of the line, and a row for each station in walking order.</summary>
/// <remarks>A planned station is there before it is set: a row that says something of it takes date, north and eggs from the head like a new one.</remarks>
public static class SetOutForm
{
    private static readonly ImmutableDictionary<string, string> Usual = ImmutableDictionary<string, string>.Empty.Add("status", "set");

    /// <summary>The sheet of one transect.</summary>
    /// <param name="answer">What the desk knows; the season must be readable.</param>
    /// <param name="transect">The transect.</param>
    /// <param name="words">The language.</param>
    /// <param name="record">A record with the heads of its values; null where there is none.</param>
    public static EntrySheet Of(DeskAnswer answer, Transect transect, Catalogue words, Func<Guid, RecordState?> record)
    {
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(transect);
        ArgumentNullException.ThrowIfNull(words);
        ArgumentNullException.ThrowIfNull(record);
        var season = answer.Season!;
        var there = EntryParts.There(answer.Tables, RecordKind.Nests, transect, record);
        var nests = season.Nests.Where(n => n.Transect == transect).OrderBy(n => n.Number).DistinctBy(n => n.Number).ToDictionary(n => n.Number);
        var boxes = Boxes(season.Settings, words);
        var rows = (nests.Count == 0 ? Enumerable.Range(1, BeltForm.Blank) : nests.Keys.Order()).Select(Station).ToList();
        var own = EntryParts.Line(transect, record);
        if (own is not null) rows.Insert(0, EntryParts.LineRow(transect, own, [.. new[] { ("paced_by", "sheets.walker"), ("recorder", "sheets.writer"), ("step_m", "sheets.step_m"), ("bearing_true_deg", "sheets.line_bearing"), ("steps_between", "sheets.steps_between") }.Select(c => EntryParts.Typed(c.Item1, c.Item2, words))]));
        return new EntrySheet("sheet-set-out", Address(transect), Title(transect), transect, Head(words), [.. rows], own is null ? there : there.Add(own))
        {
            Dates = transect.SetOn is { } on ? Phrase.Of("enter.line_set_on", ("on", on)) : Phrase.Of("sheets.planned"), WholeNests = Phrase.Of("enter.set_nests"),
        };

        EntryRow Station(int n)
        {
            var number = n.ToString(CultureInfo.InvariantCulture);
            var row = new EntryRow(number, Phrase.Of("enter.row", ("row", number)), RecordKind.Nests, [("transect", transect.Name), ("nest", number)], boxes)
            {
                Number = Phrase.Of("enter.number", ("number", number)), Usual = Usual, Whole = ("status", "set"), Rule = Fits, DateColumn = "set_on", NeedsDate = transect.SetOn is null,
                IsPlanned = nests.TryGetValue(n, out var nest) && !nest.IsSet && nest.Status != StationStatus.NoClump,
                Odd = date => OddDate.OfSetOut(date, answer.Today, transect.SetOn),
            };
            return row with { Record = there.FirstOrDefault(row.Is) };
        }
    }

    /// <summary>Path and query of the sheet.</summary>
    public static string Address(Transect transect) => $"/enter/{transect?.Source.Text("id")}?set_out=yes";

    /// <summary>What the sheet is called.</summary>
    public static Phrase Title(Transect transect) => Phrase.Of("enter.set_out_title", ("transect", transect?.Name ?? ""));

    private static ImmutableArray<EntryColumn> Head(Catalogue words) =>
    [
        EntryParts.Date("set_on", words), EntryParts.Lettered("north", "enter.north", words, ("magnetic", "enter.north_magnetic"), ("true", "enter.north_true")), EntryParts.Typed("eggs", "sheets.eggs", words) with { IsForWholeNests = true },
    ];

    private static ImmutableArray<EntryColumn> Boxes(SeasonSettings settings, Catalogue words) =>
    [
        new EntryColumn("cover", words.Say("enter.cover"), EntryChoice.Of(settings.CoverClasses.Select(c => (c.Name, c.Name)))) { IsClosed = true },
        EntryParts.Lettered("status", "enter.station", words, ("set", "enter.nest_set"), ("no_clump", "sheets.no_clump"), ("not_set", "enter.nest_not_set")),
        EntryParts.Typed("plant", "sheets.plant", words), EntryParts.Typed("steps", "sheets.steps", words), EntryParts.Typed("direction", "sheets.direction", words),
        EntryParts.Lettered("direction_sense", "enter.sense", words, ("flag_to_nest", "enter.flag_to_nest"), ("nest_to_flag", "enter.nest_to_flag")),
        EntryParts.Typed("eggs", "sheets.eggs", words), EntryParts.Typed("set_at", "sheets.time", words), EntryParts.Typed("landmarks", "sheets.landmarks", words), EntryParts.Typed("photos", "sheets.photo", words), EntryParts.Typed("set_on", "enter.own_date", words),
    ];

    /// <summary>A nest sits in a cover; where none was set there is no way to it.</summary>
    private static IEnumerable<(string Column, Phrase Told)> Fits(IReadOnlyDictionary<string, string> values)
    {
        var status = Cell.Token(values.GetValueOrDefault("status", ""));
        if (status is not ("no_clump" or "not_set") && values.GetValueOrDefault("cover", "").Length == 0) yield return ("cover", Phrase.Of("enter.expect_cover"));
        if (status is "no_clump" or "not_set" && (values.GetValueOrDefault("steps", "").Length > 0 || values.GetValueOrDefault("direction", "").Length > 0)) yield return ("status", Phrase.Of("enter.way_without_nest"));
    }
}
