using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Another season of the data file, with its losses.</summary>
internal sealed record OtherSeason(Season Season, ImmutableArray<LossEvidence> Losses)
{
    internal static OtherSeason Of(Season season) => new(season, LossEvidence.Of(season, SeasonFates.Of(season)));

    /// <summary>Its losses as they count beside those of a season on the given properties.</summary>
    internal IEnumerable<NestOfOtherSeason> Counting(IReadOnlySet<string> properties) =>
        Losses.Select(l => new NestOfOtherSeason(l.Evidence, properties.Contains(l.Fate.Nest.Transect.Pasture.Property) ? NestOfOtherSeason.SameProperty : NestOfOtherSeason.Elsewhere));
}
