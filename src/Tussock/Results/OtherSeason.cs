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
    internal IEnumerable<NestOfOtherSeason> Counting(IReadOnlySet<string> properties) => Losses.Select(l => Counting(l.Evidence, l.Fate.Nest.Transect.Pasture.Property, properties));

    /// <summary>What a nest on a property counts there.</summary>
    internal static NestOfOtherSeason Counting(NestEvidence nest, string property, IReadOnlySet<string> properties) => new(nest, properties.Contains(property) ? NestOfOtherSeason.SameProperty : NestOfOtherSeason.Elsewhere);
}
