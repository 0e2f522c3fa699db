using System.Collections.Immutable;

namespace Tussock.Years;

/// <summary>The seasons of a data file beside each other: each pasture and property over its years, and all properties together.</summary>
/// <param name="Seasons">Name and year of the seasons, the earliest first.</param>
/// <param name="Lands">Properties in ordinal order, each followed by its pastures.</param>
/// <param name="Network">All properties together; a reason with fewer than two.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record YearsCompared(ImmutableArray<(string Season, string Label)> Seasons, ImmutableArray<LandYears> Lands, Answer<Network> Network)
{
    /// <summary>Puts seasons beside each other.</summary>
    /// <param name="years">What each season says of each property and pasture.</param>
    /// <param name="shown">Which lands are shown; each comparison of two years takes a moment, and of many properties seconds.</param>
    /// <param name="against">The year that all are compared with; null: each with the one before.</param>
    public static YearsCompared Of(IReadOnlyCollection<PastureYear> years, Func<PastureYear, bool> shown, string? against = null) => new(
        [.. years.Select(y => (y.Conduct.Season, y.Label)).Distinct().OrderBy(s => s.Label, StringComparer.Ordinal).ThenBy(s => s.Season, StringComparer.Ordinal)],
        LandYears.Of(years.Where(shown), against),
        Years.Network.Of(years));
}
