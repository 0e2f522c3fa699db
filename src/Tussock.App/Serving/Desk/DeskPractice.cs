using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk.Before;
using Tussock.Desk.Pages;
using Tussock.Planning.Practice;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>A season to practise on without files: designed, walked, concluded about, and its truth told. What was concluded is kept in the browser, a word a season; nothing of it touches records.</summary>
internal static class DeskPractice
{
    internal const string Path = DeskPlan.Path + "/practice";
    private const string Cookie = "practised";
    private const int MostKept = 60, LongestCode = 40;

    private static readonly ImmutableArray<PlanField> Fields =
        [new("transects", PlanBox.Whole, "6", 1, PracticeDesign.Most), new("nests", PlanBox.Whole, "8", 1, PracticeDesign.Most), new("first_check", PlanBox.Whole, "14", 1, PracticeDesign.LatestFirstCheck), new("belts", PlanBox.Tick, "yes")];

    /// <summary>The page; or where the browser is sent on to, once a design was walked.</summary>
    internal static async Task<(string? Where, (Type, Dictionary<string, object?>, int)? Page)> PageAsync(HttpContext context, Catalogue words)
    {
        Func<string, string?> sent = n => context.Request.Query.TryGetValue(n, out var value) ? value.ToString() : null;
        var kept = Kept(context);
        if (sent("code") is not { } code)
        {
            var typed = PlanTyped.Of(Fields, sent);
            if (typed is { IsSent: true, Wrong.IsEmpty: true })
            {
                var design = new PracticeDesign(typed.Whole("transects"), typed.Whole("nests"), typed.Whole("first_check"), typed.Is("belts"));
                return (Path + "?code=" + PracticeSeason.Of(design, BitConverter.ToUInt64(RandomNumberGenerator.GetBytes(sizeof(ulong)))).Code, null);
            }

            return (null, await TalliedAsync(context, kept, tally => (typeof(PracticePage), new() { ["Typed"] = typed, ["Tally"] = tally }, typed.Wrong.IsEmpty ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity)));
        }

        if (PracticeSeason.OfCode(code) is not { } season)
            return (null, await TalliedAsync(context, kept, tally => (typeof(PracticePage), new() { ["Typed"] = PlanTyped.Of(Fields, _ => null), ["Wrong"] = Phrase.Of("student.wrong.code", ("found", code.Length > LongestCode ? code[..LongestCode] + "…" : code)), ["Tally"] = tally }, StatusCodes.Status404NotFound)));
        return (null, await DeskPlan.AloneAsync(context, stop => Walked(season, kept, sent, words, stop)));
    }

    /// <summary>Takes a conclusion, or forgets all; where the browser is sent on to, null for an address that is none.</summary>
    internal static string? Take(HttpContext context, string what, IFormCollection form)
    {
        switch (what)
        {
            case "forget":
                context.Response.Cookies.Delete(Cookie);
                return Path;
            case "open":
                var code = form["code"].ToString();
                if (PracticeSeason.OfCode(code) is not { } season) return Path + "?code=" + Uri.EscapeDataString(code);
                string Typed(string name) => Uri.EscapeDataString(form[name].ToString().Trim());
                var said = Said(season, n => form[n].ToString());
                // What can't be read goes back into the form, with what is wrong with it.
                if (!said.HasValue) return $"{Path}?code={season.Code}&says={Typed("says")}&percent={Typed("percent")}&clumps={Typed("clumps")}&clumps_percent={Typed("clumps_percent")}";
                var kept = Kept(context);
                if (kept.All(k => k.Code != season.Code)) Keep(context, [.. kept, said.Value]);
                return Path + "?code=" + season.Code;
            default:
                return null;
        }
    }

