using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Records;

namespace Tussock.Exchange.OldSheets;

/// <summary>What a sheet becomes.</summary>
/// <param name="Tables">The season.</param>
/// <param name="Wrong">What can't be taken, row by row; nothing may be written while there is any.</param>
/// <param name="Notes">What was assumed or left out.</param>
/// <param name="Totals">The sheet's own totals beside those of its rows.</param>
public sealed record OldSheetTaken(SeasonTables Tables, ImmutableArray<Phrase> Wrong, ImmutableArray<Phrase> Notes, ImmutableArray<ComparedTotal> Totals);

/// <summary>A total that a sheet has, beside that of its rows.</summary>
/// <param name="Row">Row of the sheet.</param>
/// <param name="Column">Heading of the column.</param>
/// <param name="Said">What the sheet says.</param>
/// <param name="Whole">Nests whole at that check, by the rows.</param>
/// <param name="Known">Nests with a finding at that check, by the rows.</param>
/// <param name="Agrees">Whether they agree; null when the sheet's text is no number, count of, or share.</param>
public sealed record ComparedTotal(int Row, string Column, string Said, int Whole, int Known, bool? Agrees);

/// <summary>What is asked once a sheet, beside the answers that are kept.</summary>
/// <param name="Season">Name of the season.</param>
/// <param name="Year">Its year.</param>
/// <param name="SetOn">Date of set-out for rows without one; null when nobody knows it: 1 May is assumed, and said.</param>
public sealed record OldSheetSeasonAsked(string Season, int Year, DateOnly? SetOn);

/// <summary>Makes a season of a sheet with one row a nest: visits become rows, a date that is missing the day of the check, marked as assumed.</summary>
public static partial class OldSheetSeason
{
    /// <summary>Extra column of a transect's nests that says that the date of set-out is a guess.</summary>
    public const string SetOnAssumed = SeasonConduct.SetOnAssumed;

    private const int FirstDay = 14;
    private const int SecondDay = 28;
    private const string OnlyLine = "1";

