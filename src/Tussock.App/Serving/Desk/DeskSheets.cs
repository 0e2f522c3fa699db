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

    private readonly Lock gate = new();
    private Made? last;

    /// <summary>Names of the sheets, without making them.</summary>
    internal static string[] Names(DeskAnswer answer) => answer.Season is { } season ? [.. FieldSheets.Names(season)] : [];

    /// <summary>All sheets of the season; made once for each position of the journal.</summary>
    private ImmutableArray<ReportPage> Of(DeskAnswer answer, HttpContext context)
    {
        if (answer.Season is null) return [];
        var spoken = SpokenLanguage.Of(context, words);
        var app = new Uri(context.Request.Scheme + "://" + context.Request.Host + "/field/");
        // Of a large season they are large: made by one who asks while the others wait, not by each.
        lock (gate)
        {
            if (last is { } made && made.Position == answer.SeasonAt && made.On == answer.Today && made.App == app && made.Words == spoken) return made.Pages;
            var pages = FieldSheets.Of(answer.Season, new ReportMaking(SharedOptions.Version, new ResultsOptions().Seed, answer.Today, answer.SeasonAt), app, spoken);
            last = new Made(answer.SeasonAt, answer.Today, app, spoken, pages);
            return pages;
        }
    }

    internal async Task AnswerAsync(HttpContext context, string name, DeskAnswer answer)
    {
        var page = (Names(answer).Contains(name) ? Of(answer, context).FirstOrDefault(s => s.Name == name) : null) ?? throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(page.Html));
    }

    /// <summary>The sheets last made.</summary>
    private sealed record Made(long Position, DateOnly On, Uri App, Catalogue Words, ImmutableArray<ReportPage> Pages);
}
