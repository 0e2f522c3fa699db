using Tussock.Pictures;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>The page of a property with one verdict: verdict and doubt large, then the count, then everything that it rests on.</summary>
internal sealed class OnePasture(Html html, ReportVerdict verdict, SeasonResults results, bool isShared)
{
    private const double Half = 254;
    private const int MostDrawnByLine = 130;
    private const int MostLines = 10;
    private readonly PastureWords says = new(verdict, results, html.Words);

    internal void Write()
    {
        html.Open("header")
            .Element("h1", Phrase.Of("report.verdict", ("name", says.Name), ("verdict", verdict.Row.Verdict.InWords)))
            .Element("p", Sentences.Sentence(html.Say(says.Doubt)) + " " + Sentences.Sentence(html.Say(says.Chances)), "class=\"doubt\"")
            .Element("p", Phrase.Of("report.where", ("property", Where), ("season", results.Season.Settings.Title)), "class=\"where\"")
            .Close("header");
        html.Open("div", "class=\"counts\"");
        html.Open("div");
        Counted();
        html.Close("div").Open("div");
        Rests();
        html.Close("div").Close("div");
        html.Open("div", "class=\"three\"");
        PageParts.Section(html, "report.settle", says.Settling());
        PageParts.Section(html, "report.another_head", [says.Another]);
        PageParts.Section(html, "report.two_numbers", says.WhyTwoNumbers());
        html.Close("div").Open("div", "class=\"rest\"").Open("div", "class=\"say\"");
        PageParts.Points(html, "report.advice", says.Advice(verdict.OthersLead).Select(html.Say));
        PageParts.Points(html, "report.cannot", PageParts.CannotTell(html));
        PageParts.Comment(html, results.Season, isShared, 360);
        html.Close("div");
        PageParts.Land(html, results, verdict.Pastures, (250, 205), isShared);
        html.Close("div");
        PageParts.Foot(html, results, verdict.Pastures, isShared);
    }

    private string Where => verdict.Row.Pasture is null ? string.Join(", ", verdict.Pastures.Select(p => p.Name)) : verdict.Row.Property;

    private void Counted()
    {
        html.Paragraph(says.Count, "class=\"count\"");
        foreach (var first in says.OtherLossesFirst) html.Paragraph(first, "class=\"first\"");
        html.Paragraph(says.LossesInWords).Paragraph(says.NotKnown);
        var rows = PropertyLand.Rows(verdict.Row.Group.Fates);
        var isDrawnByLine = verdict.Row.Group.Counts.Nests <= MostDrawnByLine && rows.Length <= MostLines;
        html.Picture(isDrawnByLine ? NestBoard.Draw(rows, html.Words, Half) : new NestRow("", [.. rows.SelectMany(r => r.Nests)]).DrawFolded(html.Words, Half, rows.Sum(r => r.Nests.Length) > 400 ? 7 : 12));
    }

    private void Rests()
    {
        html.Open("p", "class=\"number\"").Element("strong", says.Number).Text(" " + html.Say(says.NumberInWords)).Close("p");
        if (says.Losses.All > 0) html.Picture(LossSplit.Draw(says.Losses, html.Words, Half));
        html.Paragraph(says.Cover);
        if (says.May(verdict.OthersLead) is { } may) html.Paragraph(may);
        html.Paragraph(says.Cameras);
        if (verdict is { OthersLead: false, Composition: { } composition } && verdict.ConfirmedLosses >= Evidence.Composition.FewestConfirmed)
        {
            var rows = verdict.Confirmed.Take(4).Select(c => new CulpritRow(html.Say(PastureWords.CulpritName(c.Culprit)), c.Losses, Dot.Of(composition.Composition.Shares.First(s => s.Culprit == c.Culprit).Share)));
            html.Picture(CulpritBars.Draw([.. rows], verdict.ConfirmedLosses, html.Words, Half));
        }
    }
}
