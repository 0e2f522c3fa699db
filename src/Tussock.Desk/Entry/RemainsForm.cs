using System.Collections.Immutable;
using System.Globalization;
using Tussock.Evidence;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Desk.Entry;

/// <summary>The remains sheet as a form: a block for each lost nest, a box for each sign in the order of the print, and once who looked and when.</summary>
/// <remarks>Each sign is a record of its own. A sign whose box stays empty was not looked for and has none: on paper nothing is ticked there either.</remarks>
public static class RemainsForm
{
    /// <summary>Readings of one nest that a form may send and the records no longer have: each is told as gone.</summary>
    private const int MostGone = 9;

    /// <summary>The sheet of one transect.</summary>
    /// <param name="answer">What the desk knows; the season must be readable.</param>
    /// <param name="transect">The transect.</param>
    /// <param name="words">The language.</param>
    /// <param name="record">A record with the heads of its values; null where there is none.</param>
    /// <param name="typed">What came back with the form: a nest that was typed keeps its block, whatever became of its visits meanwhile.</param>
    public static EntrySheet Of(DeskAnswer answer, Transect transect, Catalogue words, Func<Guid, RecordState?> record, EntryTyped typed)
    {
        ArgumentNullException.ThrowIfNull(answer);
        ArgumentNullException.ThrowIfNull(transect);
        ArgumentNullException.ThrowIfNull(words);
        ArgumentNullException.ThrowIfNull(record);
        ArgumentNullException.ThrowIfNull(typed);
        var season = answer.Season!;
        var there = EntryParts.There(answer.Tables, RecordKind.Remains, transect, record);
        var losses = Losses(season, transect);
        var nests = season.Nests.Where(n => n.Transect == transect).OrderBy(n => n.Number).DistinctBy(n => n.Number).ToArray();
        var signs = SignCatalogue.Standard.Signs.Select(s => Sign(s, words)).ToArray();
        var shared = Shared(words);
        var visits = EntryParts.There(answer.Tables, RecordKind.Visits, transect, record);
        var rows = nests.SelectMany(Blocks).ToImmutableArray();
        return new EntrySheet("sheet-remains", Address(transect), Title(transect), transect, [EntryParts.Date("visited_on", words), EntryParts.Typed("observer", "sheets.observer", words)], rows, [.. there, .. visits])
        {
            IsInBlocks = true, Dates = rows.IsEmpty ? Phrase.Of("enter.no_lost") : null,
        };

        IEnumerable<EntryRow> Blocks(Nest nest)
        {
            var number = Number(nest);
            var loss = losses.GetValueOrDefault(nest);
            var readings = there.Where(r => Blank(nest, number, 0).Is(r)).GroupBy(r => (On: EntryRow.Text(r, "visited_on"), Day: EntryRow.Text(r, "day"))).OrderBy(g => g.Key.On, StringComparer.Ordinal).ThenBy(g => g.Key.Day, StringComparer.Ordinal).Select(g => g.ToArray()).ToList();
            var lines = Math.Max(readings.Count, Math.Min(Typed(typed, number), MostGone));
            if (lines == 0 && loss is not null) lines = 1;
            for (var n = 0; n < lines; n++) foreach (var row in Block(nest, n == 0 ? number : string.Create(CultureInfo.InvariantCulture, $"{number}r{n + 1}"), n < readings.Count ? readings[n] : [], loss)) yield return row;
        }

        IEnumerable<EntryRow> Block(Nest nest, string line, RecordState[] records, Visit? loss)
        {
            // What stands once in the block goes into each sign. Where signs say different things of it, whoever wrote that meant it: then it has no box here.
            var once = shared.Select(c => (Column: c, Said: records.Select(r => EntryRow.Text(r, c.Name)).Where(t => t.Length > 0).Distinct().ToArray())).Where(c => c.Said.Length <= 1).ToArray();
            for (var i = 0; i < signs.Length; i++)
            {
                var own = records.FirstOrDefault(r => Cell.Token(EntryRow.Text(r, "sign")) == signs[i].Lane);
                yield return Blank(nest, line, i) with
                {
                    Key = line + "-" + signs[i].Lane, Fixed = Place(nest).Add(("sign", own is null ? signs[i].Lane : EntryRow.Text(own, "sign"))), Record = own, Number = Called(nest, loss),
                    Columns = [Spelled(signs[i], EntryRow.Text(own, "value")), .. once.Where(c => own is null || c.Said.Length == 0 || EntryRow.Text(own, c.Column.Name).Length > 0).Select(c => c.Column)],
                    Odd = date => OddDate.OfRemains(date, answer.Today, nest.SetOn, loss?.VisitedOn),
                };
            }

            // What fits no sign stands in the note of the visit that found the nest lost.
            var key = line + "-visit";
            var shown = ShownRecord.Read(typed.Shown.GetValueOrDefault(key, ""))?.Id;
            var visit = visits.FirstOrDefault(v => shown is { } id ? v.Id == id : line == Number(nest) && v.Id.ToString() == loss?.Source.Text("id"));
            if (visit is not null || shown is not null) yield return new EntryRow(key, Phrase.Of("enter.visit_note"), RecordKind.Visits, Place(nest), [EntryParts.Typed("note", "enter.visit_note", words)]) { Line = line, Record = visit, TakesHead = false };
        }

        EntryRow Blank(Nest nest, string line, int i) => new(line, Phrase.Of("enter.nest_sign", ("nest", Number(nest)), ("sign", signs[i].Label)), RecordKind.Remains, Place(nest), [])
        {
            Line = line, Apart = "visited_on", DateColumn = "visited_on", NeedsDate = true, Gist = ("value", Phrase.Of("enter.expect_sign")),
        };
    }

