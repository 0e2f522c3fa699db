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
        var chapters = Chapters(html, numbers, making);
        var settings = numbers.Results.Season.Settings;
        html.Open("header").Element("h1", settings.Title).Paragraph(Phrase.Of("report.technical_subtitle"), "class=\"subtitle\"")
            .Paragraph(Landowner.Fieldwork.WhoAndWhen(numbers.Results.Season, numbers.Results.Season.Pastures, words)).Close("header");
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

    private static (string Key, Action Write)[] Chapters(Html html, ReportNumbers numbers, ReportMaking making)
    {
        var survival = new SurvivalChapters(html, numbers);
        var cover = new CoverChapters(html, numbers);
        var why = new ModelChapters(html, numbers);
        var land = new LandChapters(html, numbers);
        var who = new CulpritChapters(html, numbers);
        var back = new BackMatter(html, numbers, making);
        return
        [
            ("report.ch.verdicts", survival.Verdicts), ("report.ch.survival", survival.Shares), ("report.ch.two_numbers", survival.TwoNumbers), ("report.ch.yardstick", survival.Yardsticks),
            ("report.ch.curve", survival.Curves), ("report.ch.daily", survival.Daily), ("report.ch.causes", survival.Causes), ("report.ch.chance", survival.Chances),
            ("report.ch.density", cover.Density), ("report.ch.segments", cover.Segments), ("report.ch.comparison", cover.Comparison),
            ("model_report.ch.why", why.Why), ("model_report.ch.parity", why.Parity), ("report.ch.runs", cover.Runs),
            ("report.ch.map", land.Maps), ("report.ch.time", land.Times), ("report.ch.culprits", who.Write), ("report.ch.left_out", back.LeftOut), ("report.ch.findings", back.Findings),
            ("report.ch.methods", back.Methods), ("report.ch.cautions", back.Cautions), ("report.ch.data", back.Listing), ("report.ch.made", back.Made),
        ];
    }

    private static string Anchor(string key) => key[(key.LastIndexOf('.') + 1)..];
}
