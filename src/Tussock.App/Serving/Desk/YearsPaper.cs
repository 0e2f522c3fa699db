using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Reports;
using Tussock.Reports.OverYears;
using Tussock.Words;
using Tussock.Years;

namespace Tussock.App.Serving.Desk;

/// <summary>The record of a pasture's years as a page to print, and all properties together.</summary>
internal static class YearsPaper
{
    internal static async Task AnswerAsync(HttpContext context, YearsBeside beside, ReportMaking making, Catalogue words)
    {
        string Asked(string name) => context.Request.Query[name].ToString();
        var lands = Asked("network") == "yes" ? [] : beside.Of(Asked("property")).Where(l => l.Pasture == (Asked("pasture") is { Length: > 0 } pasture ? pasture : null));
        var pages = YearsPages.Of(new YearsCompared([], [.. lands], beside.Network), making, words);
        // The page asked for stands first; all properties together follow it where there are enough of them.
        var isThere = Asked("network") == "yes" ? pages.Length > 0 : lands.Any();
        if (!isThere) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = DeskSheets.Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(pages[0].Html));
    }
}
