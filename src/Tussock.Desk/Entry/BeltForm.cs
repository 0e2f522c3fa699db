using System.Collections.Immutable;
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Desk.Entry;

/// <summary>The belt sheet as a form: a line for each segment, a box for each class that is counted, and once how it was counted.</summary>
/// <remarks>Each class of a segment is a record of its own; what stands once on the line goes into each of them.</remarks>
public static class BeltForm
{
    /// <summary>Segments of a line of which no station is known, as on the print.</summary>
    internal const int Blank = 12;

    private static readonly ImmutableDictionary<string, string> Usual = ImmutableDictionary<string, string>.Empty.Add("side", "both").Add("status", "counted").Add("pass", "1");

    /// <summary>The sheet of one transect and count.</summary>
    /// <param name="answer">What the desk knows; the season must be readable.</param>
    /// <param name="transect">The transect.</param>
    /// <param name="pass">1 for the first count, 2 for the second.</param>
    /// <param name="words">The language.</param>
    /// <param name="record">A record with the heads of its values; null where there is none.</param>
    public static EntrySheet Of(DeskAnswer answer, Transect transect, int pass, Catalogue words, Func<Guid, RecordState?> record)
    {
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(transect);
        ArgumentNullException.ThrowIfNull(words);
        ArgumentNullException.ThrowIfNull(record);
        var season = answer.Season!;
        var there = EntryParts.There(answer.Tables, RecordKind.Belts, transect, record);
        var classes = Classes(season.Settings).Union(there.Select(r => EntryRow.Text(r, "cover")).Where(c => c.Length > 0)).ToArray();
        var setOn = season.Nests.Where(n => n.Transect == transect).Min(n => n.SetOn) ?? transect.SetOn;
        var rows = Enumerable.Range(1, Segments(season.Nests.Where(n => n.Transect == transect), season.Segments.Where(s => s.Transect == transect))).SelectMany(n => Segment(n));
        return new EntrySheet("sheet-belt", Address(transect, pass), Title(transect, pass), transect, Head(transect, words), [.. rows], there);

        IEnumerable<EntryRow> Segment(int number)
        {
            var segment = number.ToString(CultureInfo.InvariantCulture);
            var blank = classes.Select((cover, i) => Row(segment, cover, i)).ToArray();
            var sides = there.Where(r => blank.Any(b => b.Is(r))).GroupBy(r => Side(r)).OrderBy(g => g.Key, StringComparer.Ordinal).ToList();
            for (var n = 0; n < sides.Count; n++) foreach (var row in Line(segment + (n == 0 ? "" : "b"), blank, sides[n].ToArray())) yield return row;
            // The other side of a segment of which one side is counted may still come.
            if (sides.Count == 0 || (sides.Count == 1 && sides[0].Key != "both")) foreach (var row in Line(segment + (sides.Count == 0 ? "" : "b"), blank, [])) yield return row;
        }

        IEnumerable<EntryRow> Line(string key, EntryRow[] blank, RecordState[] records)
        {
            var one = blank.Select((b, i) => b with { Key = string.Create(CultureInfo.InvariantCulture, $"{key}-{i}"), Line = key, Record = records.FirstOrDefault(b.Is) }).ToArray();
            // Where classes of a segment were counted differently, each has boxes of its own.
            var isOne = one.Where(r => r.Record is not null).Select(r => (Of(r, "side"), Of(r, "status"), Of(r, "reason"))).Distinct().Count() <= 1;
            return one.Select(r => r with { Columns = [r.Columns[0], .. How(words).Select(c => c with { IsForLine = isOne, Lane = isOne ? "" : r.Columns[0].Lane })] });
        }

        EntryRow Row(string segment, string cover, int i) => new(segment, Phrase.Of("enter.segment_class", ("segment", segment), ("cover", cover)), RecordKind.Belts, [("transect", transect.Name), ("segment", segment), ("cover", cover), ("pass", pass == 1 ? "1" : "2")],
            [new EntryColumn("clumps", cover, []) { Lane = i.ToString(CultureInfo.InvariantCulture) }])
        {
            Number = Phrase.Of("enter.segment", ("segment", segment), ("from", Whole(segment) - 1)), Usual = Usual, Apart = "side", DateColumn = "counted_on", Rule = NumberOrNot,
            Odd = date => OddDate.OfBelt(date, answer.Today, setOn),
        };

        static int Whole(string segment) => int.Parse(segment, CultureInfo.InvariantCulture);
        static string Side(RecordState r) => EntryRow.Text(r, "side") is { Length: > 0 } side ? Cell.Token(side) : "both";
        static string Of(EntryRow row, string column) => Cell.Token(row.Meant(column, EntryRow.Text(row.Record, column)));
    }

    /// <summary>Path and query of the sheet.</summary>
    public static string Address(Transect transect, int pass) => string.Create(CultureInfo.InvariantCulture, $"/enter/{transect?.Source.Text("id")}?belt={pass}");

    /// <summary>What the sheet is called.</summary>
    public static Phrase Title(Transect transect, int pass) => Phrase.Of(pass == 1 ? "enter.belt_title" : "enter.belt_again_title", ("transect", transect?.Name ?? ""));

    /// <summary>Segments of a transect: as many as it has stations, or as were counted.</summary>
    internal static int Segments(IEnumerable<Nest> stations, IEnumerable<Segment> counted) => Math.Max(stations.Max(n => (int?)n.Number) ?? Blank, counted.Max(s => (int?)s.Number) ?? 0);

    private static IEnumerable<string> Classes(SeasonSettings settings) => settings.CoverClasses.Select(c => c.Name).Where(c => settings.ClassesThatCount.IsEmpty || settings.ClassesThatCount.Contains(c));

    private static ImmutableArray<EntryColumn> Head(Transect transect, Catalogue words) =>
    [
        EntryParts.Date("counted_on", words), EntryParts.Typed("observer", "sheets.observer", words), EntryParts.Typed("arm_span_m", "sheets.arm_span", words) with { Hint = "1.8" },
        EntryParts.Typed("step_m", "sheets.step_m", words) with { Hint = Known(transect.StepM) }, EntryParts.Typed("steps", "sheets.steps_between", words) with { Hint = Known(transect.StepsBetween) },
    ];

    private static string Known(double? value) => value is { } number ? number.ToString("0.###", CultureInfo.InvariantCulture) : "";

    private static ImmutableArray<EntryColumn> How(Catalogue words) =>
    [
        EntryParts.Lettered("side", "enter.sides", words, ("both", "sheets.both"), ("left", "sheets.left"), ("right", "sheets.right")),
        EntryParts.Lettered("status", "enter.counted", words, ("counted", "enter.was_counted"), ("not_counted", "sheets.not_counted")),
        EntryParts.Typed("reason", "enter.why_not_counted", words),
    ];

    /// <summary>An empty box is neither none nor not counted: the paper knows which.</summary>
    private static IEnumerable<(string Column, Phrase Told)> NumberOrNot(IReadOnlyDictionary<string, string> values)
    {
        var isCounted = Cell.Token(values.GetValueOrDefault("status", "")) != "not_counted";
        var hasNumber = values.GetValueOrDefault("clumps", "").Length > 0;
        if (isCounted && !hasNumber) yield return ("clumps", Phrase.Of("enter.expect_clumps"));
        if (!isCounted && hasNumber) yield return ("clumps", Phrase.Of("enter.counted_yet_not"));
    }
}
