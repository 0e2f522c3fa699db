using System.Net;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>What a phone sees over plain http: why the app can't work there, and what to do.</summary>
internal static class InsecurePage
{
    internal static Task AnswerAsync(HttpContext context, Catalogue words) =>
        Answers.BytesAsync(context, StatusCodes.Status403Forbidden, "text/html; charset=utf-8", Page(words.Say("serve.insecure_title"), [words.Say("serve.insecure"), words.Say("serve.insecure_todo")]));

    internal static byte[] Page(string title, IEnumerable<string> paragraphs, string more = "")
    {
        var html = new StringBuilder("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><title>");
        html.Append(WebUtility.HtmlEncode(title)).Append("</title></head><body><main><h1>").Append(WebUtility.HtmlEncode(title)).Append("</h1>");
        foreach (var paragraph in paragraphs) html.Append("<p>").Append(WebUtility.HtmlEncode(paragraph)).Append("</p>");
        return Encoding.UTF8.GetBytes(html.Append(more).Append("</main></body></html>\n").ToString());
    }
}
