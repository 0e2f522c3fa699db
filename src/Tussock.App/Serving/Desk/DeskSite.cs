using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.App.Serving.People;
using Tussock.Desk;
using Tussock.Desk.Pages;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The desk's pages of one season: looks up what an address means, and writes what its forms say.</summary>
internal sealed class DeskSite(ServedSeason served, DeskShared shared)
{
    /// <summary>Whoever has just saved waits a little for what it moved; whoever looks around does not.</summary>
    private static readonly TimeSpan SavedPatience = TimeSpan.FromSeconds(1.5);
    private static readonly TimeSpan ReportPatience = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(120);
    private readonly DeskMapFiles mapFiles = new(served);
    private readonly DeskReports reports = new(served);
    private readonly DeskEntry entry = new(served, shared.Media);
    private readonly DeskPlan plan = new(served);
    private readonly DeskCases cases = new(served, shared.Media);

    // What is let go when it takes too much room; whoever reads it just then reads the former.
    private volatile DeskShelf shelf = new(served);
    private volatile DeskSheets sheets = new(served.Words);
    private volatile DeskMap map = new(served);

    private Catalogue Words(HttpContext context) => SpokenLanguage.Of(context, served.Words);

    /// <summary>The words of what is shown on a page, in the units that were chosen; what is kept or printed is made with both.</summary>
    private Catalogue Shown(HttpContext context) => SpokenUnits.Of(context, Words(context));

    /// <summary>Rows of records that are kept in memory.</summary>
    internal int Rows => shelf.Rows;

    /// <summary>Lets go of the answer and what was made of it; who asks again waits as at the start.</summary>
    internal void LetGo()
    {
        var former = shelf;
        (shelf, sheets, map) = (new(served), new(served.Words), new(served));
        former.Stop();
    }

    /// <summary>What the desk knows now.</summary>
    internal Task<DeskAnswer> KnownAsync() => shelf.NowAsync(TimeSpan.Zero);

    /// <summary>Answers with a page; every address that is none of the desk's gets a page that says so.</summary>
    internal async Task AnswerAsync(HttpContext context)
    {
        var path = (context.Request.Path.Value ?? "/").TrimEnd('/') is { Length: > 0 } p ? p : "/";
        if (path == "/desk/state")
        {
            await DeskRendering.StateAsync(context, await shelf.NowAsync(TimeSpan.Zero));
            return;
        }

        if (path.StartsWith(DeskPhotos.Path, StringComparison.Ordinal))
        {
            await shared.Photos.AnswerAsync(context, path[DeskPhotos.Path.Length..]);
            return;
        }

        if (path.StartsWith(DeskSheets.Path, StringComparison.Ordinal))
        {
            await sheets.AnswerAsync(context, path[DeskSheets.Path.Length..], await shelf.NowAsync(TimeSpan.Zero));
            return;
        }

        if (path.StartsWith(DeskReports.Path, StringComparison.Ordinal) && path.Split('/') is [_, _, var report, var page])
        {
            await reports.AnswerAsync(context, report, page);
            return;
        }

        if (path.StartsWith(DeskAway.Path, StringComparison.Ordinal) && path.Split('/') is [_, _, var chapter, var file])
        {
            await DeskAway.AnswerAsync(context, chapter, file, await shelf.NowAsync(Patience), Shown(context));
            return;
        }

        if (path.StartsWith(DeskAway.Together + "/", StringComparison.Ordinal))
        {
            // Where nothing is known yet, or there is one year, the page says so.
            if ((await shared.Years.NowAsync(Patience)).Known.Together is { } known) await DeskAway.AnswerAsync(context, path[(DeskAway.Together.Length + 1)..], known, Words(context));
            else See(context, DeskAway.Together);
            return;
        }

        if (HttpMethods.IsPost(context.Request.Method))
        {
            await WriteAsync(context, path);
            return;
        }

        if (path == "/map.json")
        {
            await map.AnswerAsync(context, await shelf.NowAsync(Patience));
            return;
        }

        if (path == "/map/search.json")
        {
            await Answers.BytesAsync(context, StatusCodes.Status200OK, "application/json; charset=utf-8", MapText.SearchAreas(await shelf.NowAsync(TimeSpan.Zero), context.Request.Query["line"].ToString()));
            return;
        }

        if (path == DeskPractice.Path)
        {
            var (walked, practised) = await DeskPractice.PageAsync(context, Shown(context));
            if (walked is not null) See(context, walked);
            else await RenderAsync(context, await shelf.NowAsync(TimeSpan.Zero), practised!.Value);
            return;
        }

        var answer = await shelf.NowAsync(context.Request.Query["saved"] == "yes" ? SavedPatience : Patience);
        if (path is "/years" or "/years/network" or "/years/actions" or "/years/paper" or DeskAway.Together)
        {
            await YearsAsync(context, path, answer);
            return;
        }

        if (path.StartsWith(DeskPlan.Path + "/", StringComparison.Ordinal) && plan.File(context, path[(DeskPlan.Path.Length + 1)..], answer, Words(context)) is { } taken)
        {
            await DeskAway.FileAsync(context, taken.Name, taken.Type, taken.Text);
            return;
        }

        var planned = path == DeskPlan.Path || path.StartsWith(DeskPlan.Path + "/", StringComparison.Ordinal) ? await DeskPlan.PageAsync(context, path, answer, Shown(context)) : null;
        await RenderAsync(context, answer, planned ?? Page(context, path, answer));
    }

