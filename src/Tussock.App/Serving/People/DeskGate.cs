using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.Desk;
using Tussock.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Every request for the desk comes through here: who asks, whether that person may, whether it is too fast; then it goes to the pages it is for.</summary>
/// <param name="seasons">What is served; on loopback alone whoever asks sits at the desk.</param>
/// <param name="desk">The pages of everybody but landowners, of every season.</param>
/// <param name="people">The pages of accounts.</param>
/// <param name="by">Who sits at the desk.</param>
internal sealed class DeskGate(ServedSeasons seasons, DeskSeasons desk, PeopleSite people, string by)
{
    private const int RequestsAMinute = 600;
    private const int Burst = 300;
    private readonly ServedSeason served = seasons.Usual;
    private readonly LandownerSite landowner = new(seasons, desk.KnownAsync);
    private readonly Allowance allowance = new(seasons.Usual.Clock, RequestsAMinute, Burst);

    internal async Task AnswerAsync(HttpContext context)
    {
        var method = context.Request.Method;
        var (key, path) = SeasonAddress.Split(context.Request.Path.Value ?? "/");
        // From here on an address is that of one season's desk: who may ask for it does not hang on the season.
        context.Request.Path = path;
        var may = WhoMay.Of(method, path);
        var visitor = served.IsLoopbackOnly ? Visitor.AtThisMachine(by) : await SignIn.VisitorAsync(context, served.File);
        if (visitor is not null) context.Features.Set(visitor);
        if (!served.IsLoopbackOnly && allowance.Take(visitor?.Id?.ToString() ?? SignInPace.Whose(context.Connection.RemoteIpAddress)) is { } wait)
        {
            context.Response.Headers.RetryAfter = ((int)Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
            throw new RefusedRequestException(StatusCodes.Status429TooManyRequests, "people.too_many_requests");
        }

        if (!may.HasFlag(WhoMay.As(visitor)))
        {
            await RefuseAsync(context, may, visitor);
            return;
        }

        if (path.Length > 1) path = path.TrimEnd('/');
        var isFile = path.StartsWith("/desk/", StringComparison.Ordinal) && path != "/desk/state";
        if (visitor is not null && !isFile && !await IsOfASeasonAsync(context, key, path, visitor)) return;
        if (path == SpokenLanguage.Path) await SpokenLanguage.ChooseAsync(context);
        else if (path == SpokenUnits.Path) await SpokenUnits.ChooseAsync(context);
        else if (PeopleSite.Has(path)) await people.AnswerAsync(context, path, visitor);
        else if (visitor?.Role == PersonRole.Landowner && !isFile) await landowner.AnswerAsync(context, path, visitor);
        else if (isFile) await DeskSite.FileAsync(context, path["/desk/".Length..]);
        else await desk.AnswerAsync(context);
    }

    /// <summary>Finds the season that a request is of. An old address without one is sent on to the newest; a form without one is taken only where it can mean no other.</summary>
    /// <returns>Whether the request goes on; otherwise it has its answer.</returns>
    private async Task<bool> IsOfASeasonAsync(HttpContext context, string? key, string path, Visitor visitor)
    {
        // Without land in any season a landowner sees the empty page of the newest, and learns of no other.
        var isOwner = visitor.Role == PersonRole.Landowner;
        var all = seasons.All;
        if (isOwner) all = seasons.With(visitor.Properties) is { IsEmpty: false } own ? own : all[..1];
        var choices = isOwner ? SeasonAddress.Numbered(all) : SeasonAddress.Named(all);
        var at = key is null ? 0 : choices.IndexOf(choices.FirstOrDefault(c => c.Key == key));
        if (at < 0)
        {
            await people.NothingAsync(context, "desk.no_such_season", StatusCodes.Status404NotFound);
            return false;
        }

        var isRead = !HttpMethods.IsPost(context.Request.Method);
        if (key is null && choices.Length > 1 && !isRead && !SeasonAddress.IsOfNone(path))
        {
            // Pages that were shown while there was one season carry none: their forms are of that one.
            at = choices.IndexOf(choices.FirstOrDefault(c => c.Season.Id == seasons.Alone));
            if (at < 0)
            {
                await people.NothingAsync(context, "desk.which_season", StatusCodes.Status409Conflict);
                return false;
            }
        }

        var prefix = choices.Length > 1 || key is not null ? SeasonAddress.Prefix(choices[at].Key) : "";
        ImmutableArray<SeasonLink> links = choices.Length > 1 ? [.. choices.Select((c, i) => new SeasonLink(c.Label, SeasonAddress.Prefix(c.Key), i == at))] : [];
        context.Features.Set(new SeasonShown(choices[at].Season, prefix, links));
        if (key is not null || !isRead || choices.Length == 1) return true;
        DeskRendering.See(context, context.Request.Path + context.Request.QueryString.Value);
        return false;
    }

    /// <summary>Whoever has not signed in is shown the door, whatever the address; a landowner learns of no other page; everybody else is told.</summary>
    private Task RefuseAsync(HttpContext context, Who may, Visitor? visitor)
    {
        if (visitor is not null) return may == Who.Nobody || visitor.Role == PersonRole.Landowner ? people.NothingAsync(context, "desk.no_such_page", StatusCodes.Status404NotFound) : people.NothingAsync(context, "people.may_not", StatusCodes.Status403Forbidden);
        if (!HttpMethods.IsGet(context.Request.Method) || !context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase)) throw new RefusedRequestException(StatusCodes.Status401Unauthorized, "people.sign_in_first");
        DeskRendering.See(context, PeopleSite.SignInPath);
        return Task.CompletedTask;
    }
}
