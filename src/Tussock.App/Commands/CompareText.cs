using Tussock.Results;
using Tussock.Words;
using Tussock.Years;

namespace Tussock.App.Commands;

/// <summary>Years beside each other as a page of text: what must be said first, the years, what differs, what else could explain it.</summary>
internal sealed class CompareText
{
    private readonly Catalogue words;
    private readonly TextWriter output;
    private readonly TextPage page;

    private CompareText(Catalogue words, TextWriter output) => (this.words, this.output, page) = (words, output, new TextPage(words, output));

    internal static void Write(YearsCompared years, bool networkOnly, string? property, Catalogue words, TextWriter output) => new CompareText(words, output).Whole(years, networkOnly, property);

    private void Whole(YearsCompared years, bool networkOnly, string? property)
    {
        if (!networkOnly)
        {
            foreach (var land in years.Lands.Where(l => l.Pasture is null || years.Lands.Count(o => o.Property == l.Property) > 2)) Land(land);
            output.WriteLine();
            foreach (var said in YearSentences.Always) page.Line(said);
        }

        if (years.Network.HasValue && property is not null) Own(years.Network.Value, property);
        else if (years.Network.HasValue && (networkOnly || years.Network.Value.Properties >= Synthesis.FewestForSpread)) Network(years.Network.Value);
        else if (networkOnly) page.Line(years.Network.Why!);
    }

    private void Land(LandYears land)
    {
        output.WriteLine();
        output.WriteLine(land.Land);
        var table = page.Table("years.column.year", "years.column.whole", "years.column.survival", "years.column.lines", "years.column.set_on", "years.column.per_acre", "years.column.lost");
        foreach (var y in land.Years)
        {
            TextPage.Row(table, y.Label, words.Say(Phrase.Of("report.of", ("whole", y.Counts.Intact), ("known", y.Counts.FateKnown))), EstimateText.Share(y.Survival) + (y.IsByPieces ? " *" : ""), Numbers.Whole(y.LinesKnown),
                y.Conduct.SetOn is { } on ? Numbers.Date(on.Middle, words) + (y.Conduct.AreSetDatesAssumed ? " ?" : "") : "–", EstimateText.Density(y.Density, words.Units), Losses(y));
        }

        page.Write(table);
        if (land.Years.Any(y => y.IsByPieces)) page.Line(Phrase.Of("years.star"), "  ");
        foreach (var step in land.Steps) Step(step);
        if (YearSentences.Happened(land) is { } happened) page.Line(happened, "  ");
        if (land.Trend.HasValue) Trend(land.Trend.Value);
        else if (land.Years.Length > 1) page.Line(land.Trend.Why, "  ");
    }

    private string Losses(PastureYear year) => year.Losses.IsEmpty ? "–" : string.Join(", ", year.Losses.Take(3).Select(l => Numbers.Whole(l.Nests) + " " + words.Say("report.cause." + l.Cause)));

    private void Step(YearStep step)
    {
        foreach (var first in step.First) page.Line(Phrase.Of("years.first", ("before", step.Before.Label), ("after", step.After.Label), ("what", first)), "  ");
        foreach (var said in YearSentences.Of(step)) page.Line(said, "  ");
        if (step.Survival.Difference.Value is null) return;
        foreach (var other in step.Others) page.Line(other, "    ");
    }

    private void Trend(YearTrend trend) => page.Line(YearSentences.Of(trend), "  ");

    private void Network(Network network)
    {
        output.WriteLine();
        page.Line(Phrase.Of("years.network", ("properties", network.Properties), ("nests", network.Nests)));
        var table = page.Table(YearRows.NetworkHeads.AsSpan());
        foreach (var row in YearRows.Of(network, words)) TextPage.Row(table, row);
        page.Write(table);
        foreach (var said in YearSentences.Of(network)) page.Line(said, "  ");
    }

    private void Own(Network network, string property)
    {
        output.WriteLine();
        foreach (var said in YearSentences.Place(network, property)) page.Line(said);
    }
}
