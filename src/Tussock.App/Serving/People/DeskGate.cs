using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Every request for the desk comes through here: who asks, whether that person may, whether it is too fast; then it goes to the pages it is for.</summary>
/// <param name="served">What is served; on loopback alone whoever asks sits at the desk.</param>
/// <param name="desk">The pages of everybody but landowners.</param>
/// <param name="people">The pages of accounts.</param>
/// <param name="by">Who sits at the desk.</param>
internal sealed class DeskGate(ServedSeason served, DeskSite desk, PeopleSite people, string by)
{
    private const int RequestsAMinute = 600;
    private const int Burst = 300;
    private readonly LandownerSite landowner = new(served, desk.KnownAsync);
    private readonly Allowance allowance = new(served.Clock, RequestsAMinute, Burst);

    internal async Task AnswerAsync(HttpContext context)
    {
        var (method, path) = (context.Request.Method, context.Request.Path.Value ?? "/");
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
        if (path == SpokenLanguage.Path) await SpokenLanguage.ChooseAsync(context);
        else if (PeopleSite.Has(path)) await people.AnswerAsync(context, path, visitor);
        else if (visitor?.Role == PersonRole.Landowner && (path == "/desk/state" || !path.StartsWith("/desk/", StringComparison.Ordinal))) await landowner.AnswerAsync(context, path, visitor);
        else await desk.AnswerAsync(context);
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
