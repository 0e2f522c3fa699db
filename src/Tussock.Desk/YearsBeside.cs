using System.Collections.Concurrent;
using System.Collections.Immutable;
using Tussock.Years;

namespace Tussock.Desk;

/// <summary>The seasons of a data file beside each other. What a page asks of a property is worked out once. May be shared between threads.</summary>
public sealed class YearsBeside
{
    /// <summary>Nests beyond which the seasons are not pooled into one: it would take minutes and the room of all of them.</summary>
    private const int MostToPool = 200_000;

    private readonly ConcurrentDictionary<string, ImmutableArray<LandYears>> byProperty = new(StringComparer.Ordinal);
    private readonly ILookup<string, PastureYear> lands;
    private readonly Lazy<Answer<Network>> network;

    private YearsBeside(ImmutableArray<YearShown> years)
    {
        Years = years;
        lands = years.SelectMany(y => y.Lands).ToLookup(l => l.Property, StringComparer.Ordinal);
        Properties = [.. lands.Select(l => l.Key).Order(StringComparer.Ordinal)];
        network = new(() => Tussock.Years.Network.Of(lands.SelectMany(l => l)));
    }

    /// <summary>The seasons, the earliest year first.</summary>
    public ImmutableArray<YearShown> Years { get; }

    /// <summary>Properties that any season has, in ordinal order.</summary>
    public ImmutableArray<string> Properties { get; }

    /// <summary>All properties together, without a name.</summary>
    public Answer<Network> Network => network.Value;

    /// <summary>Whether there are too many nests to pool all seasons.</summary>
    public bool IsTooLargeToPool => Years.Sum(y => y.Lands.Where(l => l.Pasture is null).Sum(l => l.Counts.Nests)) > MostToPool;

    /// <summary>Puts seasons beside each other.</summary>
    /// <param name="years">The seasons, the earliest year first.</param>
    public static YearsBeside Of(ImmutableArray<YearShown> years)
    {
        var beside = new YearsBeside(years);
        // The one number that takes a moment is ready before somebody asks.
        _ = beside.Network;
        return beside;
    }

    /// <summary>A property over its years, then its pastures where it has several; empty where no season has it.</summary>
    public ImmutableArray<LandYears> Of(string property)
    {
        ArgumentNullException.ThrowIfNull(property);
        // A made-up name is not remembered.
        if (!lands.Contains(property)) return [];
        return byProperty.GetOrAdd(property, name => LandYears.Of(lands[name]) is { Length: > 2 } several ? several : [.. LandYears.Of(lands[name]).Take(1)]);
    }

    /// <summary>A property and its pastures up to a year, for a report of that year.</summary>
    public ImmutableArray<LandYears> Upto(string label) => LandYears.Of(lands.SelectMany(l => l).Where(l => string.CompareOrdinal(l.Label, label) <= 0));
}
