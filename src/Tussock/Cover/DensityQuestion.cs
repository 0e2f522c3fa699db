using System.Collections.Immutable;

namespace Tussock.Cover;

/// <summary>What is asked of the belts.</summary>
public sealed record DensityQuestion
{
    /// <summary>Benchmark, suitable clumps an acre, &gt; 0.</summary>
    public double BenchmarkPerAcre { get; init; } = 300;

    /// <summary>Cover classes whose clumps are counted (indexes); empty: all.</summary>
    public ImmutableArray<int> Classes { get; init; } = [];

    /// <summary>Walks of the measured course; empty: walkers' errors are not known.</summary>
    public ImmutableArray<CourseWalk> Walks { get; init; } = [];

    /// <summary>Whether a class is asked for.</summary>
    public bool Counts(int cover) => Classes.IsEmpty || Classes.Contains(cover);
}
