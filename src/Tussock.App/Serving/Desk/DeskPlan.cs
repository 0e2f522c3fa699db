using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Desk.Before;
using Tussock.Desk.Pages;
using Tussock.Exchange.Calendar;
using Tussock.Provisions;
using Tussock.Records;
using Tussock.Words;
using Tussock.Workdays;

namespace Tussock.App.Serving.Desk;

/// <summary>What is asked before anyone walks: whether a design can answer, where its lines go, who works when, what is loaded.</summary>
/// <remarks>One of these is computed at a time, and only while its reader waits: whoever closes the page has called it off.</remarks>
internal sealed class DeskPlan(ServedSeason served)
{
    internal const string Path = "/plan";

    private static readonly SemaphoreSlim One = new(1, 1);
    private readonly DeskPlanLines lines = new(served);

    private static readonly ImmutableArray<PlanField> DayFields =
    [
        new("from", PlanBox.Date, ""), new("crews", PlanBox.Whole, "1", 1, 20), new("new_crews", PlanBox.Whole, "0", 0, 20), new("begin", PlanBox.Time, "06:30"), new("end", PlanBox.Time, "11:30"),
        new("closed", PlanBox.Words, "", Most: 1000), new("set_out_minutes", PlanBox.Number, "10", 0.5, 600), new("check_minutes", PlanBox.Number, "5", 0.5, 600), new("moving_minutes", PlanBox.Number, "20", 0, 600), new("metres_a_minute", PlanBox.Optional, "", 10, 2000),
    ];

    private static readonly ImmutableArray<PlanField> SupplyFields =
    [
        new("eggs_a_nest", PlanBox.Whole, "3", 1, 30), new("survival_percent", PlanBox.Number, "50", 0, 100), new("spare_percent", PlanBox.Number, "10", 0, 1000), new("cameras", PlanBox.Whole, "0", 0, 10_000), new("batteries_a_camera", PlanBox.Whole, "8", 0, 100),
        .. SupplyList.Names.Select(n => new PlanField("cost." + n, PlanBox.Optional, "", 0, 1_000_000)),
    ];

    /// <summary>The page, or the file, behind an address; null where it is neither.</summary>
    internal static async Task<(Type Page, Dictionary<string, object?> Parts, int Status)?> PageAsync(HttpContext context, string path, DeskAnswer answer, Catalogue words)
    {
        Func<string, string?> sent = n => context.Request.Query.TryGetValue(n, out var value) ? value.ToString() : null;
        switch (path)
        {
            case Path: return await AloneAsync(context, stop => DeskPlanPower.Page(answer.Season, sent, words, stop));
            case Path + "/lines": return await AloneAsync(context, stop => DeskPlanLines.Page(answer, sent, words, stop));
            case Path + "/days": return Days(answer, sent, context.Request.QueryString.Value ?? "");
            case Path + "/supplies": return Supplies(answer, sent, context.Request.QueryString.Value ?? "");
            default: return null;
        }
    }

    /// <summary>Keeps the lines of a form; where the browser is sent on to, or the page that says why not.</summary>
    internal async Task<(string? Where, (Type, Dictionary<string, object?>, int)? Why)> KeepAsync(HttpContext context, IFormCollection form, DeskAnswer answer, string by, Catalogue words)
    {
        string? where = null;
        var why = await AloneAsync(context, stop => lines.Keep(answer, n => form.TryGetValue(n, out var value) ? value.ToString() : null, by, words, stop, out where));
        return (where, where is null ? why : null);
    }

    /// <summary>The plan of work as a calendar, or the supplies as a table; null where the form is not right.</summary>
    internal (string Name, string Type, string Text)? File(HttpContext context, string name, DeskAnswer answer, Catalogue words)
    {
        Func<string, string?> sent = n => context.Request.Query.TryGetValue(n, out var value) ? value.ToString() : null;
        return (name, answer.Season) switch
        {
            ("work.ics", { } season) when WorkRulesOf(PlanTyped.Of(DayFields, sent)) is { HasValue: true } rules => (name, "text/calendar; charset=utf-8", WorkCalendar.Of(season, WorkPlan.Of(season, rules.Value), served.Clock.GetUtcNow(), words)),
            (SupplyCsv.File, { } season) when PlanTyped.Of(SupplyFields, sent) is { Wrong.IsEmpty: true } typed => (name, "text/csv; charset=utf-8", SupplyCsv.Of(SupplyList.Of(season, Needs(typed)), words)),
            _ => null,
        };
    }

