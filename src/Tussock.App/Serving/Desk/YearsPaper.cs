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
        var page = Asked("network") != "yes" ? beside.Of(Asked("property")).Where(l => l.Pasture == (Asked("pasture") is { Length: > 0 } pasture ? pasture : null)).Select(l => YearsPages.Record(l, "years", beside.Network, making, words)).FirstOrDefault()
            : beside.Network is { HasValue: true, Value: { Properties: >= Synthesis.FewestForSpread } network } ? YearsPages.All(network, making, words) : null;
        if (page is null) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = DeskSheets.Policy;
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Encoding.UTF8.GetBytes(page.Html));
    }
}
