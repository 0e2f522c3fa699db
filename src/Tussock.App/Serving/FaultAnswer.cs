using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>What a fault of the program looks like from outside: a page that says so, and nothing of what it was about.</summary>
internal static class FaultAnswer
{
    private const int MostFrames = 8;

    /// <summary>Answers, unless an answer is already on its way; that one is cut off, so that nobody takes half of it for the whole.</summary>
    internal static Task AnswerAsync(HttpContext context, Catalogue words)
    {
        if (context.Response.HasStarted)
        {
            context.Abort();
            return Task.CompletedTask;
        }

        context.Response.Clear();
        Doorkeeper.Protect(context.Response);
        if (!context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase)) return Answers.WhyAsync(context, StatusCodes.Status500InternalServerError, words.Say("serve.fault"));
        return Answers.BytesAsync(context, StatusCodes.Status500InternalServerError, "text/html; charset=utf-8", InsecurePage.Page(words.Say("serve.fault_title"), [words.Say("serve.fault")]));
    }

    /// <summary>The fault for whoever mends the program: kinds and methods. Its message may quote a record, so it is left out.</summary>
    internal static Phrase Told(Exception fault, string route)
    {
        var where = new StringBuilder();
        for (var at = fault; at is not null; at = at.InnerException)
        {
            var frames = (at.StackTrace ?? "").Split('\n').Select(l => l.Trim()).Where(l => l.StartsWith("at Tussock", StringComparison.Ordinal)).Take(MostFrames).Select(l => l.Split('(')[0][3..]);
            where.Append(where.Length > 0 ? " ← " : "").Append(at.GetType().Name).Append(' ').AppendJoin(" < ", frames);
        }

        return Phrase.Of("serve.fault_told", ("route", route), ("where", where.ToString()));
    }
}
