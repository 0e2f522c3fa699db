using System.Collections.Immutable;
using System.Reflection;
using Markdig;
using Markdig.Renderers.Html;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;

namespace Tussock.Desk;

/// <summary>The pages on methods, carried inside the program: what a number means, its formula, a worked example, its source and when it misleads.</summary>
public static class MethodPages
{
    private const string Prefix = "methods/";

    private static readonly MarkdownPipeline Pipeline = new MarkdownPipelineBuilder().UsePipeTables().DisableHtml().Build();

    private static readonly ImmutableDictionary<string, ImmutableArray<string>> OfChapters = new (string Chapter, string Methods)[]
    {
        ("verdicts", "verdict"), ("survival", "counted-share fates"), ("two_numbers", "two-piece counted-share"), ("yardstick", "counted-share"), ("curve", "curve"), ("daily", "daily-survival two-piece"), ("causes", "causes"), ("chance", "chance forecast"),
        ("density", "density"), ("segments", "density"), ("comparison", "cover-comparison"), ("why", "regression choosing-models grouped-nests"), ("parity", "regression"), ("runs", "runs"), ("map", "fates"), ("time", "fates"), ("culprits", "reading-remains what-signs-are-worth"),
        ("left_out", "fates"), ("findings", "review"), ("methods", "coverage"),
    }.ToImmutableDictionary(c => c.Chapter, c => c.Methods.Split(' ').ToImmutableArray());

    /// <summary>Methods behind a chapter of the results, the first the nearest; empty where no number was computed.</summary>
    public static ImmutableArray<string> Of(string chapter) => OfChapters.GetValueOrDefault(chapter, []);

    /// <summary>The heading of a method's page; null when there is no such page.</summary>
    public static string? Title(string method) => Text(method) is { } text ? text.Split('\n')[0].TrimStart('#', ' ').Trim() : null;

    /// <summary>The page as a piece of HTML without its heading; null when there is no such page. Links to other methods lead to their pages here; other links are text.</summary>
    public static string? Html(string method)
    {
        if (Text(method) is not { } text) return null;
        var document = Markdown.Parse(text[(text.IndexOf('\n', StringComparison.Ordinal) + 1)..], Pipeline);
        foreach (var heading in document.Descendants<HeadingBlock>()) heading.Level = Math.Min(6, heading.Level + 1);
        foreach (var link in document.Descendants<LinkInline>().ToArray())
        {
            var to = link.Url is { } url && url.EndsWith(".md", StringComparison.Ordinal) && !url.Contains('/', StringComparison.Ordinal) ? url[..^3] : "";
            if (to.Length > 0 && Text(to) is not null) link.Url = "/why/" + to;
            else link.ReplaceBy(new EmphasisInline { DelimiterChar = '*', DelimiterCount = 1 });
        }

        foreach (var table in document.Descendants<Markdig.Extensions.Tables.Table>()) table.GetAttributes().AddClass("short");
        return document.ToHtml(Pipeline);
    }

    private static string? Text(string method)
    {
        if (method.Length == 0 || !method.All(c => char.IsAsciiLetterLower(c) || c == '-')) return null;
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Prefix + method + ".md");
        if (stream is null) return null;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
