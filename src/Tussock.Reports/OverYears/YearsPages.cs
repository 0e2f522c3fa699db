using System.Collections.Immutable;
using Tussock.Pictures;
using Tussock.Reports.Print;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Words;
using Tussock.Years;

namespace Tussock.Reports.OverYears;

/// <summary>Years on paper: the record of a pasture on one page, and all properties together without a name.</summary>
public static class YearsPages
{
    /// <summary>The record of every pasture and property and of all properties together where there are five or more.</summary>
    /// <param name="years">The years.</param>
    /// <param name="making">How the pages were made.</param>
    /// <param name="words">The language.</param>
    public static ImmutableArray<ReportPage> Of(YearsCompared years, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(years);
        ArgumentNullException.ThrowIfNull(making);
        ArgumentNullException.ThrowIfNull(words);
        var pages = ImmutableArray.CreateBuilder<ReportPage>();
        foreach (var (land, name) in FileNames.Of(years.Lands.Select(l => l.Land)).Zip(years.Lands, (n, l) => (l, n.Name))) pages.Add(Record(land, "years-" + name, years.Network, making, words));
        if (years.Network is { HasValue: true, Value: { Properties: >= Synthesis.FewestForSpread } network }) pages.Add(All(network, making, words));
        return pages.ToImmutable();
    }

    /// <summary>The record of one pasture or property.</summary>
    /// <param name="land">The land.</param>
    /// <param name="name">Name of its file.</param>
    /// <param name="network">All properties together, among which a property sees where it stands.</param>
    /// <param name="making">How the page was made.</param>
    /// <param name="words">The language.</param>
    public static ReportPage Record(LandYears land, string name, Answer<Network> network, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(land);
        ArgumentNullException.ThrowIfNull(making);
        ArgumentNullException.ThrowIfNull(words);
        var html = new Html(words);
        html.Open("main", "class=\"page\"").Open("header").Element("h1", land.Land).Paragraph(Phrase.Of("years.page_of", ("years", land.Years.Length), ("from", land.Years[0].Label), ("to", land.Years[^1].Label))).Close("header");
        Before(html, land);
        html.Picture(YearsPicture.Whole(land, words)).Paragraph(Phrase.Of("years.caption"), "class=\"small\"");
        Table(html, land);
        html.Element("p", string.Join(" ", Newest(land).Select(p => Sentences.Sentence(html.Say(p)))));
        html.Paragraph(YearSentences.Happened(land));
        if (land.Trend.HasValue) html.Paragraph(YearSentences.Of(land.Trend.Value));
        Seen(html, land);
        if (network.HasValue && land.Pasture is null && network.Value.Properties >= Synthesis.FewestForSpread) html.Element("p", string.Join(" ", YearSentences.Place(network.Value, land.Property).Select(p => Sentences.Sentence(html.Say(p)))));
        html.Open("footer").Element("p", string.Join(" ", YearSentences.Always.Select(p => Sentences.Sentence(html.Say(p))))).Close("footer").Close("main");
        var title = words.Say(Phrase.Of("years.page_title", ("land", land.Land)));
        return new ReportPage(name, Sheet.Of(title, words.Language, "years", html.ToString()), words.Say(Phrase.Of("years.page_foot", ("land", land.Land), ("version", making.Version), ("date", making.On))));
    }

    private static void Before(Html html, LandYears land)
    {
        var first = land.First;
        if (first.Length == 0) return;
        html.Open("section", "class=\"before\"").Heading(2, "pooling.before").List(first.Select(p => Sentences.Sentence(html.Say(p))));
        html.Close("section");
    }

    private static void Table(Html html, LandYears land)
    {
        Tables.Write(html, [.. YearRows.Heads], YearRows.Of(land, html.Words));
        foreach (var mark in YearRows.Marks(land)) html.Paragraph(mark, "class=\"small\"");
    }

    private static IEnumerable<Phrase> Newest(LandYears land)
    {
        if (land.Steps.FirstOrDefault(s => s.After == land.Years[^1]) is not { } step) return [];
        return [.. YearSentences.Of(step), .. step.Others];
    }

    private static void Seen(Html html, LandYears land)
    {
        var seen = land.Years.Where(y => !y.Confirmed.IsEmpty).Select(y => y.Label + ": " + string.Join(", ", y.Confirmed.Select(c => Numbers.Whole(c.Nests) + " " + html.Say(Landowner.PastureWords.CulpritName(c.Culprit))))).ToArray();
        if (seen.Length > 0) html.Paragraph(Phrase.Of("years.cameras", ("seen", string.Join("; ", seen))));
        var parity = land.Years.Where(y => y.Parity?.High is not null).Select(y => y.Label + ": " + Numbers.Fixed(html.Words.Units.Density(y.Parity!.Value.Value), 0) + " (" + Numbers.Fixed(html.Words.Units.Density(y.Parity!.Value.Low!.Value), 0) + "–" + Numbers.Fixed(html.Words.Units.Density(y.Parity!.Value.High!.Value), 0) + ")").ToArray();
        if (parity.Length > 0) html.Paragraph(Phrase.Of("years.parity", ("years", string.Join("; ", parity))));
    }

    /// <summary>All properties together, without a name or a place.</summary>
    public static ReportPage All(Network network, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(network);
        ArgumentNullException.ThrowIfNull(making);
        var html = new Html(words);
        html.Open("main", "class=\"page\"").Open("header").Element("h1", words.Say("years.network_title")).Paragraph(Phrase.Of("years.network", ("properties", network.Properties), ("nests", network.Nests))).Close("header");
        html.Picture(NetworkPicture.Draw(network, words));
        Tables.Write(html, [.. YearRows.NetworkHeads], YearRows.Of(network, words));
        foreach (var said in YearSentences.Of(network)) html.Paragraph(said);
        html.Open("footer");
        html.Paragraph(YearSentences.Always[^1]);
        html.Close("footer").Close("main");
        return new ReportPage("network", Sheet.Of(words.Say("years.network_title"), words.Language, "years", html.ToString()), words.Say(Phrase.Of("years.network_foot", ("version", making.Version), ("date", making.On))));
    }
}
