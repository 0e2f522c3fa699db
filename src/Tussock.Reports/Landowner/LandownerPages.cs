using System.Collections.Immutable;
using System.Text;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>The landowner's page: one printed page a property for up to six judged pastures, once with places and once to share.</summary>
public static class LandownerPages
{
    private const int MostOnAPage = 6;

    /// <summary>Both files of every property, in the season's order.</summary>
    /// <param name="numbers">The answer of the season.</param>
    /// <param name="making">How the report was made.</param>
    /// <param name="words">The language.</param>
    public static ImmutableArray<ReportPage> Of(ReportNumbers numbers, ReportMaking making, Catalogue words)
    {
        var pages = ImmutableArray.CreateBuilder<ReportPage>();
        foreach (var (property, name) in FileNames.Of(numbers.Results.Season))
        {
            var verdicts = numbers.Verdicts.Where(v => v.Row.Property == property).ToArray();
            foreach (var isShared in (ReadOnlySpan<bool>)[false, true])
            {
                var html = new Html(words);
                foreach (var some in verdicts.Chunk(MostOnAPage)) Page(html, some, numbers, isShared);
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

/// <summary>File names of properties: their letters and digits, joined by hyphens; names that come out alike are numbered.</summary>
internal static class FileNames
{
    internal static IEnumerable<(string Property, string Name)> Of(Season season)
    {
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var property in season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal))
        {
            var name = Plain(property);
            var free = name;
            for (var i = 2; !taken.Add(free); i++) free = name + "-" + Numbers.Whole(i);
            yield return (property, free);
        }
    }

    private static string Plain(string property)
    {
        var name = new StringBuilder();
        foreach (var c in property.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(c)) name.Append(c);
            else if (name.Length > 0 && name[^1] != '-' && char.GetUnicodeCategory(c) != System.Globalization.UnicodeCategory.NonSpacingMark) name.Append('-');
            if (name.Length >= 60) break;
        }

        var plain = name.ToString().Trim('-');
        return plain.Length == 0 ? "property" : plain;
    }
}
