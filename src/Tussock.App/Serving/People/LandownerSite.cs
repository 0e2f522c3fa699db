using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.App.Serving.Desk;
using Tussock.Desk;
using Tussock.Desk.Pages;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Results;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Serving.People;

/// <summary>All that a landowner can open: the answer for the own pastures, and the page of the report without places. The desk's other pages are not behind it.</summary>
/// <param name="seasons">What is served.</param>
/// <param name="known">What the desk knows of the whole season that a request is of.</param>
internal sealed class LandownerSite(ServedSeasons seasons, Func<HttpContext, Task<DeskAnswer>> known)
{
    private const string OwnPath = "/own/";
    private const string Shared = "-to-share";
    private const int MostKept = 32;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);
    private readonly Lock gate = new();
    private readonly Dictionary<string, OwnPages> all = new(StringComparer.Ordinal);

    internal async Task AnswerAsync(HttpContext context, string path, Visitor visitor)
    {
        var own = Own(SeasonShown.Of(context).Season, visitor.Properties);
        var answer = await own.Shelf.NowAsync(await known(context), path == "/desk/state" ? TimeSpan.Zero : Patience);
        if (path == "/desk/state")
        {
            await DeskRendering.StateAsync(context, answer);
            return;
        }

        var pages = own.PagesOf(answer, SpokenLanguage.Of(context, seasons.Usual.Words));
        if (path == "/")
        {
            var named = pages.Select(p => (p.Page.Name[..^Shared.Length], p.Property)).ToArray();
            await DeskRendering.RenderAsync(context, seasons.Usual.Words, answer, (typeof(OwnLand), new() { ["Reports"] = named }, StatusCodes.Status200OK));
            return;
        }

        if (!path.StartsWith(OwnPath, StringComparison.Ordinal) || pages.FirstOrDefault(p => p.Page.Name == path[OwnPath.Length..] + Shared).Page is not { } page)
        {
            await DeskRendering.RenderAsync(context, seasons.Usual.Words, answer, (typeof(Nothing), new() { ["Why"] = Phrase.Of("desk.no_such_page") }, StatusCodes.Status404NotFound));
            return;
        }

        context.Response.Headers.ContentSecurityPolicy = DeskSheets.Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(page.Html));
    }

    /// <summary>What is kept for a set of properties in a season, computed from their records alone.</summary>
    private OwnPages Own(SeasonEntry season, ImmutableArray<string> properties)
    {
        var own = properties.ToImmutableSortedSet(StringComparer.Ordinal);
        var key = season.Id + "\n" + string.Join('\n', own);
        lock (gate)
        {
            if (all.TryGetValue(key, out var kept)) return kept;
            if (all.Count >= MostKept) all.Clear();
            return all[key] = new OwnPages(new OwnShelf(seasons.Of(season), own));
        }
    }

    /// <summary>The answers of a set of properties, and the pages last made of one.</summary>
    private sealed class OwnPages(OwnShelf shelf)
    {
        private Made? last;

        internal OwnShelf Shelf => shelf;

        /// <summary>The pages to keep, with their properties; made once for each answer.</summary>
        internal ImmutableArray<(ReportPage Page, string Property)> PagesOf(DeskAnswer answer, Catalogue words)
        {
            if (answer.Numbers is not { } numbers) return [];
            if (last is { } made && ReferenceEquals(made.Of, numbers) && made.On == answer.Today && made.Words == words) return made.Pages;
            var making = new ReportMaking(SharedOptions.Version, new ResultsOptions().Seed, answer.Today, null);
            var properties = numbers.Results.Season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal);
            var pages = LandownerPages.Of(numbers, making, words).Where(p => p.Name.EndsWith(Shared, StringComparison.Ordinal)).Zip(properties).ToImmutableArray();
            last = new Made(numbers, answer.Today, words, pages);
            return pages;
        }

        /// <summary>The pages last made. Replaced as one, so that several may ask at once.</summary>
        private sealed record Made(ReportNumbers Of, DateOnly On, Catalogue Words, ImmutableArray<(ReportPage Page, string Property)> Pages);
    }
}
