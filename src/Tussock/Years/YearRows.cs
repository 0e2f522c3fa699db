using System.Collections.Immutable;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Years;

/// <summary>Tables of years as text, page and paper show them: keys of their heads, and cells of their rows, of which the first names the row.</summary>
public static class YearRows
{
    /// <summary>Heads of the years of a land.</summary>
    public static readonly ImmutableArray<string> Heads = ["years.column.year", "years.column.whole", "years.column.survival", "years.column.change", "years.column.rose", "years.column.per_acre"];

    /// <summary>Heads of a network.</summary>
    public static readonly ImmutableArray<string> NetworkHeads = ["years.column.year", "years.column.properties", "years.column.survival", "years.column.new_property", "years.column.per_acre", "years.column.cover_ratio", "years.column.parity"];

    /// <summary>A land's years, each with its change from the year it is compared with.</summary>
    public static IEnumerable<string[]> Of(LandYears land, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(land);
        ArgumentNullException.ThrowIfNull(words);
        foreach (var year in land.Years)
        {
            // Steps from each year to the next stand first; the last one may go from the first year to the last.
            var step = land.Steps.FirstOrDefault(s => s.After == year);
            yield return
            [
                year.Label,
                words.Say(Phrase.Of("report.of", ("whole", year.Counts.Intact), ("known", year.Counts.FateKnown))),
                EstimateText.Share(year.Survival) + (year.IsByPieces ? " *" : ""),
                step is null ? "–" : EstimateText.Points(step.Survival.Difference) + (step.IsAlike ? "" : " †"),
                step is { Survival.ChanceRose: { HasValue: true, Value: var chance } } ? words.Say(Sentences.ChanceInWords(chance)) : "–",
                EstimateText.Density(year.Density, words.Units),
            ];
        }
    }

    /// <summary>What the marks in a land's rows mean; none where there are none.</summary>
    public static IEnumerable<Phrase> Marks(LandYears land)
    {
        ArgumentNullException.ThrowIfNull(land);
        if (land.Years.Any(y => y.IsByPieces)) yield return Phrase.Of("years.star");
        if (land.Steps.Any(s => !s.IsAlike)) yield return Phrase.Of("years.dagger");
    }

    /// <summary>A network's years, then all of them together.</summary>
    public static IEnumerable<string[]> Of(Network network, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(network);
        ArgumentNullException.ThrowIfNull(words);
        return network.Years.Append(network.Together).Select(y => (string[])
        [
            y.Label.Length > 0 ? y.Label : words.Say("years.all"),
            Numbers.Whole(y.Survival.Properties),
            EstimateText.Share(y.Survival.Mean),
            y.Survival.NewProperty is { } p ? Numbers.PercentRange(p.Low, p.High) : "–",
            EstimateText.Density(y.Density.Mean, words.Units),
            EstimateText.Ratio(y.CoverRatio.Mean),
            EstimateText.Density(y.Parity.Mean, words.Units),
        ]);
    }
}
