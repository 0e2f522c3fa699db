using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Desk.Before;
using Tussock.Desk.Pages;
using Tussock.Exchange.Places;
using Tussock.Exchange.SeasonFolder;
using Tussock.Layout;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>Where the lines go, drawn at the desk inside the season's pastures, and kept: in this season while it has no line, else as a season of its own.</summary>
internal sealed class DeskPlanLines(ServedSeason served)
{
    private static readonly ImmutableArray<PlanField> Fields =
    [
        new("transects", PlanBox.Whole, "6", 1, 60), new("nests", PlanBox.Whole, "8", 1, 60), new("separation_m", PlanBox.Number, "100", 0, 10_000), new("from_edges_m", PlanBox.Number, "0", 0, 10_000), new("from_roads_m", PlanBox.Number, "0", 0, 10_000),
        new("from_water_m", PlanBox.Number, "0", 0, 10_000), new("from_zones_m", PlanBox.Number, "0", 0, 10_000), new("steps_between", PlanBox.Whole, "50", 1, 1000), new("step_m", PlanBox.Optional, "", 0.3, 1.5), new("gradient", PlanBox.Optional, "", 0, 359),
        new("only", PlanBox.Words, "", Most: 1000), new("take_up", PlanBox.Words, "", Most: 1000), new("seed", PlanBox.Whole, "1", 0, 1_000_000_000), new("straight", PlanBox.Tick, ""), new("drawn_turns", PlanBox.Tick, ""), new("half_flags", PlanBox.Tick, ""), new("as_many_as_fit", PlanBox.Tick, ""),
    ];

    internal static (Type, Dictionary<string, object?>, int) Page(DeskAnswer answer, Func<string, string?> sent, Catalogue words, CancellationToken stop)
    {
        var typed = PlanTyped.Of(Fields, sent);
        if (!typed.IsSent || !typed.Wrong.IsEmpty) return (typeof(PlanLines), new() { ["Typed"] = typed }, typed.Wrong.IsEmpty ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity);
        return Drawn(answer, typed, words, stop).Page;
    }

    /// <summary>Draws the same lines once more and writes them; <paramref name="where"/> says where they are to be seen, the page else why not.</summary>
    internal (Type, Dictionary<string, object?>, int) Keep(DeskAnswer answer, Func<string, string?> sent, string by, Catalogue words, CancellationToken stop, out string? where)
    {
        where = null;
        var typed = PlanTyped.Of(Fields, sent);
        if (!typed.Wrong.IsEmpty) return (typeof(PlanLines), new() { ["Typed"] = typed }, StatusCodes.Status422UnprocessableEntity);
        var (page, land, drawn) = Drawn(answer, typed, words, stop, sent("season")?.Trim(), sent("year")?.Trim());
        if (land is null || drawn is null || !page.Parts.ContainsKey("MayKeep")) return page;
        var isNew = answer.Season is { Transects.IsEmpty: false };
        if (isNew && Refused(sent("season")?.Trim() ?? "", sent("year")?.Trim() ?? "") is { } refused)
        {
            page.Parts["Wrong"] = new[] { refused };
            return page with { Status = StatusCodes.Status422UnprocessableEntity };
        }

        // A season that takes its lines in keeps all else that it says; it has no line yet whose values could change.
        var tables = SeasonDescription.Listed(PlannedSeason.Tables(drawn, land.Layout.Rules, isNew ? land.Tables : answer.Season!.Tables, words));
        var outcome = served.File.Import(new ImportRequest { Season = tables, Apply = !isNew, By = by, Now = served.Clock.GetUtcNow() }, cancellation: stop);
        if (outcome.End is ImportEnd.Done or ImportEnd.NothingToDo)
        {
            where = isNew ? "/years" : "/map";
            return page;
        }

        page.Parts["Wrong"] = outcome.Plan.Problems.Select(p => p.What).ToArray();
        return page with { Status = StatusCodes.Status422UnprocessableEntity };
    }

    private Phrase? Refused(string season, string year) =>
        season.Length is 0 or > 80 || year.Length is 0 or > 20 ? Phrase.Of("plan_desk.no_name") : served.File.Seasons().Any(s => s.Name == season) ? Phrase.Of("plan_desk.season_there", ("season", season)) : null;

    private static ((Type Page, Dictionary<string, object?> Parts, int Status) Page, PlanLand? Land, DrawnLayout? Drawn) Drawn(DeskAnswer answer, PlanTyped typed, Catalogue words, CancellationToken stop, string? name = null, string? year = null)
    {
        var parts = new Dictionary<string, object?> { ["Typed"] = typed };
        if (answer.Season is not { } season)
        {
            parts["Wrong"] = new[] { Phrase.Of("plan_desk.no_season") };
            return ((typeof(PlanLines), parts, StatusCodes.Status200OK), null, null);
        }

        var isNew = !season.Transects.IsEmpty;
        var remarks = new List<Phrase>();
        var (land, problems) = PlanLand.Of(season, Request(season, typed, isNew ? name : null, isNew ? year : null), remarks.Add);
        if (land is null)
        {
            parts["Wrong"] = problems.SelectMany(p => (Phrase[])[p.What, p.ToDo]).ToArray();
            return ((typeof(PlanLines), parts, StatusCodes.Status422UnprocessableEntity), null, null);
        }

        var drawn = SeasonLayout.Draw(land.Layout, (ulong)typed.Number("seed"), stop);
        (parts["Drawn"], parts["Remarks"]) = (drawn, remarks);
        if (!drawn.Lines.IsEmpty) parts["Picture"] = PlanMap.Draw(land.Layout, drawn, words);
        if (!drawn.Lines.IsEmpty && (drawn.Shortfalls.IsEmpty || typed.Is("as_many_as_fit"))) parts["MayKeep"] = true;
        parts["Keep"] = isNew ? (name ?? "planned", year ?? "") : ("", "");
        return ((typeof(PlanLines), parts, StatusCodes.Status200OK), land, drawn);
    }

    private static PlanRequest Request(Season season, PlanTyped typed, string? name, string? year)
    {
        ImmutableArray<string> Names(string box) => [.. typed.Text(box).Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
        var rules = new LayoutRules(typed.Whole("transects"), typed.Whole("nests"))
        {
            StepsBetween = typed.Whole("steps_between"), SeparationM = typed.Number("separation_m"), EdgeM = typed.Number("from_edges_m"), GradientDeg = (int?)typed.Perhaps("gradient"),
            MayBend = !typed.Is("straight"), Turns = typed.Is("drawn_turns") ? CoverTurns.Drawn : CoverTurns.InTurn, HalfFlagged = typed.Is("half_flags"),
        };
        return new PlanRequest(rules, "")
        {
            Data = season.Settings.Name, StepM = typed.Perhaps("step_m"), Only = Names("only"), TakeUp = Names("take_up"), Name = name, Year = year,
            Keep = new KeepAway(typed.Number("from_roads_m"), typed.Number("from_water_m"), typed.Number("from_zones_m")),
        };
    }
}
