using System.Collections.Immutable;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>The technical report of a season: every estimate with its doubt, pictures, methods with their sources, and the data.</summary>
public static class TechnicalReport
{
    /// <summary>The report as one file.</summary>
    /// <param name="numbers">The answer of the season.</param>
    /// <param name="making">How the report was made.</param>
    /// <param name="words">The language.</param>
    public static ReportPage Of(ReportNumbers numbers, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        ArgumentNullException.ThrowIfNull(making);
        ArgumentNullException.ThrowIfNull(words);
        var html = new Html(words);
        var chapters = ChapterKeys.Zip(Writers(html, numbers, making)).ToArray();
        var settings = numbers.Results.Season.Settings;
        html.Open("header").Element("h1", settings.Title).Paragraph(Phrase.Of("report.technical_subtitle"), "class=\"subtitle\"")
            .Paragraph(Landowner.Fieldwork.WhoAndWhen(numbers.Results.Season, numbers.Results.Season.Pastures, words));
        if (numbers.Results.Season.Tables.Pooled is { } pooled) foreach (var said in PooledSentences.Of(pooled)) html.Paragraph(said);
        html.Close("header");
        html.Open("nav", "aria-label=\"" + Html.Escaped(words.Say("report.contents")) + "\"").Heading(2, "report.contents").Open("ol");
        foreach (var (key, _) in chapters) html.Raw("<li><a href=\"#" + Anchor(key) + "\">" + Html.Escaped(words.Say(key)) + "</a></li>\n");
        html.Close("ol").Close("nav").Open("main");
        foreach (var (key, write) in chapters)
        {
            html.Open("section").Heading(2, key, "id=\"" + Anchor(key) + "\"");
            write();
            html.Close("section");
        }

        html.Close("main");
        var title = words.Say(Phrase.Of("report.technical_title", ("season", settings.Title)));
        var footer = words.Say(Phrase.Of("report.footer_technical", ("season", settings.Title), ("version", making.Version), ("date", making.On)));
        return new ReportPage("technical", Sheet.Of(title, words.Language, "technical", html.ToString()), footer);
    }

    /// <summary>Keys of the chapters' headings, in order.</summary>
    public static ImmutableArray<string> ChapterKeys { get; } =
    [
        "report.ch.verdicts", "report.ch.survival", "report.ch.two_numbers", "report.ch.yardstick", "report.ch.curve", "report.ch.daily", "report.ch.causes", "report.ch.chance",
        "report.ch.density", "report.ch.segments", "report.ch.comparison", "model_report.ch.why", "model_report.ch.parity", "report.ch.runs",
        "report.ch.map", "report.ch.time", "report.ch.culprits", "report.ch.left_out", "report.ch.findings", "report.ch.methods", "report.ch.cautions", "report.ch.data", "report.ch.made",
    ];

    /// <summary>The short name of a chapter, as addresses have it.</summary>
    public static string Anchor(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return key[(key.LastIndexOf('.') + 1)..];
    }

    /// <summary>One chapter as a piece of HTML; the first when none has the short name.</summary>
    /// <param name="anchor">Short name.</param>
    /// <param name="numbers">The answer of the season.</param>
    /// <param name="making">How it was made.</param>
    /// <param name="words">The language.</param>
    public static string Chapter(string anchor, ReportNumbers numbers, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        ArgumentNullException.ThrowIfNull(making);
        var html = new Html(words);
        var chapters = Writers(html, numbers, making);
        var at = Math.Max(0, ChapterKeys.ToList().FindIndex(k => Anchor(k) == anchor));
        html.Heading(2, ChapterKeys[at], "id=\"" + Anchor(ChapterKeys[at]) + "\"");
        chapters[at]();
        return html.ToString();
    }

    private static Action[] Writers(Html html, ReportNumbers numbers, ReportMaking making)
    {
        var survival = new SurvivalChapters(html, numbers);
        var cover = new CoverChapters(html, numbers);
        var why = new ModelChapters(html, numbers);
        var land = new LandChapters(html, numbers);
        var who = new CulpritChapters(html, numbers);
        var back = new BackMatter(html, numbers, making);
        return
        [
            survival.Verdicts, survival.Shares, survival.TwoNumbers, survival.Yardsticks, survival.Curves, survival.Daily, survival.Causes, survival.Chances,
            cover.Density, cover.Segments, cover.Comparison, why.Why, why.Parity, cover.Runs,
            land.Maps, land.Times, who.Write, back.LeftOut, back.Findings, back.Methods, back.Cautions, back.Listing, back.Made,
        ];
    }
}
