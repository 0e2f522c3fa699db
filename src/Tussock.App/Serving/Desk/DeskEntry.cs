using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Tussock.Desk;
using Tussock.Desk.Entry;
using Tussock.Desk.Pages;
using Tussock.Exchange.Photos;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store.Media;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>Sheets typed from paper: which are open, one as a form, its rows written as one batch, and a second entry compared with the first.</summary>
internal sealed class DeskEntry(ServedSeason served, MediaStore media)
{
    internal const string Path = "/enter";

    /// <summary>Greatest size of a form with its photo, bytes.</summary>
    internal const long MostBytes = FieldBundle.MediaBytes;

    /// <summary>Fields of a form: 300 nests with all their boxes, signs of lost ones among them.</summary>
    private const int MostFields = 16384;
    private const int MostPhotos = 60;
    private const int LongestName = 80;

    /// <summary>One form at a time is compared with the records and written, so that a form sent twice at once is written once.</summary>
    private readonly Lock gate = new();

    /// <summary>Lets a form have more fields than a server usually takes.</summary>
    internal static void Widen(HttpContext context) => context.Features.Set<IFormFeature>(new FormFeature(context.Request, new FormOptions { ValueCountLimit = MostFields, MultipartBodyLengthLimit = MostBytes, ValueLengthLimit = 1 << 16 }));

    /// <summary>The page of an address below <see cref="Path"/>; null when there is none.</summary>
    internal (Type Page, Dictionary<string, object?> Parts, int Status)? Page(DeskAnswer answer, string[] rest, IQueryCollection query, Catalogue words)
    {
        if (rest.Length == 0) return (typeof(Enter), new() { ["Sheets"] = Open(answer) }, StatusCodes.Status200OK);
        if (rest.Length > 1 || Sheet(answer, rest[0], query, words, EntryTyped.Nothing) is not { } sheet) return null;
        var isAgain = query["again"] == "yes";
        var form = EntryForm.Fresh(sheet, c => query[c].ToString(), isAgain) with { Saved = int.TryParse(query["saved"], NumberStyles.None, CultureInfo.InvariantCulture, out var saved) ? saved : null };
        return Shown(answer, form, query["photo"].ToString(), StatusCodes.Status200OK);
    }

    /// <summary>Takes a form: where to go on, or the page that says why not; both null when there is no such address.</summary>
    internal async Task<(string? Where, (Type, Dictionary<string, object?>, int)? Page)> WriteAsync(Func<Task<DeskAnswer>> now, string[] rest, IQueryCollection query, IFormCollection form, (string By, Catalogue Words) who)
    {
        while (true)
        {
            var answer = await now();
            lock (gate)
            {
                if (answer.Position == served.File.Position) return Take(answer, rest, query, form, who);
            }
        }
    }

    private (string?, (Type, Dictionary<string, object?>, int)?) Take(DeskAnswer answer, string[] rest, IQueryCollection query, IFormCollection form, (string By, Catalogue Words) who)
    {
        var (by, words) = who;
        var typed = Typed(form);
        if (rest.Length == 0 || Sheet(answer, rest[0], query, words, typed) is not { } sheet) return (null, null);
        return rest switch
        {
            [_] when form["act"] == "photo" => (null, ShowPhoto(answer, sheet, typed, form, query["again"] == "yes", by)),
            [_] when query["again"] == "yes" => (null, Compare(answer, sheet, typed, form)),
            [_] => Save(answer, sheet, typed, form, by),
            [_, "decide"] => Decide(answer, sheet, typed, form, by),
            _ => (null, null),
        };
    }

    private (string?, (Type, Dictionary<string, object?>, int)?) Save(DeskAnswer answer, EntrySheet sheet, EntryTyped typed, IFormCollection form, string by)
    {
        var reading = EntryReading.Of(sheet, typed, id => served.File.Changes(id), answer.SeasonId);
        if (!reading.IsReady) return (null, Shown(answer, EntryForm.Back(sheet, typed, reading), form["photo"].ToString(), StatusCodes.Status409Conflict));
        if (reading.Drafts.Count > 0) served.File.Write(answer.SeasonId, reading.Drafts, by, served.Clock.GetUtcNow());
        var head = string.Concat(typed.Head.Where(h => h.Value.Length > 0 && h.Key != sheet.DateColumn).OrderBy(h => h.Key, StringComparer.Ordinal).Select(h => "&" + Uri.EscapeDataString(h.Key) + "=" + Uri.EscapeDataString(h.Value)));
        return (string.Create(CultureInfo.InvariantCulture, $"{sheet.Address}&saved={reading.Drafts.Count}{head}"), null);
    }

