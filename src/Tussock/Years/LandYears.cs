using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Years;

/// <summary>One pasture or property over its years.</summary>
/// <param name="Property">The property.</param>
/// <param name="Pasture">The pasture; null: the whole property.</param>
/// <param name="Years">Its years, the earliest first.</param>
/// <param name="Steps">Each year against the one before, then the last against the first where there are more than two.</param>
/// <param name="Trend">What all years say of a trend; a reason with fewer than three.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record LandYears(string Property, string? Pasture, ImmutableArray<PastureYear> Years, ImmutableArray<YearStep> Steps, Answer<YearTrend> Trend)
{
    /// <summary>What it is called.</summary>
    public string Land => Pasture is null ? Property : Property + ", " + Pasture;

    /// <summary>What must be said before any comparison of these years, each thing once.</summary>
    public ImmutableArray<Phrase> First => PoolingCautions.Compared([.. Years.Select(y => y.Conduct)]);

    /// <summary>Puts the years of each pasture and property side by side.</summary>
    /// <param name="years">Years of any number of pastures and properties, in any order.</param>
    /// <param name="against">The year that all are compared with; null: each with the one before.</param>
    /// <returns>Properties in ordinal order, each followed by its pastures.</returns>
    public static ImmutableArray<LandYears> Of(IEnumerable<PastureYear> years, string? against = null)
    {
        ArgumentNullException.ThrowIfNull(years);
        var lands = years.GroupBy(y => (y.Property, y.Pasture)).OrderBy(g => g.Key.Property, StringComparer.Ordinal).ThenBy(g => g.Key.Pasture ?? "", StringComparer.Ordinal);
        return [.. lands.Select(g => OfLand([.. g.OrderBy(y => y.Label, StringComparer.Ordinal).ThenBy(y => y.Conduct.Season, StringComparer.Ordinal)], against))];
    }

    private static LandYears OfLand(ImmutableArray<PastureYear> years, string? against) =>
        new(years[0].Property, years[0].Pasture, years, [.. Pairs(years, against).Select(p => YearStep.Of(p.Before, p.After))], YearTrend.Of(years));

    private static IEnumerable<(PastureYear Before, PastureYear After)> Pairs(ImmutableArray<PastureYear> years, string? against)
    {
        if (against is not null)
        {
            if (years.LastOrDefault(y => y.Label == against || y.Conduct.Season == against) is not { } one) yield break;
            foreach (var other in years.Where(y => y != one)) yield return years.IndexOf(other) < years.IndexOf(one) ? (other, one) : (one, other);
            yield break;
        }

        for (var i = 1; i < years.Length; i++) yield return (years[i - 1], years[i]);
        if (years.Length > 2) yield return (years[0], years[^1]);
    }
}
