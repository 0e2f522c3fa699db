namespace Tussock.Cover;

/// <summary>Which side of the walked line was counted.</summary>
public enum BeltSide
{
    /// <summary>Both sides: the full width.</summary>
    Both,

    /// <summary>The left side alone: half the width.</summary>
    Left,

    /// <summary>The right side alone: half the width.</summary>
    Right,
}

/// <summary>One row of belt records: the clumps of one cover class that one walker counted in one pass along one segment.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record SegmentCount
{
    /// <summary>Index of the flag line (the cluster).</summary>
    public required int Line { get; init; }

    /// <summary>Index of the transect.</summary>
    public required int Transect { get; init; }

    /// <summary>Index of the pasture.</summary>
    public required int Pasture { get; init; }

    /// <summary>Number of the segment: segment k lies between flags k − 1 and k.</summary>
    public required int Segment { get; init; }

    /// <summary>Index of the cover class.</summary>
    public required int Cover { get; init; }

    /// <summary>Clumps counted, ≥ 0; ignored when the segment was not counted.</summary>
    public required double Clumps { get; init; }

    /// <summary>Steps walked, ≥ 0.</summary>
    public required double Steps { get; init; }

    /// <summary>Metres a step, &gt; 0.</summary>
    public required double StepM { get; init; }

    /// <summary>Width of the belt in metres for both sides together (arm span), &gt; 0.</summary>
    public required double WidthM { get; init; }

    /// <summary>Which side was counted; one side alone is half the width.</summary>
    public BeltSide Side { get; init; }

    /// <summary>Pass, 1 or 2 (or more).</summary>
    public int Pass { get; init; } = 1;

    /// <summary>Who walked; null when not written.</summary>
    public string? Walker { get; init; }

    /// <summary>Whether it was counted, wholly or in part. Not counted is not zero.</summary>
    public bool IsCounted { get; init; } = true;

    /// <summary>Area looked at, m²: steps × metres a step × width, half for one side.</summary>
    public double AreaM2 => Steps * StepM * WidthM * (Side == BeltSide.Both ? 1 : 0.5);
}