    private async Task YearsAsync(HttpContext context, string path, DeskAnswer answer)
    {
        // Who asks for paper waits for it rather than being told that there is none yet.
        var (known, isUpdating) = await shared.Years.NowAsync(path == "/years/paper" ? ReportPatience : Patience, path != "/years/paper");
        if (path == "/years/paper")
        {
            await YearsPaper.AnswerAsync(context, known.Beside, DeskAway.Making(answer), Words(context));
            return;
        }

        (Type, Dictionary<string, object?>) page = path switch
        {
            "/years" => (typeof(YearsPage), new() { ["Beside"] = known.Beside, ["Property"] = context.Request.Query["property"].ToString() }),
            "/years/actions" => (typeof(ActionsPage), new() { ["Actions"] = known.Actions, ["Stops"] = known.Stops, ["IsTooLarge"] = known.Beside.IsTooLargeToPool }),
            "/years/network" => (typeof(NetworkPage), new() { ["Network"] = known.Beside.Network }),
            _ => (typeof(TogetherPage), new() { ["Together"] = known.Together, ["Stops"] = known.Stops, ["IsTooLarge"] = known.Beside.IsTooLargeToPool }),
        };
        page.Item2["IsUpdating"] = isUpdating;
        await RenderAsync(context, answer, (page.Item1, page.Item2, StatusCodes.Status200OK));
    }

    private (Type Page, Dictionary<string, object?> Parts, int Status) Page(HttpContext context, string path, DeskAnswer answer)
    {
        var query = context.Request.Query;
        string Asked(string name) => query[name].ToString().Trim();
        switch (path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            case []:
                return (typeof(Home), [], StatusCodes.Status200OK);
            case ["sheets"]:
                return (typeof(Sheets), new() { ["Files"] = DeskSheets.Names(answer) }, StatusCodes.Status200OK);
            case ["enter", .. var rest]:
                return entry.Page(answer, rest, query, Words(context)) ?? Nothing("enter.no_sheet", StatusCodes.Status404NotFound);
            case ["map"]:
                return (typeof(MapPage), new() { ["Imagery"] = served.Imagery }, StatusCodes.Status200OK);
            case ["boundary", var id] when DeskMap.Pasture(answer, id) is { } pasture:
                return (typeof(BoundaryPage), new() { ["Form"] = DeskMap.Form(answer, pasture, Asked("saved") == "yes") }, StatusCodes.Status200OK);
            case ["worklist"]:
                return (typeof(Worklist), new() { ["Severity"] = Asked("severity"), ["Page"] = PageNumber(Asked("page")) }, StatusCodes.Status200OK);
            case ["records", var name] when RecordKind.Named(name) is { } kind:
                return (typeof(RecordList), new() { ["Kind"] = kind, ["Asked"] = new TableAsked(Asked("text"), Asked("sort"), Asked("down") == "yes", PageNumber(Asked("page"))) }, StatusCodes.Status200OK);
            case ["record", var id] when Record(answer, id) is { } record:
                return (typeof(RecordPage), new() { ["Form"] = new RecordForm(record.State, record.Changes, ImmutableDictionary<string, string>.Empty, [], [], Asked("saved") == "yes") }, StatusCodes.Status200OK);
            case ["record", _]:
                return Nothing("desk.no_such_record", StatusCodes.Status404NotFound);
            case ["results"] or ["results", _]:
                var chapter = path.Length > "/results/".Length ? path["/results/".Length..] : Reports.Technical.TechnicalReport.Anchor(Reports.Technical.TechnicalReport.ChapterKeys[0]);
                return (typeof(Tussock.Desk.Pages.Results), new() { ["Chapter"] = chapter, ["Making"] = DeskAway.Making(answer) }, StatusCodes.Status200OK);
            case ["why", "pasture", var id] when DeskMap.Pasture(answer, id) is { } pasture:
                return (typeof(WhyPasture), new() { ["Pasture"] = pasture }, StatusCodes.Status200OK);
            case ["why", var method] when MethodPages.Title(method) is not null:
                return (typeof(WhyMethod), new() { ["Method"] = method }, StatusCodes.Status200OK);
            case ["cases"]:
                return cases.Page(answer, Asked("saved") == "yes");
            case ["backup"]:
                return shared.Backup.Page();
            case ["old"]:
                return (typeof(OldSheetPage), [], StatusCodes.Status200OK);
            case ["reports"]:
                return (typeof(ReportsPage), new() { ["Kept"] = reports.Kept() }, StatusCodes.Status200OK);
            case ["reports", "compare"]:
                return ComparePage(Asked("first"), Asked("second"), Words(context));
            case ["quick"]:
                return QuickPage(Asked("lines"), Asked("clumps"), Asked("area"), Shown(context));
            default:
                return Nothing("desk.no_such_page", StatusCodes.Status404NotFound);
        }
    }

