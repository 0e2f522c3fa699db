using System.Text;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Tussock.App.Serving.People;
using Tussock.Desk;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>Draws a page of the desk, and reads what its forms send back.</summary>
internal static class DeskRendering
{
    /// <summary>Answers with a page.</summary>
    internal static async Task RenderAsync(HttpContext context, Catalogue words, DeskAnswer answer, (Type Page, Dictionary<string, object?> Parts, int Status) shown)
    {
        words = SpokenUnits.Of(context, SpokenLanguage.Of(context, words));
        var tokens = context.RequestServices.GetRequiredService<IAntiforgery>().GetAndStoreTokens(context);
        var visitor = context.Features.Get<Visitor>()?.OnPages() ?? DeskVisitor.Stranger;
        var season = context.Features.Get<SeasonShown>();
        var view = new DeskView(answer, words, context.Request.Path.Value ?? "/", tokens.FormFieldName, tokens.RequestToken!) { Visitor = visitor, Back = KeptChoice.Back(context.Request), SeasonPrefix = season?.Prefix ?? "", Seasons = season?.Choices ?? [] };
        await using var renderer = new HtmlRenderer(context.RequestServices, NullLoggerFactory.Instance);
        var html = await renderer.Dispatcher.InvokeAsync(async () =>
        {
            var root = await renderer.RenderComponentAsync(shown.Page, ParameterView.FromDictionary(new Dictionary<string, object?>(shown.Parts, StringComparer.Ordinal) { ["View"] = view }));
            return SeasonAddress.Prefixed(root.ToHtmlString(), view.SeasonPrefix);
        });
        Doorkeeper.Protect(context.Response);
        if (shown.Parts.Values.OfType<Imagery>().SingleOrDefault() is { } imagery) Doorkeeper.LetPictures(context.Response, imagery.Origin);
        await Answers.BytesAsync(context, shown.Status, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(html));
    }

    /// <summary>The form, when it carries the token of one of our pages; null otherwise.</summary>
    internal static async Task<IFormCollection?> FormAsync(HttpContext context, long most)
    {
        if (!context.Request.HasFormContentType || !(context.Request.ContentLength <= most)) return null;
        try
        {
            return await context.RequestServices.GetRequiredService<IAntiforgery>().IsRequestValidAsync(context) ? await context.Request.ReadFormAsync(context.RequestAborted) : null;
        }
        catch (Exception broken) when (broken is InvalidDataException or AntiforgeryValidationException or IOException or NotSupportedException)
        {
            // More fields, or longer ones, than any page of ours has; a form that ends in the middle, or letters that nobody writes any more.
            return null;
        }
    }

    /// <summary>Where an answer stands: what a page asks that waits for a newer one. Where none will come there is nothing to wait for.</summary>
    internal static Task StateAsync(HttpContext context, DeskAnswer answer) => Answers.JsonAsync(context, StatusCodes.Status200OK, w =>
    {
        w.WriteNumber("position", answer.Position);
        w.WriteNumber("answer", answer.IsBroken ? answer.Position : answer.ReadyAt);
        w.WriteBoolean("broken", answer.IsBroken);
    });

    /// <summary>Sends the browser on to another page of the season that it is at.</summary>
    internal static void See(HttpContext context, string where)
    {
        context.Response.StatusCode = StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = context.Features.Get<SeasonShown>()?.Prefix + where;
    }
}
