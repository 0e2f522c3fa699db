using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Wayfinding;

/// <summary>Which way a direction was taken.</summary>
public enum DirectionSense
{
    /// <summary>Nobody wrote it.</summary>
    NotWritten,

    /// <summary>From the flag to the nest.</summary>
    FlagToNest,

    /// <summary>From the nest back to the flag.</summary>
    NestToFlag,
}

/// <summary>A straight piece of a way.</summary>
/// <param name="Steps">Steps walked, &gt; 0.</param>
/// <param name="Direction">Direction walked, as it was written.</param>
public readonly record struct Leg(double Steps, Direction Direction)
{
    /// <summary>The same ground walked the other way.</summary>
    public Leg Back => this with { Direction = Direction.Back };
}

/// <summary>The way between a flag and its nest as it was written.</summary>
/// <param name="Legs">One leg, or two round a thicket, in the order walked.</param>
/// <param name="Sense">Which way it was walked.</param>
/// <param name="IsTrueNorth">Whether the directions count from true north; else from the compass's.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record PacedWay(ImmutableArray<Leg> Legs, DirectionSense Sense, bool IsTrueNorth)
{
    /// <summary>The legs from flag to nest if the way was taken in this sense.</summary>
    public ImmutableArray<Leg> FromFlag(DirectionSense sense) => sense == DirectionSense.NestToFlag ? [.. Legs.Reverse().Select(l => l.Back)] : Legs;
}