    private static int PageNumber(string asked) => int.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 1;

    private (Type, Dictionary<string, object?>, int) ComparePage(string first, string second, Catalogue words) => reports.Compare(first, second) is { } compared
        ? (typeof(ReportsCompared), new() { ["First"] = Named(compared.First, words), ["Second"] = Named(compared.Second, words), ["Rows"] = compared.Rows }, StatusCodes.Status200OK)
        : Nothing("desk.no_such_report", StatusCodes.Status404NotFound);

    private static string Named(KeptReport report, Catalogue words) => words.Say(Phrase.Of("desk.compared_report", ("date", DateOnly.FromDateTime(report.MadeAt.UtcDateTime)), ("by", report.By), ("position", report.Position), ("version", report.Version)));

    private static (Type, Dictionary<string, object?>, int) QuickPage(string lines, string clumps, string area, Catalogue words)
    {
        var parts = new Dictionary<string, object?> { ["Typed"] = (lines, clumps, area) };
        if (lines.Length > 0)
        {
            var (said, wrong) = QuickAnswer.Of(lines, clumps.Length > 0 ? clumps : null, area.Length > 0 ? area : null, words);
            parts["Said"] = said;
            parts["Wrong"] = wrong;
        }

        return (typeof(Quick), parts, StatusCodes.Status200OK);
    }

    private static (Type, Dictionary<string, object?>, int) Nothing(string why, int status) => (typeof(Nothing), new() { ["Why"] = Phrase.Of(why) }, status);

    /// <summary>A record as the journal has it at this moment; null when the season has none of that id.</summary>
    private (RecordState State, ImmutableArray<Change> Changes)? Record(DeskAnswer answer, string id) =>
        Guid.TryParse(id, out var guid) && served.File.Changes(guid) is { IsEmpty: false } changes && Fold.Record(changes) is var record && record.Season == answer.SeasonId && RecordKind.Named(record.Kind) is not null ? (record, changes) : null;

