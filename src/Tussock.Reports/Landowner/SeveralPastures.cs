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
    private const double PictureWidth = 118;
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
        foreach (var (verdict, words) in verdicts.Zip(says)) Row(verdict, words);
        html.Open("div", isShared ? "class=\"rest alone\"" : verdicts.Length > 5 ? "class=\"rest tight\"" : "class=\"rest\"").Open("div", "class=\"say\"");
        PageParts.Points(html, "report.advice", Advice());
        html.Close("div");
        if (!isShared) PageParts.Land(html, results, Pastures, (250, 170), isShared: false);
        html.Close("div");
        html.Open("p", "class=\"two\"").Element("b", html.Words.Say("report.cannot") + ":").Text(" " + string.Join(" ", PageParts.CannotTell(html))).Close("p");
        // Six rows leave no room for it; the technical report says it for each group.
        if (verdicts.Length <= 5) Two();
        PageParts.CommentOnALine(html, results.Season, isShared, verdicts.Length > 4 ? 200 : 360);
        PageParts.Foot(html, results, Pastures, isShared);
    }

    /// <summary>One pasture: name and count on one line, below it the nests, the losses, and cover with what would settle it.</summary>
    private void Row(ReportVerdict verdict, PastureWords words)
    {
        var nests = PropertyLand.Rows(verdict.Row.Group.Fates).SelectMany(r => r.Nests).ToImmutableArray();
        html.Open("section", "class=\"pasture\"").Element("h2", words.Name);
        html.Open("p", "class=\"counted\"").Text(html.Say(words.Count) + " ").Element("strong", words.Number).Text(" " + html.Say(words.NumberShort)).Close("p");
        html.Picture(new NestRow("", nests).DrawFolded(html.Words, PictureWidth, nests.Length > 200 ? 5.6 : verdicts.Length > 5 ? 6.2 : verdicts.Length > 4 ? 7.3 : 9));
        html.Open("div");
        if (verdict.OthersLead) html.Element("p", Together(words.OtherLossesFirst), "class=\"first\"");
        html.Element("p", Together([words.LossesInWords, words.NotKnownShort, words.Cameras])).Close("div");
        html.Element("p", Together([words.CoverShort, .. words.SettlingShort(), words.AnotherShort]));
        html.Close("section");
    }

    private string Together(IEnumerable<Phrase?> phrases) => string.Join(" ", phrases.OfType<Phrase>().Select(p => Sentences.Sentence(html.Say(p))));

    /// <summary>Advice in order of caution, together for those that have the same. That simulated nests are an index stands under what this cannot tell.</summary>
    private IEnumerable<string> Advice()
    {
        var all = says.Select(s => (s.Name, Advice: s.Advice(isSilent))).ToArray();
        var ordered = all.SelectMany(a => a.Advice.Where(p => p.Key != "advice.index").Select((phrase, rank) => (phrase, rank))).GroupBy(a => a.phrase.Key, StringComparer.Ordinal)
            .OrderBy(g => g.Min(a => a.rank)).Select(g => g.First().phrase);
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
