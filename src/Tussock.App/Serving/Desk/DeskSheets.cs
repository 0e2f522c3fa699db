using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Reports;
using Tussock.Reports.Sheets;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The field sheets as pages of their own, to be printed from the browser.</summary>
internal sealed class DeskSheets(Catalogue words)
{
    internal const string Path = "/sheets/";

    /// <summary>A sheet brings its own style and pictures, and nothing else may come with it.</summary>
    internal const string Policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private Made? last;

    /// <summary>All sheets of the season; made once for each position of the journal.</summary>
    internal ImmutableArray<ReportPage> Of(DeskAnswer answer, HttpContext context)
    {
        if (answer.Season is null) return [];
        var app = new Uri(context.Request.Scheme + "://" + context.Request.Host + "/field/");
        if (last is { } made && made.Position == answer.Position && made.On == answer.Today && made.App == app) return made.Pages;
        var pages = FieldSheets.Of(answer.Season, new ReportMaking(SharedOptions.Version, new ResultsOptions().Seed, answer.Today, answer.Position), app, words);
        last = new Made(answer.Position, answer.Today, app, pages);
        return pages;
    }

    internal async Task AnswerAsync(HttpContext context, string name, DeskAnswer answer)
    {
        var page = Of(answer, context).FirstOrDefault(s => s.Name == name) ?? throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(page.Html));
    }

    /// <summary>The sheets last made. Replaced as one, so that several may ask at once.</summary>
    private sealed record Made(long Position, DateOnly On, Uri App, ImmutableArray<ReportPage> Pages);
}