    private (Type, Dictionary<string, object?>, int) Compare(DeskAnswer answer, EntrySheet sheet, EntryTyped typed, IFormCollection form)
    {
        var compared = EntryComparison.Of(sheet, typed);
        return compared.Told.Count > 0 ? Shown(answer, EntryForm.Kept(sheet, typed, compared.Told, isAgain: true), form["photo"].ToString(), StatusCodes.Status409Conflict) : (typeof(EnterCompared), new() { ["Compared"] = compared }, StatusCodes.Status200OK);
    }

    private (string?, (Type, Dictionary<string, object?>, int)?) Decide(DeskAnswer answer, EntrySheet sheet, EntryTyped typed, IFormCollection form, string by)
    {
        // The form carries the second entry as it was understood: each row says all of it itself.
        var whole = sheet with { Rows = [.. sheet.Rows.Select(r => r with { Columns = [.. EntryComparison.Compared(sheet, r).Select(c => c with { IsForLine = false })] })], Head = [] };
        var compared = EntryComparison.Of(whole, typed);
        var decision = EntryDecision.Of(compared, typed, (row, column) => form["s." + row + "." + column].ToString(), id => served.File.Changes(id), answer.SeasonId);
        if (decision.IsStale) return (null, (typeof(EnterCompared), new() { ["Compared"] = compared, ["IsStale"] = true }, StatusCodes.Status409Conflict));
        if (decision.Drafts.Length > 0) served.File.Write(answer.SeasonId, decision.Drafts, by, served.Clock.GetUtcNow());
        return (string.Create(CultureInfo.InvariantCulture, $"{sheet.Address}&saved={decision.Drafts.Length}"), null);
    }

    /// <summary>Shows a photo beside the form, which keeps what was typed; a new one is kept first.</summary>
    private (Type, Dictionary<string, object?>, int) ShowPhoto(DeskAnswer answer, EntrySheet sheet, EntryTyped typed, IFormCollection form, bool isAgain, string by)
    {
        var (hash, refused) = form.Files.GetFile("picture") is { Length: > 0 } file ? Keep(answer, sheet, file, by) : (form["photo"].ToString(), null);
        var back = EntryForm.Kept(sheet, typed, ImmutableDictionary<(string, string), Phrase>.Empty, isAgain);
        return Shown(answer, back with { Refused = refused }, hash, refused is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity);
    }

    private (string Hash, Phrase? Refused) Keep(DeskAnswer answer, EntrySheet sheet, IFormFile file, string by)
    {
        using var stream = new MemoryStream();
        file.CopyTo(stream);
        var bytes = stream.ToArray();
        var kind = PhotoExif.KindOf(bytes);
        if (kind is not (PhotoKind.Jpeg or PhotoKind.Png)) return ("", Phrase.Of("enter.no_picture"));
        if (media.Keep(bytes) is not { } hash) return ("", Phrase.Of("enter.no_room"));
        var id = NaturalKey.Id(answer.SeasonId, RecordKind.Media.Name, hash, 1);
        if (served.File.Changes(id).IsEmpty)
        {
            (string Name, string Value)[] fields = [("media", hash), ("type", kind == PhotoKind.Jpeg ? "image/jpeg" : "image/png"), ("transect", sheet.Transect.Name), ("file", NameOf(file.FileName)), ("sheet", sheet.Name)];
            served.File.Write(answer.SeasonId, [new Draft(RecordKind.Media.Name, id, ChangeOp.Create, [.. fields.Where(f => f.Value.Length > 0).Select(f => new FieldChange(f.Name, f.Value, []))], sheet.Name)], by, served.Clock.GetUtcNow());
        }

        return (hash, null);
    }

    private (Type, Dictionary<string, object?>, int) Shown(DeskAnswer answer, EntryForm form, string photo, int status)
    {
        var photos = Photos(answer, form.Sheet);
        var shown = media.PathOf(photo) is null ? "" : photo;
        if (shown.Length > 0 && photos.All(p => p.Hash != shown)) photos = photos.Insert(0, (shown, shown[..8]));
        return (typeof(EnterSheet), new() { ["Form"] = form with { Photo = shown, Photos = photos, Next = form.Saved is null ? null : Next(answer, form.Sheet) } }, status);
    }

