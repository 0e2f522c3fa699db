using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Which seasons were put together, and what must be said before any number of them.</summary>
/// <param name="Seasons">Names of the seasons, the earliest year first.</param>
/// <param name="Years">Their labels of years, each once, in the same order; the name of a season without one.</param>
/// <param name="Cautions">Why their numbers may not be comparable; empty when nothing is known to speak against it.</param>
public sealed record PooledYears(ImmutableArray<string> Seasons, ImmutableArray<string> Years, ImmutableArray<Phrase> Cautions)
{
    /// <summary>Name of the seasons together.</summary>
    public const string All = "all";

    /// <summary>Column of a transect that holds the year of its season.</summary>
    public const string Column = "year";
}