    /// <summary>Makes the season.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="answers">What its columns and codes are.</param>
    /// <param name="asked">What season it is.</param>
    public static OldSheetTaken Of(OldSheet sheet, SheetAnswers answers, OldSheetSeasonAsked asked)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(asked);
        return new Taking(sheet, answers, asked).Taken();
    }

    [GeneratedRegex(@"^(?<line>.*?[^-/.\s])[-/.\s]+(?<nest>[0-9]{1,4})$", RegexOptions.None, 1000)]
    private static partial Regex LineAndNest();

    private sealed class Taking(OldSheet sheet, SheetAnswers answers, OldSheetSeasonAsked asked)
    {
        private readonly ImmutableArray<Phrase>.Builder wrong = ImmutableArray.CreateBuilder<Phrase>();
        private readonly Dictionary<string, string> lines = new(StringComparer.Ordinal);
        private readonly List<RecordRow> nests = [];
        private readonly List<RecordRow> visits = [];
        private readonly HashSet<(string, string)> seen = [];
        private readonly SortedSet<string> covers = new(StringComparer.Ordinal);
        private readonly Dictionary<SheetMeaning, (int Whole, int Known)> counts = [];
        private int assumedDays, assumedSets, left;
        private bool isLineGuessed;

        internal OldSheetTaken Taken()
        {
            if (!answers.Columns.Any(c => c is SheetMeaning.Station)) wrong.Add(Phrase.Of("old_sheets.no_station"));
            if (!answers.Columns.Any(c => c is SheetMeaning.FirstCheck or SheetMeaning.SecondCheck)) wrong.Add(Phrase.Of("old_sheets.no_check"));
            foreach (var twice in answers.Columns.Where(c => c != SheetMeaning.Nothing).GroupBy(c => c).Where(g => g.Count() > 1)) wrong.Add(Phrase.Of("old_sheets.twice", ("meaning", Phrase.Of("old_sheets.is." + Name(twice.Key)))));
            foreach (var code in SheetAnswers.CodesOf(sheet, answers.Columns).Where(c => answers.Codes.GetValueOrDefault(c, "").Length == 0)) wrong.Add(Phrase.Of("old_sheets.no_code", ("code", TableCheck.Shown(code))));
            if (wrong.Count == 0) foreach (var row in sheet.Rows) Take(row);
            if (wrong.Count == 0 && nests.Count == 0) wrong.Add(Phrase.Of("old_sheets.no_nests"));
            return new OldSheetTaken(Tables(), wrong.ToImmutable(), [.. Notes()], [.. Totals()]);
        }

        private void Take(OldRow row)
        {
            var station = Text(row, SheetMeaning.Station);
            if (station.Length == 0)
            {
                left++;
                return;
            }

            if (Place(row, station) is not { } place)
            {
                wrong.Add(Phrase.Of("old_sheets.bad_station", ("row", row.Number), ("text", TableCheck.Shown(station))));
                return;
            }

            if (!seen.Add(place))
            {
                wrong.Add(Phrase.Of("old_sheets.station_twice", ("row", row.Number), ("line", place.Line), ("nest", place.Nest)));
                return;
            }

            var pasture = Text(row, SheetMeaning.Pasture) is { Length: > 0 } named ? named : answers.Pasture;
            if (!lines.TryGetValue(place.Line, out var line)) lines.Add(place.Line, line = pasture);
            if (line != pasture) wrong.Add(Phrase.Of("old_sheets.line_in_two", ("row", row.Number), ("line", place.Line), ("first", TableCheck.Shown(line)), ("second", TableCheck.Shown(pasture))));
            Nest(row, place);
        }

        private void Nest(OldRow row, (string Line, string Nest) place)
        {
            var written = Date(row, SheetMeaning.SetOn);
            var setOn = written ?? asked.SetOn ?? new DateOnly(asked.Year, 5, 1);
            var isAssumed = written is null && asked.SetOn is null;
            if (isAssumed) assumedSets++;
            string[] found = [Finding(row, SheetMeaning.FirstCheck), Finding(row, SheetMeaning.SecondCheck)];
            var isNotSet = found.Contains("not_set", StringComparer.Ordinal);
            var cover = Text(row, SheetMeaning.Cover);
            if (cover.Length > 0) covers.Add(cover);
            nests.Add(new RecordRow(nests.Count + 2, [place.Line, place.Nest, cover, Text(row, SheetMeaning.Plant), isNotSet ? "" : Iso(setOn), isNotSet ? "not_set" : "set", Text(row, SheetMeaning.Note), isAssumed && !isNotSet ? "yes" : ""]));
            if (isNotSet) return;
            Visit(row, place, found[0], (SheetMeaning.FirstCheck, SheetMeaning.FirstDate, FirstDay), setOn);
            Visit(row, place, found[1], (SheetMeaning.SecondCheck, SheetMeaning.SecondDate, SecondDay), setOn);
        }

        private void Visit(OldRow row, (string Line, string Nest) place, string finding, (SheetMeaning Check, SheetMeaning Date, int Day) of, DateOnly setOn)
        {
            if (finding is "" or "no_visit") return;
            if (finding != "not_relocated")
            {
                var (whole, known) = counts.GetValueOrDefault(of.Check);
                counts[of.Check] = (whole + (finding == "intact" ? 1 : 0), known + 1);
            }

            var on = Date(row, of.Date);
            if (on < setOn) wrong.Add(Phrase.Of("old_sheets.before_set", ("row", row.Number), ("date", on.Value), ("set", setOn)));
            if (on is null) assumedDays++;
            visits.Add(new RecordRow(visits.Count + 2, [place.Line, place.Nest, on is { } day ? Iso(day) : "", on is null ? of.Day.ToString(CultureInfo.InvariantCulture) : "", finding, on is null ? "yes" : ""]));
        }

        private string Finding(OldRow row, SheetMeaning check) => Text(row, check) is { Length: > 0 } code ? answers.Codes.GetValueOrDefault(code.ToUpperInvariant(), "") : "";

        /// <summary>Line and nest; a nest alone stands on the line that its row names, else on the one of its pasture, else on the only one.</summary>
        private (string Line, string Nest)? Place(OldRow row, string station)
        {
            var line = Text(row, SheetMeaning.Transect);
            if (station.All(char.IsAsciiDigit) && station.Length <= 4)
            {
                if (line.Length == 0) isLineGuessed = true;
                return (new[] { line, Text(row, SheetMeaning.Pasture), OnlyLine }.First(l => l.Length > 0), Whole(station));
            }

            var both = LineAndNest().Match(station);
            return both.Success && (line.Length == 0 || line == both.Groups["line"].Value) ? (both.Groups["line"].Value, Whole(both.Groups["nest"].Value)) : null;
        }

        private static string Whole(string number) => int.Parse(number, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture);

        private DateOnly? Date(OldRow row, SheetMeaning meaning)
        {
            var text = Text(row, meaning);
            if (text.Length == 0) return null;
            if (DateOnly.TryParseExact(text.Split('T')[0], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)) return date;
            wrong.Add(Phrase.Of("old_sheets.bad_date", ("row", row.Number), ("text", TableCheck.Shown(text))));
            return null;
        }

        private string Text(OldRow row, SheetMeaning meaning) => answers.Columns.IndexOf(meaning) is var at and >= 0 && at < row.Cells.Length ? row.Cells[at] : "";

        private SeasonTables Tables()
        {
            var property = answers.Property.Length > 0 ? answers.Property : "–";
            var pastures = lines.Values.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
            RecordRow Row(int i, params ReadOnlySpan<string> cells) => new(i + 2, [.. cells]);
            string Named(string pasture) => pasture.Length > 0 ? pasture : "–";
            RecordTable[] tables =
            [
                new(RecordKind.Pastures, ["property", "pasture"], [.. pastures.Select((p, i) => Row(i, property, Named(p)))]),
                new(RecordKind.Transects, ["property", "pasture", "transect", "set_on"], [.. lines.Select((l, i) => Row(i, property, Named(l.Value), l.Key, ""))]),
                new(RecordKind.Nests, ["transect", "nest", "cover", "plant", "set_on", "status", "note", SetOnAssumed], [.. nests]),
                new(RecordKind.Visits, ["transect", "nest", "visited_on", "day", "finding", "day_assumed"], [.. visits]),
            ];
            return new SeasonTables(SeasonPackage.Parse(Package()), [.. tables], ImmutableSortedDictionary<string, string>.Empty);
        }

        private string Package() => JsonSerializer.Serialize(new
        {
            title = sheet.Title.Length > 0 ? sheet.Title : asked.Season,
            season = new { name = asked.Season, year = asked.Year, trial_days = SecondDay, check_days = (int[])[FirstDay, SecondDay], cover_classes = covers.ToArray(), loss_rule = "any_egg" },
            resources = RecordKind.All.Take(4).Select(k => new { name = k.Name, path = k.File }),
        });

        private IEnumerable<Phrase> Notes()
        {
            if (assumedSets > 0) yield return Phrase.Of("old_sheets.set_assumed", ("count", assumedSets), ("date", new DateOnly(asked.Year, 5, 1)));
            if (assumedDays > 0) yield return Phrase.Of("old_sheets.day_assumed", ("count", assumedDays));
            if (isLineGuessed) yield return Phrase.Of("old_sheets.one_line");
            if (left > 0) yield return Phrase.Of("old_sheets.left", ("count", left));
            if (sheet.Passed.Length > 0) yield return Phrase.Of("old_sheets.passed", ("sheets", string.Join(", ", sheet.Passed.Select(p => TableCheck.Shown(p)))));
        }

        private IEnumerable<ComparedTotal> Totals()
        {
            foreach (var row in sheet.Totals)
            {
                for (var i = 0; i < answers.Columns.Length; i++)
                {
                    if (answers.Columns[i] is not (SheetMeaning.FirstCheck or SheetMeaning.SecondCheck) || row.Cells[i].Length == 0) continue;
                    var (whole, known) = counts.GetValueOrDefault(answers.Columns[i]);
                    yield return new ComparedTotal(row.Number, sheet.Columns[i].Heading, row.Cells[i], whole, known, Agrees(row.Cells[i], whole, known));
                }
            }
        }

        /// <summary>A sheet's own total: a count, a count of, a share. A comma in it may be the decimal sign or stand between thousands; either reading may agree.</summary>
        private static bool? Agrees(string said, int whole, int known) => said.Contains(',', StringComparison.Ordinal)
            ? new[] { said.Replace(',', '.'), said.Replace(",", "", StringComparison.Ordinal) }.Select(s => AgreesAsWritten(s, whole, known)).OrderByDescending(a => a == true).First()
            : AgreesAsWritten(said, whole, known);

        private static bool? AgreesAsWritten(string said, int whole, int known)
        {
            var parts = said.Split(["/", "of", "de"], StringSplitOptions.TrimEntries);
            if (parts.Length == 2 && Cell.Number(parts[0]) is { } a && Cell.Number(parts[1]) is { } b) return a == whole && b == known;
            var isPercent = said.EndsWith('%');
            if (Cell.Number(said.TrimEnd('%').Trim()) is not { } number) return null;
            if (isPercent || (number > 0 && number < 1)) return known > 0 && Math.Abs((isPercent ? number / 100 : number) - ((double)whole / known)) <= 0.0051;
            return number == whole;
        }

        private static string Iso(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }

    /// <summary>A meaning as the catalogues and forms name it.</summary>
    public static string Name(SheetMeaning meaning) => JsonNamingPolicy.SnakeCaseLower.ConvertName(meaning.ToString());
}