    /// <summary>Takes a form in: a change is on disk before the answer, or nothing is and the page says why.</summary>
    private async Task WriteAsync(HttpContext context, string path)
    {
        var by = Visitor.Of(context).Name;
        var isEntry = path.StartsWith(DeskEntry.Path + "/", StringComparison.Ordinal);
        if (isEntry && context.Request.ContentLength > DeskEntry.MostBytes)
        {
            await RenderAsync(context, await shelf.NowAsync(TimeSpan.Zero), Nothing("enter.too_big", StatusCodes.Status413PayloadTooLarge));
            return;
        }

        if (isEntry) DeskEntry.Widen(context);
        var form = await DeskRendering.FormAsync(context, isEntry ? DeskEntry.MostBytes : path is "/map/files" or "/old/read" ? DeskMapFiles.MostBytes : 1 << 20);
        var answer = await shelf.NowAsync(TimeSpan.Zero);
        if (form is null)
        {
            await RenderAsync(context, answer, Nothing("desk.forged", StatusCodes.Status400BadRequest));
            return;
        }

        switch (path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            case ["enter", .. var sheet]:
                var (where, why) = await entry.WriteAsync(() => shelf.NowAsync(TimeSpan.Zero), sheet, context.Request.Query, form, (by, Words(context)));
                if (where is not null) See(context, where);
                else await RenderAsync(context, await shelf.NowAsync(TimeSpan.Zero), why ?? Nothing("enter.no_sheet", StatusCodes.Status404NotFound));
                return;
            case ["boundary", var pastureId] when DeskMap.Pasture(answer, pastureId) is { } pasture:
                if (map.Write(answer, pasture, form["corners"].ToString(), form["shown"].ToString(), by) is { } again) await RenderAsync(context, answer, (typeof(BoundaryPage), new() { ["Form"] = again }, StatusCodes.Status409Conflict));
                else See(context, path + "?saved=yes");
                return;
            case ["plan", "lines"]:
                var (kept, unkept) = await plan.KeepAsync(context, form, answer, by, Words(context));
                if (kept is not null) See(context, kept);
                else await RenderAsync(context, answer, unkept!.Value);
                return;
            case ["plan", "practice", var what]:
                if (DeskPractice.Take(context, what, form) is { } on) See(context, on);
                else await RenderAsync(context, answer, Nothing("desk.no_such_page", StatusCodes.Status404NotFound));
                return;
            case ["cases"]:
                if (cases.Keep(answer, form, by) is { } unsaved) await RenderAsync(context, answer, unsaved);
                else See(context, DeskCases.Path + "?saved=yes");
                return;
            case ["backup"]:
                await shared.Backup.HandOutAsync(context);
                return;
            case ["old", "read"]:
                await RenderAsync(context, answer, shared.OldSheets.Read(form.Files));
                return;
            case ["old", "look"]:
                await RenderAsync(context, answer, shared.OldSheets.Look(form));
                return;
            case ["old", "take"]:
                if (shared.OldSheets.Take(form["sheet"].ToString(), by) is { } notTaken) await RenderAsync(context, answer, notTaken);
                else See(context, "/years");
                return;
            case ["reports", "make"] when answer.Numbers is null || answer.IsUpdating:
                await RenderAsync(context, answer, Nothing("desk.computing", StatusCodes.Status409Conflict));
                return;
            case ["reports", "make"]:
                reports.Make(answer, (await shared.Years.NowAsync(ReportPatience, isPage: false)).Known.Beside.Upto(SeasonPooling.Label(answer.Season!.Settings)), by, Words(context));
                See(context, "/reports");
                return;
            case ["map", "files"]:
                await RenderAsync(context, answer, mapFiles.Look(form.Files, answer.Tables));
                return;
            case ["map", "take"]:
                if (mapFiles.Take(form["files"].ToString(), by)) See(context, "/map");
                else await RenderAsync(context, answer, Nothing("desk.map_forgotten", StatusCodes.Status410Gone));
                return;
        }

        if (path.Split('/', StringSplitOptions.RemoveEmptyEntries) is not ["record", var id, .. var rest] || Record(answer, id) is not { } found)
        {
            await RenderAsync(context, answer, Nothing("desk.no_such_record", StatusCodes.Status404NotFound));
            return;
        }

        var (record, changes) = found;
        // What may be shown to people who practise is the lead's to choose, here as on the page of cases.
        // Anybody may take one away.
        if (!(rest is ["void"] && form["void"] == "yes") && !DeskCases.MayWrite(context, record, form))
        {
            await RenderAsync(context, answer, Nothing("people.may_not", StatusCodes.Status403Forbidden));
            return;
        }

        Draft? draft;
        switch (rest)
        {
            // A page that was shown before somebody else's change, or sent twice, takes back nothing that it did not show.
            case ["undo"] when FieldName.OfColumn(form["column"].ToString()) is var field && (record.Field(field)?.HeadIds ?? []).SequenceEqual(RecordFields.Heads(form["heads"].ToString())):
                draft = History.Undo(changes, field);
                break;
            case ["undo"]:
                draft = null;
                break;
            case ["void"]:
                draft = new Draft(record.Kind, record.Id, ChangeOp.Void, [new FieldChange(FieldName.Void, form["void"].ToString() == "yes" ? "yes" : "", record.Field(FieldName.Void)?.HeadIds ?? [])]);
                break;
            case []:
                var fields = RecordFields.Of(form);
                var edit = RecordEdit.Of(RecordKind.Named(record.Kind)!, record, fields);
                if (edit.Stale.Length > 0 || edit.Unreadable.Length > 0)
                {
                    var tried = new RecordForm(record, changes, fields.Where(f => f.IsTouched).ToImmutableDictionary(f => f.Column, f => f.Value, StringComparer.Ordinal), edit.Stale, edit.Unreadable, IsSaved: false);
                    await RenderAsync(context, answer, (typeof(RecordPage), new() { ["Form"] = tried }, StatusCodes.Status409Conflict));
                    return;
                }

                draft = edit.Draft;
                break;
            default:
                await RenderAsync(context, answer, Nothing("desk.no_such_page", StatusCodes.Status404NotFound));
                return;
        }

        if (draft is not null) served.File.Write(answer.SeasonId, [draft], by, served.Clock.GetUtcNow());
        See(context, "/record/" + record.Id + (draft is null ? "" : "?saved=yes"));
    }

    private static void See(HttpContext context, string where) => DeskRendering.See(context, where);

    /// <summary>Answers with one of the desk's own files, which are the same for every season.</summary>
    internal static async Task FileAsync(HttpContext context, string name)
    {
        if (DeskFiles.Find(name) is not { } file) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        await Answers.BytesAsync(context, StatusCodes.Status200OK, file.Type, file.Bytes);
    }

    private Task RenderAsync(HttpContext context, DeskAnswer answer, (Type Page, Dictionary<string, object?> Parts, int Status) shown) => DeskRendering.RenderAsync(context, served.Words, answer, shown);
}
