using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Desk.Pages;
using Tussock.Exchange.OldSheets;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>Old sheets: read, asked about, shown as a season, taken in as one; the answers are kept beside the data file for the sheets of other years.</summary>
internal sealed class DeskOldSheets(ServedSeason served)
{
    private const int MostKept = 4;
    private readonly Lock gate = new();
    private readonly List<Held> held = [];

    private string Folder => served.File.Beside(".sheets");

    /// <summary>Reads the file of a form; where the answers to its headings are known it is shown as a season at once.</summary>
    internal (Type, Dictionary<string, object?>, int) Read(IFormFileCollection files)
    {
        if (files.Count != 1) return Page(null, Phrase.Of("old_sheets.no_file"));
        var folder = Directory.CreateTempSubdirectory("tussock-sheet-");
        try
        {
            var path = System.IO.Path.Combine(folder.FullName, DeskMapFiles.NameOf(files[0].FileName));
            using (var to = File.Create(path)) files[0].CopyTo(to);
            var read = OldSheetReader.Read(path);
            if (!read.HasValue) return Page(null, read.Why);
            var kept = Answers(read.Value.Signature);
            var fits = kept?.Fit(read.Value) == true;
            var one = new Held(Convert.ToHexString(RandomNumberGenerator.GetBytes(16)), read.Value, kept is null ? SheetAnswers.Guessed(read.Value) : Widened(kept, read.Value), Name(read.Value), null, fits, IsAnswered: fits);
            Hold(one);
            return Page(Shown(fits && read.Value.Year is not null ? Looked(one) : one));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>Takes the answers of a form and shows what the sheet becomes; nothing is written.</summary>
    internal (Type, Dictionary<string, object?>, int) Look(IFormCollection form)
    {
        if (Find(form["sheet"].ToString()) is not { } one) return Page(null, Phrase.Of("old_sheets.forgotten"));
        string Typed(string name) => form[name].ToString().Trim();
        var columns = one.Sheet.Columns.Select((_, i) => Meanings.GetValueOrDefault(Typed("column." + Number(i)))).ToImmutableArray();
        var codes = one.Answers.Codes;
        for (var i = 0; form.ContainsKey("code." + Number(i)); i++) if (Typed("means." + Number(i)) is var means && (means.Length == 0 || SheetAnswers.Choices.Contains(means))) codes = codes.SetItem(Typed("code." + Number(i)), means);
        one = one with { Answers = one.Answers with { Columns = columns, Codes = codes, Property = Typed("property"), Pasture = Typed("pasture") }, Asked = (Typed("season"), Typed("year"), Typed("set_on")), IsKept = false, IsAnswered = true };
        return Page(Shown(Looked(one)));
    }

    /// <summary>Takes in what was shown; null when it is on disk, else the page that says why not.</summary>
    internal (Type, Dictionary<string, object?>, int)? Take(string token, string by)
    {
        if (Find(token) is not { } one) return Page(null, Phrase.Of("old_sheets.forgotten"));
        one = Looked(one);
        if (one.Taken is not { } taken || Stops(one).Length > 0) return Page(Shown(one));
        var outcome = served.File.Import(new ImportRequest { Season = taken.Tables, By = by, Now = served.Clock.GetUtcNow() });
        if (outcome.End is not (ImportEnd.Done or ImportEnd.NothingToDo)) return Page(Shown(one) with { Wrong = [.. outcome.Plan.Problems.Select(p => p.What)] });
        ReportFiles.Write(Folder, FileOf(one.Sheet.Signature), Encoding.UTF8.GetBytes(one.Answers.ToText()));
        lock (gate) held.RemoveAll(h => h.Token == token);
        return null;
    }

    private static readonly ImmutableDictionary<string, SheetMeaning> Meanings = Enum.GetValues<SheetMeaning>().ToImmutableDictionary(OldSheetSeason.Name);

    private static (Type, Dictionary<string, object?>, int) Page(OldSheetShown? shown, Phrase? why = null) =>
        (typeof(OldSheetPage), new() { ["Shown"] = shown, ["Why"] = why }, why is null && shown?.Wrong.IsEmpty != false ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity);

    private static string Number(int n) => n.ToString(CultureInfo.InvariantCulture);

    /// <summary>Kept answers, and guesses where this sheet has codes that the earlier ones had not.</summary>
    private static SheetAnswers Widened(SheetAnswers kept, OldSheet sheet) => kept.Columns.Length != sheet.Columns.Length ? SheetAnswers.Guessed(sheet)
        : kept with { Codes = kept.Codes.AddRange(SheetAnswers.CodesOf(sheet, kept.Columns).Where(c => !kept.Codes.ContainsKey(c)).Select(c => KeyValuePair.Create(c, ""))) };

    private static (string Season, string Year, string SetOn) Name(OldSheet sheet) => sheet.Year is { } year ? (Number(year), Number(year), "") : ("", "", "");

    private Held Looked(Held one)
    {
        one = one with { Taken = null };
        if (SeasonAsked(one) is { } asked) one = one with { Taken = OldSheetSeason.Of(one.Sheet, one.Answers with { Codes = Codes(one) }, asked) };
        Hold(one);
        return one;
    }

    /// <summary>The codes of the columns that are checks now: the answers may have changed which.</summary>
    private static ImmutableSortedDictionary<string, string> Codes(Held one) => SheetAnswers.CodesOf(one.Sheet, one.Answers.Columns).ToImmutableSortedDictionary(c => c, c => one.Answers.Codes.TryGetValue(c, out var means) ? means : SheetAnswers.Guessed(one.Sheet).Codes.GetValueOrDefault(c, ""), StringComparer.Ordinal);

    private static OldSheetSeasonAsked? SeasonAsked(Held one)
    {
        var (season, year, setOn) = one.Asked;
        if (season.Length == 0 || year.Length != 4 || !int.TryParse(year, NumberStyles.None, CultureInfo.InvariantCulture, out var number)) return null;
        DateOnly? on = DateOnly.TryParseExact(setOn, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;
        return new OldSheetSeasonAsked(season, number, on);
    }

    /// <summary>What keeps it from being taken.</summary>
    private ImmutableArray<Phrase> Stops(Held one)
    {
        var wrong = ImmutableArray.CreateBuilder<Phrase>();
        var (season, year, setOn) = one.Asked;
        if (season.Length == 0) wrong.Add(Phrase.Of("old_sheets.no_season"));
        else if (served.File.Seasons().Any(s => s.Name == season)) wrong.Add(Phrase.Of("old_sheets.season_there", ("season", TableCheck.Shown(season))));
        if (year.Length != 4 || !year.All(char.IsAsciiDigit)) wrong.Add(Phrase.Of("old_sheets.bad_year"));
        if (setOn.Length > 0 && !setOn.StartsWith(year, StringComparison.Ordinal)) wrong.Add(Phrase.Of("old_sheets.bad_set_on"));
        if (one.Answers.Property.Length == 0) wrong.Add(Phrase.Of("old_sheets.no_property"));
        if (one.Taken is not { } taken) return wrong.ToImmutable();
        wrong.AddRange(taken.Wrong);
        if (taken.Wrong.IsEmpty && SeasonReading.Read(taken.Tables, out var problems) is null) wrong.AddRange(problems.Where(p => p.Severity == Severity.Stop).Select(p => p.What));
        return wrong.ToImmutable();
    }

    private OldSheetShown Shown(Held one)
    {
        var taken = one.Taken;
        var isWhole = taken?.Wrong.IsEmpty == true;
        int Rows(RecordKind kind) => taken!.Tables.Table(kind)!.Rows.Length;
        return new OldSheetShown
        {
            Token = one.Token, File = one.Sheet.File, IsKept = one.IsKept,
            Columns = [.. one.Sheet.Columns.Select((c, i) => (c.Heading, string.Join(" · ", c.Samples), OldSheetSeason.Name(one.Answers.Columns[i])))], Meanings = [.. Enum.GetValues<SheetMeaning>().Select(OldSheetSeason.Name)],
            Codes = [.. Codes(one).Select(c => (c.Key, c.Value))], Choices = SheetAnswers.Choices, Asked = (one.Asked.Season, one.Asked.Year, one.Answers.Property, one.Answers.Pasture, one.Asked.SetOn),
            Wrong = one.IsAnswered ? Stops(one) : [], Notes = isWhole ? taken!.Notes : [],
            Becomes = isWhole ? Phrase.Of("old_sheets.becomes", ("nests", Rows(RecordKind.Nests)), ("lines", Rows(RecordKind.Transects)), ("visits", Rows(RecordKind.Visits))) : null,
            Totals = isWhole ? [.. taken!.Totals.Select(t => (Phrase.Of("old_sheets.total_row", ("row", t.Row), ("column", t.Column), ("said", TableCheck.Shown(t.Said)), ("whole", t.Whole), ("known", t.Known)), t.Agrees))] : [],
        };
    }

    private SheetAnswers? Answers(string signature)
    {
        var path = System.IO.Path.Combine(Folder, FileOf(signature));
        return File.Exists(path) ? SheetAnswers.Read(File.ReadAllText(path)) : null;
    }

    private static string FileOf(string signature) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(signature)))[..16] + ".json";

    private Held? Find(string token)
    {
        lock (gate) return held.FirstOrDefault(h => h.Token == token);
    }

    private void Hold(Held one)
    {
        lock (gate)
        {
            held.RemoveAll(h => h.Token == one.Token);
            if (held.Count >= MostKept) held.RemoveAt(0);
            held.Add(one);
        }
    }

    /// <summary>A sheet between reading and taking.</summary>
    private sealed record Held(string Token, OldSheet Sheet, SheetAnswers Answers, (string Season, string Year, string SetOn) Asked, OldSheetTaken? Taken, bool IsKept, bool IsAnswered);
}
