using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>One season's records in canonical order: the value that every answer is computed from.</summary>
/// <remarks>
/// Order: pastures by property and name, transects by property, pasture and name, nests by transect and number, visits by nest, day and row;
/// text in ordinal order. Folder and store make equal seasons of equal records. May be shared between threads.
/// </remarks>
public sealed class Season
{
    /// <summary>Rules of the season.</summary>
    public required SeasonSettings Settings { get; init; }

    /// <summary>Pastures.</summary>
    public required ImmutableArray<Pasture> Pastures { get; init; }

    /// <summary>Transects, planned ones among them.</summary>
    public required ImmutableArray<Transect> Transects { get; init; }

    /// <summary>Stations and their nests, planned ones among them.</summary>
    public required ImmutableArray<Nest> Nests { get; init; }

    /// <summary>Visits; those of a nest are neighbours.</summary>
    public required ImmutableArray<Visit> Visits { get; init; }

    /// <summary>Signs of lost nests; those of a nest are neighbours.</summary>
    public ImmutableArray<Remains> Remains { get; init; } = [];

    /// <summary>Camera events; those of a nest are neighbours, by day.</summary>
    public ImmutableArray<CameraEvent> CameraEvents { get; init; } = [];

    /// <summary>Cameras and where they stood.</summary>
    public ImmutableArray<Deployment> Deployments { get; init; } = [];

    /// <summary>Belt counts.</summary>
    public ImmutableArray<Segment> Segments { get; init; } = [];

    /// <summary>Walks of the measured course.</summary>
    public ImmutableArray<CrewWalk> CrewWalks { get; init; } = [];

    /// <summary>What happened to the land.</summary>
    public ImmutableArray<LandEvent> Events { get; init; } = [];

    /// <summary>Records whose name another record has too.</summary>
    public ImmutableArray<Clash> Clashes { get; init; } = [];

    /// <summary>The tables it was read from.</summary>
    public required SeasonTables Tables { get; init; }
}
