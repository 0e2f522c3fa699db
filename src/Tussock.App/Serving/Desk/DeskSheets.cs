using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Reports;
using Tussock.Reports.Sheets;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The field sheets as pages of their own, to be printed from the browser.</summary>
internal static class DeskSheets
{
    internal const string Path = "/sheets/";

    /// <summary>A sheet brings its own style and pictures, and nothing else may come with it.</summary>
    private const string Policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    internal static ImmutableArray<ReportPage> Of(DeskAnswer answer, HttpContext context, Catalogue words) => answer.Season is null ? []
        : FieldSheets.Of(answer.Season, new ReportMaking(SharedOptions.Version, 0, answer.Today, answer.Position), new Uri(context.Request.Scheme + "://" + context.Request.Host + "/field/"), words);

    internal static async Task AnswerAsync(HttpContext context, string name, DeskAnswer answer, Catalogue words)
    {
        var page = Of(answer, context, words).FirstOrDefault(s => s.Name == name) ?? throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(page.Html));
    }
}
