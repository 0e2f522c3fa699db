using System.Collections.Immutable;

namespace Tussock.Cover;

/// <summary>One segment and cover class after its passes were merged: the input of the density estimates.</summary>
/// <remarks>Several rows of one segment (one a class) repeat its area; the estimates take it once. May be shared between threads.</remarks>
public sealed record BeltUnit
{
    /// <summary>Index of the flag line (the cluster).</summary>
    public required int Line { get; init; }

    /// <summary>Index of the transect.</summary>
    public required int Transect { get; init; }

    /// <summary>Index of the pasture.</summary>
    public required int Pasture { get; init; }

    /// <summary>Number of the segment along its transect.</summary>
    public required int Segment { get; init; }

    /// <summary>Index of the cover class.</summary>
    public required int Cover { get; init; }

    /// <summary>Clumps; a mean, hence perhaps fractional, when the segment was walked twice. 0 when not counted.</summary>
    public required double Clumps { get; init; }

    /// <summary>Area of the segment, m²; 0 when not counted.</summary>
    public required double AreaM2 { get; init; }

    /// <summary>Who walked it, each with an equal share; empty when not written.</summary>
    public ImmutableArray<string> Walkers { get; init; } = [];

    /// <summary>Whether it was counted.</summary>
    public bool IsCounted { get; init; } = true;

    /// <summary>Largest less smallest count of its passes; null with one pass.</summary>
    public double? PassDifference { get; init; }
}
