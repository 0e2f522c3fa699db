using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Survival;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>The note after the first check: what was counted, what comes next, and no verdict.</summary>
public static class HalfwayNotes
{
    /// <summary>Up to so many pastures a sketch of the lines has room; beyond it the drawn nests stand for it.</summary>
    private const int FewPastures = 2;

    /// <summary>Both files of every property, in the season's order.</summary>
    /// <param name="results">The answer of the season so far.</param>
    /// <param name="making">How the note was made.</param>
    /// <param name="words">The language.</param>
    public static ImmutableArray<ReportPage> Of(SeasonResults results, ReportMaking making, Catalogue words)
    {
        var pages = ImmutableArray.CreateBuilder<ReportPage>();
        foreach (var (property, name) in FileNames.Of(results.Season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal)))
        {
            ImmutableArray<Pasture> pastures = [.. results.Season.Pastures.Where(p => p.Property == property)];
            var forecast = Forecast(results, pastures);
            foreach (var isShared in (ReadOnlySpan<bool>)[false, true])
            {
                var html = new Html(words);
                html.Open("main", "class=\"page halfway\"");
                Write(html, property, results, isShared, forecast);
                html.Close("main");
                var title = words.Say(Phrase.Of("report.halfway_title", ("property", property), ("season", results.Season.Settings.Title)));
                pages.Add(new ReportPage("halfway-" + name + (isShared ? "-to-share" : ""), Sheet.Of(title, words.Language, "landowner", html.ToString()), LandownerPages.Footer(making, results.Season, isShared, words)));
            }
        }

        return pages.ToImmutable();
    }

    private static void Write(Html html, string property, SeasonResults results, bool isShared, Phrase? forecast)
    {
        ImmutableArray<Pasture> pastures = [.. results.Season.Pastures.Where(p => p.Property == property)];
        var fates = results.Fates.Rows.Where(f => pastures.Contains(f.Nest.Transect.Pasture)).ToArray();
        html.Open("header").Element("h1", Phrase.Of("report.halfway_head", ("property", property)))
            .Element("p", Sentences.Sentence(html.Say(Count(fates, results.Trial))) + " " + html.Words.Say("report.halfway_no_verdict"), "class=\"doubt\"")
            .Element("p", Phrase.Of("report.where", ("property", property), ("season", results.Season.Settings.Title)), "class=\"where\"").Close("header");
        html.Open("div", "class=\"pastures\"");
        foreach (var pasture in pastures)
        {
            var own = fates.Where(f => f.Nest.Transect.Pasture == pasture).ToArray();
            if (own.Length == 0) continue;
            html.Open("section").Element("h2", pasture.Name).Paragraph(Count(own, results.Trial)).Paragraph(Losses(own)).Paragraph(NotFound(own));
            html.Picture(new NestRow("", [.. PropertyLand.Rows(own, isHalfway: true).SelectMany(r => r.Nests)]).DrawFolded(html.Words, 250, pastures.Length > 6 ? 7 : 10)).Close("section");
        }

        var hasLand = !isShared || pastures.Length <= FewPastures;
        html.Close("div").Open("div", hasLand ? "class=\"rest\"" : "class=\"rest alone\"").Open("div", "class=\"say\"");
        html.Paragraph(forecast);
        PageParts.Points(html, "report.next", Next(html, fates, results));
        PageParts.Comment(html, results.Season, isShared, 360);
        html.Close("div");
        if (hasLand) PageParts.Land(html, results, pastures, (250, 200), isShared, isHalfway: true);
        html.Close("div");
        PageParts.Foot(html, results, pastures, isShared);
    }

    /// <summary>What day 28 may bring for the property's nests, and that it is mostly assumed; null where nothing can be forecast.</summary>
    private static Phrase? Forecast(SeasonResults results, ImmutableArray<Pasture> pastures)
    {
        var spans = results.Fates.Spans;
        var forecast = ForecastShare.Of(spans.Where(row => pastures.Contains(results.Season.Pastures[spans.Pasture[row]])), results.Trial, results.Options.Seed);
        return forecast is { Low: { } low, High: { } high } ? Phrase.Of("report.halfway_forecast", ("days", results.Trial.Days), ("range", Numbers.PercentRange(low, high)), ("prior", forecast.Notes[0])) : null;
    }

    private static Phrase Count(NestFate[] fates, Trial trial) => Phrase.Of("report.count", ("nests", fates.Length), ("whole", fates.Count(f => f.Day14 == FateAt.Survived)), ("time", PastureWords.Duration(trial.FirstCheck)));

    private static Phrase Losses(NestFate[] fates)
    {
        var lost = fates.Where(f => f.Day14 == FateAt.Lost).ToArray();
        var eaten = lost.Count(f => f.Cause == Cause.Depredated);
        var trampled = lost.Count(f => f.Cause == Cause.Trampled);
        return lost.Length == 0 ? Phrase.Of("report.no_losses") : Phrase.Of("report.halfway_losses", ("count", lost.Length), ("eaten", eaten), ("trampled", trampled), ("other", lost.Length - eaten - trampled));
    }

    private static Phrase? NotFound(NestFate[] fates)
    {
        var unknown = fates.Count(f => f.Day14 == FateAt.Unknown);
        return unknown == 0 ? null : Phrase.Of("report.not_known", ("count", unknown), ("found", fates.Count(f => f.IsNotRelocated && f.Day14 == FateAt.Unknown)));
    }

    private static IEnumerable<string> Next(Html html, NestFate[] fates, SeasonResults results)
    {
        var days = results.Season.Settings.TrialDays;
        var dates = fates.Select(f => f.Nest.SetOn!.Value.AddDays(days)).ToArray();
        yield return html.Words.Say("report.next.eggs");
        yield return html.Say(Phrase.Of("report.next.check", ("day", days), ("dates", Fieldwork.Dates(dates, html.Words)), ("window", results.Season.Settings.WindowDays)));
        yield return html.Words.Say("report.next.search");
        yield return html.Words.Say("report.next.then");
    }
}
