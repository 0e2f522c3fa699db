using System.Collections.Immutable;
using Tussock.Pictures;
using Tussock.Reports.Print;
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
        foreach (var (land, name) in FileNames.Of(years.Lands.Select(l => l.Land)).Zip(years.Lands, (n, l) => (l, n.Name))) pages.Add(Record(land, name, years.Network, making, words));
        if (years.Network is { HasValue: true, Value: { Properties: >= Synthesis.FewestForSpread } network }) pages.Add(All(network, making, words));
        return pages.ToImmutable();
    }

    private static ReportPage Record(LandYears land, string name, Answer<Network> network, ReportMaking making, Catalogue words)
    {
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
        return new ReportPage("years-" + name, Sheet.Of(title, words.Language, "years", html.ToString()), words.Say(Phrase.Of("years.page_foot", ("land", land.Land), ("version", making.Version), ("date", making.On))));
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
        html.Open("table").Open("thead").Open("tr");
        foreach (var key in (ReadOnlySpan<string>)["years.column.year", "years.column.whole", "years.column.survival", "years.column.change", "years.column.rose", "years.column.per_acre"]) html.Element("th", html.Words.Say(key), "scope=\"col\"");
        html.Close("tr").Close("thead").Open("tbody");
        foreach (var year in land.Years)
        {
            // Steps from each year to the next stand first; the last one may go from the first year to the last.
            var step = land.Steps.FirstOrDefault(s => s.After == year);
            html.Open("tr").Element("th", year.Label, "scope=\"row\"").Element("td", html.Say(Phrase.Of("report.of", ("whole", year.Counts.Intact), ("known", year.Counts.FateKnown)))).Element("td", YearNumbers.Share(year.Survival) + (year.IsByPieces ? " *" : ""))
                .Element("td", step is null ? "–" : YearNumbers.Points(step.Survival.Difference) + (step.IsAlike ? "" : " †"))
                .Element("td", step is { Survival.ChanceRose: { HasValue: true, Value: var chance } } ? html.Say(Sentences.ChanceInWords(chance)) : "–").Element("td", YearNumbers.Amount(year.Density)).Close("tr");
        }

        html.Close("tbody").Close("table");
        if (land.Years.Any(y => y.IsByPieces)) html.Paragraph(Phrase.Of("years.star"), "class=\"small\"");
        if (land.Steps.Any(s => !s.IsAlike)) html.Paragraph(Phrase.Of("years.dagger"), "class=\"small\"");
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
        var parity = land.Years.Where(y => y.Parity?.High is not null).Select(y => y.Label + ": " + Numbers.Fixed(y.Parity!.Value.Value, 0) + " (" + Numbers.Fixed(y.Parity.Value.Low!.Value, 0) + "–" + Numbers.Fixed(y.Parity.Value.High!.Value, 0) + ")").ToArray();
        if (parity.Length > 0) html.Paragraph(Phrase.Of("years.parity", ("years", string.Join("; ", parity))));
    }

    private static ReportPage All(Network network, ReportMaking making, Catalogue words)
    {
        var html = new Html(words);
        html.Open("main", "class=\"page\"").Open("header").Element("h1", words.Say("years.network_title")).Paragraph(Phrase.Of("years.network", ("properties", network.Properties), ("nests", network.Nests))).Close("header");
        html.Picture(NetworkPicture.Draw(network, words));
        html.Open("table").Open("thead").Open("tr");
        foreach (var key in (ReadOnlySpan<string>)["years.column.year", "years.column.properties", "years.column.survival", "years.column.new_property", "years.column.per_acre", "years.column.cover_ratio", "years.column.parity"]) html.Element("th", words.Say(key), "scope=\"col\"");
        html.Close("tr").Close("thead").Open("tbody");
        foreach (var y in network.Years.Append(network.Together))
        {
            html.Open("tr").Element("th", y.Label.Length > 0 ? y.Label : words.Say("years.all"), "scope=\"row\"").Element("td", Numbers.Whole(y.Survival.Properties)).Element("td", YearNumbers.Share(y.Survival.Mean))
                .Element("td", y.Survival.NewProperty is { } p ? Numbers.PercentRange(p.Low, p.High) : "–").Element("td", YearNumbers.Amount(y.Density.Mean)).Element("td", YearNumbers.Ratio(y.CoverRatio.Mean)).Element("td", YearNumbers.Amount(y.Parity.Mean)).Close("tr");
        }

        html.Close("tbody").Close("table");
        foreach (var said in YearSentences.Of(network)) html.Paragraph(said);
        html.Open("footer");
        html.Paragraph(YearSentences.Always[^1]);
        html.Close("footer").Close("main");
        return new ReportPage("network", Sheet.Of(words.Say("years.network_title"), words.Language, "years", html.ToString()), words.Say(Phrase.Of("years.network_foot", ("version", making.Version), ("date", making.On))));
    }
}