    /// <summary>Path and query of the sheet.</summary>
    public static string Address(Transect transect) => $"/enter/{transect?.Source.Text("id")}?remains=yes";

    /// <summary>What the sheet is called.</summary>
    public static Phrase Title(Transect transect) => Phrase.Of("enter.remains_title", ("transect", transect?.Name ?? ""));

    /// <summary>The visit that first found a nest lost, by nest.</summary>
    private static Dictionary<Nest, Visit> Losses(Season season, Transect transect) =>
        season.Visits.Where(v => v.Nest.Transect == transect && v.Finding is Finding.Depredated or Finding.OtherLoss).GroupBy(v => v.Nest).ToDictionary(g => g.Key, g => g.MinBy(v => v.Day ?? double.MaxValue)!);

    private static ImmutableArray<(string Column, string Value)> Place(Nest nest) => [("transect", nest.Transect.Name), ("nest", Number(nest))];

    private static string Number(Nest nest) => nest.Number.ToString(CultureInfo.InvariantCulture);

    private static Phrase Called(Nest nest, Visit? loss) => loss?.VisitedOn is { } on
        ? Phrase.Of(loss.Finding == Finding.Depredated ? "enter.nest_eaten_on" : "enter.nest_lost_on", ("nest", Number(nest)), ("on", on))
        : Phrase.Of("enter.row", ("row", Number(nest)));

    /// <summary>How many readings of a nest came back with something in them.</summary>
    private static int Typed(EntryTyped typed, string number)
    {
        var keys = typed.Cells.Where(c => c.Value.Trim().Length > 0).Select(c => c.Key.Row.Split('-')[0]).Distinct();
        return keys.Max(k => k == number ? 1 : k.StartsWith(number + "r", StringComparison.Ordinal) && int.TryParse(k.AsSpan(number.Length + 1), NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? (int?)n : null) ?? 0;
    }

    private static EntryColumn Sign(CatalogueSign sign, Catalogue words) => sign.Kind == SignKind.Number
        ? new EntryColumn("value", words.Say(sign.Name), []) { Lane = sign.Sign, Hint = words.Say("signs.not_looked"), IsAmount = true }
        : new EntryColumn("value", words.Say(sign.Name), EntryChoice.Of(sign.Values.Select(v => (v, words.Say(sign.InWords(v)))))) { Lane = sign.Sign, Hint = words.Say("signs.not_looked"), IsClosed = true, HasOwnLetters = true };

    /// <summary>A value that stands there in another spelling keeps it, so that choosing it again is no change.</summary>
    private static EntryColumn Spelled(EntryColumn column, string stored) => column with { Choices = [.. column.Choices.Select(c => stored.Length > 0 && Cell.Token(c.Token) == Cell.Token(stored) ? c with { Token = stored } : c)] };

    private static EntryColumn[] Shared(Catalogue words) =>
    [
        EntryParts.Typed("photos", "sheets.photo", words) with { IsForLine = true },
        new EntryColumn("crew_guess", words.Say("sheets.crew_guess"), EntryChoice.Of(SignCatalogue.Standard.Culprits.Select(c => (c, words.Say("signs.culprit." + c))))) { IsForLine = true },
        EntryParts.Typed("visited_on", "enter.own_date", words) with { IsForLine = true },
    ];
}
