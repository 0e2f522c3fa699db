using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>What every landowner's page has, whatever its layout.</summary>
internal static partial class PageParts
{
    /// <summary>A section: a small heading and sentences; nothing without a sentence.</summary>
    internal static void Section(Html html, string key, IEnumerable<Phrase?> sentences)
    {
        var all = sentences.OfType<Phrase>().Select(s => Sentences.Sentence(html.Say(s))).Distinct(StringComparer.Ordinal).ToArray();
        if (all.Length == 0) return;
        html.Open("section").Heading(2, key);
        foreach (var sentence in all) html.Element("p", sentence);
        html.Close("section");
    }

    /// <summary>A section whose sentences are points.</summary>
    internal static void Points(Html html, string key, IEnumerable<string> points)
    {
        html.Open("section").Heading(2, key).List(points.Distinct(StringComparer.Ordinal)).Close("section");
    }

    internal static IEnumerable<string> CannotTell(Html html) => ((string[])["report.cannot.who", "report.cannot.real", "report.cannot.season", "report.cannot.why"]).Select(html.Words.Say);

    /// <summary>The lead's comment, shortened to what a page has room for; on a page to share without anything that looks like a place.</summary>
    internal static void Comment(Html html, Season season, bool isShared, int room)
    {
        if (Shortened(html, season, isShared, room) is { } comment) html.Open("section").Heading(2, "report.comment").Element("p", comment).Close("section");
    }

    /// <summary>The same in the place of one or two lines.</summary>
    internal static void CommentOnALine(Html html, Season season, bool isShared, int room)
    {
        if (Shortened(html, season, isShared, room) is { } comment) html.Open("p", "class=\"two\"").Element("b", html.Words.Say("report.comment") + ":").Text(" " + comment).Close("p");
    }

    private static string? Shortened(Html html, Season season, bool isShared, int room)
    {
        var comment = season.Settings.Comment.Trim();
        if (isShared) comment = Coordinate().Replace(comment, "…");
        if (comment.Length > room) comment = comment[..room].TrimEnd() + "… " + html.Words.Say("report.comment_cut");
        return comment.Length == 0 ? null : comment;
    }

    /// <summary>The foot: who and when, benchmarks, cautions.</summary>
    internal static void Foot(Html html, SeasonResults results, ImmutableArray<Pasture> pastures, bool isShared)
    {
        var settings = results.Season.Settings;
        html.Open("footer")
            .Paragraph(Fieldwork.WhoAndWhen(results.Season, pastures, html.Words))
            .Paragraph(Phrase.Of("report.benchmarks", ("survival", settings.SurvivalBenchmark), ("time", PastureWords.Duration(results.Trial.Days)), ("clumps", settings.ClumpsPerAcreBenchmark), ("hectare", Measures.Area.PerHectareFromPerAcre(settings.ClumpsPerAcreBenchmark))))
            .Paragraph(Phrase.Of(isShared ? "report.places_left_out" : "report.places_are_yours"))
            .Close("footer");
    }

    /// <summary>The map with places, or the sketch without.</summary>
    internal static void Land(Html html, SeasonResults results, ImmutableArray<Pasture> pastures, (double Width, double Height) size, bool isShared, bool isHalfway = false) =>
        html.Picture(isShared ? PropertyLand.Sketch(results, pastures, html.Words, size.Width, isHalfway) : PropertyLand.Map(results, pastures, html.Words, size, isHalfway), "class=\"land\"");

    [GeneratedRegex(@"\d{1,3}[.,]\d{3,}", RegexOptions.None, 1000)]
    private static partial Regex Coordinate();
}