    /// <summary>Photos that may be of this sheet: those taken in for it, those of the line, those of nobody.</summary>
    private ImmutableArray<(string Hash, string Name)> Photos(DeskAnswer answer, EntrySheet sheet)
    {
        if (answer.Tables.Table(RecordKind.Media) is not { } table) return [];
        string Text(RecordRow row, string column) => table.IndexOf(column) is var at and >= 0 && at < row.Cells.Length ? row.Cells[at] : "";
        return
        [
            .. table.Rows.Where(r => Text(r, "type") is not ("audio/webm" or "audio/mp4") && Text(r, "nest").Length == 0 && (Text(r, "transect").Length == 0 || Text(r, "transect") == sheet.Transect.Name))
                .OrderBy(r => Text(r, "sheet") != sheet.Name).ThenBy(r => Text(r, "transect").Length == 0).ThenByDescending(r => Text(r, "taken_at"), StringComparer.Ordinal)
                .Select(r => (Hash: Text(r, "media"), Name: string.Join(" · ", new[] { Text(r, "file"), Text(r, "taken_at") }.Where(t => t.Length > 0)))).Where(p => media.PathOf(p.Hash) is not null).Take(MostPhotos)
                .Select(p => (p.Hash, p.Name.Length > 0 ? p.Name : p.Hash[..8])),
        ];
    }

    private EntrySheet? Sheet(DeskAnswer answer, string id, IQueryCollection query, Catalogue words, EntryTyped typed)
    {
        if (answer.Season is not { } season || season.Transects.FirstOrDefault(t => t.Source.Text("id") == id) is not { } transect) return null;
        var asked = query["check"].ToString();
        var day = season.Settings.CheckDays.FirstOrDefault(d => asked == d.ToString(CultureInfo.InvariantCulture));
        if (day > 0) return CheckForm.Of(answer, transect, day, words, Record);
        if (query["set_out"] == "yes") return SetOutForm.Of(answer, transect, words, Record);
        if (query["remains"] == "yes") return RemainsForm.Of(answer, transect, words, Record, typed);
        return query["belt"].ToString() switch { "1" => BeltForm.Of(answer, transect, 1, words, Record), "2" => BeltForm.Of(answer, transect, 2, words, Record), _ => null };

        RecordState? Record(Guid record) => served.File.Changes(record) is { IsEmpty: false } changes ? Fold.Record(changes) : null;
    }

    /// <summary>The next open sheet, one of the same kind first: whoever types a pile goes through it.</summary>
    private static OpenSheet? Next(DeskAnswer answer, EntrySheet sheet)
    {
        var all = Open(answer);
        var kind = all.FirstOrDefault(s => s.Address == sheet.Address)?.Kind;
        return all.Where(s => s.IsOpen && s.Address != sheet.Address).OrderBy(s => s.Kind != kind).FirstOrDefault();
    }

    private static ImmutableArray<OpenSheet> Open(DeskAnswer answer) => answer.Season is { } season ? OpenSheet.All(season, answer.Today) : [];

    /// <summary>Reads the fields: <c>d.column</c> at the head, <c>v.row.column</c> a cell, <c>r.row</c> the record that a row showed.</summary>
    private static EntryTyped Typed(IFormCollection form)
    {
        var head = ImmutableDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        var shown = ImmutableDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        var cells = ImmutableDictionary.CreateBuilder<(string, string), string>();
        foreach (var name in form.Keys)
        {
            switch (name.Split('.'))
            {
                case ["d", var column]:
                    head[column] = form[name].ToString();
                    break;
                case ["r", var row]:
                    shown[row] = form[name].ToString();
                    break;
                case ["v", var row, var column]:
                    cells[(row, column)] = form[name].ToString();
                    break;
            }
        }

        return new EntryTyped(head.ToImmutable(), cells.ToImmutable(), shown.ToImmutable(), form["sure"].ToString());
    }

    /// <summary>The last part of a stranger's name of a file.</summary>
    private static string NameOf(string name)
    {
        var last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..].Trim();
        return last.Length > LongestName ? last[^LongestName..] : last;
    }
}
