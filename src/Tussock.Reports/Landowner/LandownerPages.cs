using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;
using Tussock.Years;

namespace Tussock.Reports.Landowner;

/// <summary>The landowner's page: one printed page a property for up to six judged pastures, once with places and once to share.</summary>
public static class LandownerPages
{
    private const int MostOnAPage = 6;

    /// <summary>Both files of every property, in the season's order.</summary>
    /// <param name="numbers">The answer of the season.</param>
    /// <param name="making">How the report was made.</param>
    /// <param name="words">The language.</param>
    /// <param name="years">The land's years up to this season, where there are several; they stand on a page of their own at the end.</param>
    public static ImmutableArray<ReportPage> Of(ReportNumbers numbers, ReportMaking making, Catalogue words, IReadOnlyCollection<LandYears>? years = null)
    {
        var pages = ImmutableArray.CreateBuilder<ReportPage>();
        foreach (var (property, name) in FileNames.Of(numbers.Results.Season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal)))
        {
            var verdicts = numbers.Verdicts.Where(v => v.Row.Property == property).ToArray();
            foreach (var isShared in (ReadOnlySpan<bool>)[false, true])
            {
                var html = new Html(words);
                foreach (var some in verdicts.Chunk(MostOnAPage)) Page(html, some, numbers, isShared);
                YearsStrip.Write(html, property, [.. (years ?? []).Where(l => l.Property == property)]);
                var title = words.Say(Phrase.Of("report.landowner_title", ("property", property), ("season", numbers.Results.Season.Settings.Title)));
                pages.Add(new ReportPage("landowner-" + name + (isShared ? "-to-share" : ""), Sheet.Of(title, words.Language, "landowner", html.ToString()), Footer(making, numbers.Results.Season, isShared, words)));
            }
        }

        return pages.ToImmutable();
    }

    /// <summary>What the foot of a landowner's page says.</summary>
    internal static string Footer(ReportMaking making, Season season, bool isShared, Catalogue words) =>
        words.Say(Phrase.Of(isShared ? "report.footer_shared" : "report.footer_owner", ("season", season.Settings.Title), ("version", making.Version), ("date", making.On)));

    private static void Page(Html html, ReportVerdict[] verdicts, ReportNumbers numbers, bool isShared)
    {
        html.Open("main", verdicts.Length == 1 ? "class=\"page one\"" : "class=\"page several\"");
        if (numbers.Results.Season.Tables.Pooled is { } pooled) foreach (var said in PooledSentences.Of(pooled)) html.Paragraph(said, "class=\"small\"");
        if (verdicts.Length == 1) new OnePasture(html, verdicts[0], numbers.Results, isShared).Write();
        else new SeveralPastures(html, verdicts, numbers.Results, isShared).Write();
        html.Close("main");
    }
}