    private static (Type, Dictionary<string, object?>, int) Walked(PracticeSeason season, ImmutableArray<PracticeConclusions> kept, Func<string, string?> sent, Catalogue words, CancellationToken stop)
    {
        var parts = new Dictionary<string, object?> { ["Typed"] = PlanTyped.Of(Fields, _ => null), ["Season"] = season, ["Sides"] = PracticeConclusions.Sides, ["Tally"] = Tally(kept) };
        if (kept.FirstOrDefault(k => k.Code == season.Code) is not { } said)
        {
            var tried = sent("says") is null ? null : Said(season, n => sent(n) ?? "").Why;
            (parts["Wrong"], parts["Tried"]) = (tried, sent);
            return (typeof(PracticePage), parts, tried is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity);
        }

        var opened = PracticeOpened.Of(season, said.Survival, said.Density);
        (parts["Opened"], parts["Rates"]) = (opened, opened.Rates(null, stop));
        if (sent("curves") == "yes" && opened.WithCurves(stop) is { Curves: { } curves } answer) parts["Picture"] = PowerPicture.Draw(answer, curves, words);
        return (typeof(PracticePage), parts, StatusCodes.Status200OK);
    }

    private static Answer<PracticeConclusions> Said(PracticeSeason season, Func<string, string> typed)
    {
        int? Percent(string name) => int.TryParse(typed(name).Trim(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var n) ? n : null;
        bool IsSide(string name) => PracticeConclusions.Sides.Contains(typed(name));
        if (!IsSide("says") || (season.Design.HasBelts && !IsSide("clumps"))) return NoAnswer.Because("student.wrong.no_side");
        if (Percent("percent") is not { } percent) return NoAnswer.Because("student.wrong.percent", ("found", Short(typed("percent"))));
        var survival = new Conclusion(PracticeConclusions.SideOf(typed("says")), percent);
        if (!season.Design.HasBelts) return survival.Wrong() is { } wrong ? new NoAnswer(wrong) : new PracticeConclusions(season.Code, survival, null);
        if (Percent("clumps_percent") is not { } ofClumps) return NoAnswer.Because("student.wrong.percent", ("found", Short(typed("clumps_percent"))));
        var density = new Conclusion(PracticeConclusions.SideOf(typed("clumps")), ofClumps);
        return (survival.Wrong() ?? density.Wrong()) is { } odd ? new NoAnswer(odd) : new PracticeConclusions(season.Code, survival, density);
    }

    private static string Short(string text) => text.Length > LongestCode ? text[..LongestCode] + "…" : text;

    private static PracticeTally? Tally(ImmutableArray<PracticeConclusions> kept) =>
        PracticeTally.Of(kept.Select(k => PracticeSeason.OfCode(k.Code) is { } season ? PracticeOpened.Of(season, k.Survival, k.Density) : null).OfType<PracticeOpened>());

    /// <summary>A page with the tally: many judged seasons are reckoned alone, none at once.</summary>
    private static async Task<(Type, Dictionary<string, object?>, int)> TalliedAsync(HttpContext context, ImmutableArray<PracticeConclusions> kept, Func<PracticeTally?, (Type, Dictionary<string, object?>, int)> page) =>
        kept.IsEmpty ? page(null) : await DeskPlan.AloneAsync(context, _ => page(Tally(kept)));

    private static void Keep(HttpContext context, ImmutableArray<PracticeConclusions> all) =>
        context.Response.Cookies.Append(Cookie, string.Join('_', all.TakeLast(MostKept).Select(k => k.Word)), new CookieOptions { HttpOnly = true, IsEssential = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, Path = "/", MaxAge = TimeSpan.FromDays(400) });

    /// <summary>What a browser sends may be anything: words that mean nothing are left out.</summary>
    private static ImmutableArray<PracticeConclusions> Kept(HttpContext context) =>
        [.. (context.Request.Cookies[Cookie] ?? "").Split('_', StringSplitOptions.RemoveEmptyEntries).Take(MostKept).Select(PracticeConclusions.OfWord).OfType<PracticeConclusions>().DistinctBy(k => k.Code, StringComparer.Ordinal)];
}
