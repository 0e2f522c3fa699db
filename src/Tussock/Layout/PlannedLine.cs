using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Layout;

/// <summary>How a planned line runs.</summary>
public enum LineForm
{
    /// <summary>Straight.</summary>
    Straight,

    /// <summary>Two legs at a right angle.</summary>
    Bent,

    /// <summary>Round a rectangle, back to its start or one stretch before it.</summary>
    Loop,

    /// <summary>As it was walked in a former year.</summary>
    Former,
}

/// <summary>A corner of a planned line.</summary>
/// <param name="Flag">Flag at which the walker turns.</param>
/// <param name="BearingTrueDeg">True bearing of the leg that begins there, [0, 360).</param>
public readonly record struct LineCorner(int Flag, int BearingTrueDeg);

/// <summary>A station that is planned.</summary>
/// <param name="Number">1 … n.</param>
/// <param name="Cover">Cover class whose turn it is; empty where the season has none.</param>
/// <param name="IsFlagged">Whether its flag stays at the nest's station.</param>
public readonly record struct PlannedStation(int Number, string Cover, bool IsFlagged);

/// <summary>A line that is planned, with its stations.</summary>
public sealed record PlannedLine
{
    /// <summary>Property.</summary>
    public required string Property { get; init; }

    /// <summary>Pasture.</summary>
    public required string Pasture { get; init; }

    /// <summary>Stratum; empty when the pasture has none.</summary>
    public required string Stratum { get; init; }

    /// <summary>Name, unique in the layout.</summary>
    public required string Name { get; init; }

    /// <summary>How it runs.</summary>
    public required LineForm Form { get; init; }

    /// <summary>Whether the line of a former year is taken up.</summary>
    public bool IsFormer => Form == LineForm.Former;

    /// <summary>True bearing of the first leg in whole degrees, [0, 360).</summary>
    public required int BearingTrueDeg { get; init; }

    /// <summary>Where the walker turns; empty for a straight line and for a former one.</summary>
    public required ImmutableArray<LineCorner> Corners { get; init; }

    /// <summary>Places of the flags, flag 0 being the start, which has no nest; to 0.0000001°.</summary>
    public required ImmutableArray<Position> Flags { get; init; }

    /// <summary>The stations, one a flag from flag 1 on.</summary>
    public required ImmutableArray<PlannedStation> Stations { get; init; }
}
