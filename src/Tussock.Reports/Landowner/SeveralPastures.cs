using System.Collections.Immutable;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>The page of a property with two to six verdicts: all verdicts large, then a row a pasture.</summary>
internal sealed class SeveralPastures(Html html, ReportVerdict[] verdicts, SeasonResults results, bool isShared)
{
    private const double PictureWidth = 132;
    private readonly bool isSilent = verdicts.Any(v => v.OthersLead);
    private readonly PastureWords[] says = [.. verdicts.Select(v => new PastureWords(v, results, html.Words))];

    private ImmutableArray<Pasture> Pastures => [.. verdicts.SelectMany(v => v.Pastures)];

    internal void Write()
    {
        html.Open("header");
        foreach (var (verdict, words) in verdicts.Zip(says))
        {
            html.Open("p", "class=\"verdict\"").Element("b", words.Name + ":").Text(" " + html.Say(verdict.Row.Verdict.InWords) + " ").Element("i", words.Doubt).Close("p");
        }

        html.Element("h1", Phrase.Of("report.where", ("property", verdicts[0].Row.Property), ("season", results.Season.Settings.Title)), "class=\"where\"").Close("header");
        html.Open("table");
        Heads();
        html.Open("tbody");
        foreach (var (verdict, words) in verdicts.Zip(says)) Row(verdict, words);
        html.Close("tbody").Close("table");
        html.Open("div", "class=\"rest\"").Open("div", "class=\"say\"");
        PageParts.Points(html, "report.advice", Advice());
        PageParts.Comment(html, results.Season, isShared, verdicts.Length > 4 ? 200 : 360);
        html.Close("div");
        PageParts.Land(html, results, Pastures, (250, 170), isShared);
        html.Close("div");
        html.Open("p", "class=\"two\"").Element("b", html.Words.Say("report.cannot") + ":").Text(" " + string.Join(" ", PageParts.CannotTell(html))).Close("p");
        Two();
        PageParts.Foot(html, results, Pastures, isShared);
    }

    private void Heads()
    {
        html.Open("thead").Open("tr");
        foreach (var key in (string[])["report.col.pasture", "report.col.count", "report.col.losses", "report.col.cover", "report.col.settle"]) html.Element("th", Phrase.Of(key, ("benchmark", results.Season.Settings.ClumpsPerAcreBenchmark)), "scope=\"col\"");
        html.Close("tr").Close("thead");
    }

    private void Row(ReportVerdict verdict, PastureWords words)
    {
        var nests = PropertyLand.Rows(verdict.Row.Group.Fates).SelectMany(r => r.Nests).ToImmutableArray();
        html.Open("tr").Open("th", "scope=\"row\"").Element("h2", words.Name)
            .Picture(new NestRow("", nests).DrawFolded(html.Words, PictureWidth, nests.Length > 150 ? 6 : verdicts.Length > 4 ? 8.2 : 10)).Close("th");
        html.Open("td").Paragraph(words.Count, "class=\"count\"").Open("p").Element("strong", words.Number).Text(" " + html.Say(words.NumberShort)).Close("p").Close("td");
        html.Open("td");
        foreach (var first in words.OtherLossesFirst) html.Paragraph(first, "class=\"first\"");
        html.Paragraph(words.LossesInWords).Paragraph(words.NotKnownShort).Paragraph(words.Cameras).Close("td");
        html.Open("td").Paragraph(words.CoverShort).Close("td").Open("td");
        foreach (var settling in words.SettlingShort()) html.Paragraph(settling);
        html.Paragraph(words.AnotherShort).Close("td").Close("tr");
    }

    /// <summary>Advice in order of caution, together for those that have the same.</summary>
    private IEnumerable<string> Advice()
    {
        var all = says.Select(s => (s.Name, Advice: s.Advice(isSilent))).ToArray();
        var ordered = all.SelectMany(a => a.Advice.Select((phrase, rank) => (phrase, rank))).GroupBy(a => a.phrase.Key, StringComparer.Ordinal)
            .OrderBy(g => g.Key == "advice.index").ThenBy(g => g.Min(a => a.rank)).Select(g => g.First().phrase);
        foreach (var same in ordered.GroupBy(p => string.Join(", ", all.Where(a => a.Advice.Any(o => o.Key == p.Key)).Select(a => a.Name)), StringComparer.Ordinal))
        {
            var advice = string.Join(" ", same.Select(html.Say));
            yield return same.Key == string.Join(", ", says.Select(s => s.Name)) ? advice : html.Say(Phrase.Of("report.advice_for", ("names", same.Key), ("advice", advice)));
        }
    }

    private void Two()
    {
        var two = says.Select(s => (s.Name, Why: s.WhyTwoNumbers().ToArray())).Where(s => s.Why.Length > 0).ToArray();
        if (two.Length == 0) return;
        html.Open("p", "class=\"two\"").Element("b", html.Words.Say("report.two_numbers")).Text(" " + string.Join(" ", two.Select(t => t.Name + ": " + string.Join(" ", t.Why.Select(w => Sentences.Sentence(html.Say(w))))))).Close("p");
    }
}
