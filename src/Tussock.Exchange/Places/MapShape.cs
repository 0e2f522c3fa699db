using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Exchange.Places;

/// <summary>What a thing on a map looks like: a point, a line, an area. WGS 84.</summary>
public abstract record MapShape
{
    private protected MapShape()
    {
    }
}

/// <summary>A point.</summary>
/// <param name="At">Where.</param>
public sealed record MapPoint(Position At) : MapShape;

/// <summary>A line of two points or more.</summary>
/// <param name="Points">Its points in order.</param>
public sealed record MapLine(ImmutableArray<Position> Points) : MapShape
{
    /// <inheritdoc/>
    public bool Equals(MapLine? other) => other is not null && Points.AsSpan().SequenceEqual(other.Points.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => Points.Length;
}

/// <summary>An area of one piece or several.</summary>
/// <param name="Pieces">Its pieces.</param>
public sealed record MapArea(ImmutableArray<MapPolygon> Pieces) : MapShape
{
    /// <inheritdoc/>
    public bool Equals(MapArea? other) => other is not null && Pieces.AsSpan().SequenceEqual(other.Pieces.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => Pieces.Length;
}

/// <summary>One piece of an area: an outer ring, counterclockwise, and holes, clockwise. Rings are closed: the last corner is the first again.</summary>
/// <param name="Outer">The outer ring, four corners or more.</param>
/// <param name="Holes">Rings of what is left out.</param>
public sealed record MapPolygon(ImmutableArray<Position> Outer, ImmutableArray<ImmutableArray<Position>> Holes)
{
    /// <summary>All rings, the outer one first.</summary>
    public IEnumerable<ImmutableArray<Position>> Rings => Holes.Prepend(Outer);

    /// <inheritdoc/>
    public bool Equals(MapPolygon? other) => other is not null && Holes.Length == other.Holes.Length && Rings.Zip(other.Rings).All(r => r.First.AsSpan().SequenceEqual(r.Second.AsSpan()));

    /// <inheritdoc/>
    public override int GetHashCode() => Outer.Length;
}