    internal static async Task<(Type, Dictionary<string, object?>, int)> AloneAsync(HttpContext context, Func<CancellationToken, (Type, Dictionary<string, object?>, int)> compute)
    {
        await One.WaitAsync(context.RequestAborted);
        try
        {
            return await Task.Run(() => compute(context.RequestAborted), context.RequestAborted);
        }
        finally
        {
            One.Release();
        }
    }

    private static (Type, Dictionary<string, object?>, int) Days(DeskAnswer answer, Func<string, string?> sent, string query)
    {
        var typed = PlanTyped.Of(DayFields, sent);
        if (!typed.IsSent) return (typeof(PlanDays), new() { ["Typed"] = typed.With(("from", answer.Today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))) }, StatusCodes.Status200OK);
        if (answer.Season is not { } season) return (typeof(PlanDays), new() { ["Typed"] = typed, ["Wrong"] = new[] { Phrase.Of("plan_desk.no_season") } }, StatusCodes.Status200OK);
        if (!typed.Wrong.IsEmpty) return (typeof(PlanDays), new() { ["Typed"] = typed }, StatusCodes.Status422UnprocessableEntity);
        var rules = WorkRulesOf(typed);
        if (!rules.HasValue) return (typeof(PlanDays), new() { ["Typed"] = typed, ["Wrong"] = new[] { rules.Why } }, StatusCodes.Status422UnprocessableEntity);
        var plan = WorkPlan.Of(season, rules.Value);
        return (typeof(PlanDays), new() { ["Typed"] = typed, ["Plan"] = plan, ["Sun"] = SunWords.Of(season, plan, rules.Value).ToArray(), ["Calendar"] = Path + "/work.ics" + query }, StatusCodes.Status200OK);
    }

    private static Answer<WorkRules> WorkRulesOf(PlanTyped typed)
    {
        if (!typed.Wrong.IsEmpty) return new NoAnswer(typed.Wrong[0]);
        if (ClosedDays.All(typed.Text("closed")) is not { } closed) return NoAnswer.Because("plan_desk.no_closed");
        if (typed.Time("begin") >= typed.Time("end")) return NoAnswer.Because("plan_desk.no_hours");
        if (typed.Whole("new_crews") > typed.Whole("crews")) return NoAnswer.Because("plan_desk.new_crews_wrong");
        return new WorkRules(typed.Date("from"))
        {
            Crews = typed.Whole("crews"), NewCrews = typed.Whole("new_crews"), Begin = typed.Time("begin"), End = typed.Time("end"), Closed = closed,
            SetOutMinutes = typed.Number("set_out_minutes"), CheckMinutes = typed.Number("check_minutes"), MovingMinutes = typed.Number("moving_minutes"), BetweenMetresAMinute = typed.Perhaps("metres_a_minute"),
        };
    }

    private static (Type, Dictionary<string, object?>, int) Supplies(DeskAnswer answer, Func<string, string?> sent, string query)
    {
        var typed = PlanTyped.Of(SupplyFields, sent);
        var parts = new Dictionary<string, object?> { ["Typed"] = typed, ["Csv"] = Path + "/" + SupplyCsv.File + query };
        if (!typed.Wrong.IsEmpty) return (typeof(PlanSupplies), parts, StatusCodes.Status422UnprocessableEntity);
        if (answer.Season is { } season) parts["List"] = SupplyList.Of(season, Needs(typed));
        else parts["Wrong"] = new[] { Phrase.Of("plan_desk.no_season") };
        return (typeof(PlanSupplies), parts, StatusCodes.Status200OK);
    }

    private static SupplyNeeds Needs(PlanTyped typed) => new()
    {
        EggsANest = typed.Whole("eggs_a_nest"), Survival = typed.Number("survival_percent") / 100, Spare = typed.Number("spare_percent") / 100, Cameras = typed.Whole("cameras"), BatteriesACamera = typed.Whole("batteries_a_camera"),
        UnitCosts = SupplyList.Names.Where(n => typed.Perhaps("cost." + n) is not null).ToFrozenDictionary(n => n, n => typed.Number("cost." + n), StringComparer.Ordinal),
    };
}
