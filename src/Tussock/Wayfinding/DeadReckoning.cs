using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Wayfinding;

/// <summary>A place where steps and directions lead.</summary>
/// <param name="Sense">The sense in which the way was taken if the nest lies here.</param>
/// <param name="Legs">The way from the flag.</param>
/// <param name="Way">Metres east and north of the flag; true where the declination is known, else by the compass.</param>
public sealed record ReckonedPlace(DirectionSense Sense, ImmutableArray<Leg> Legs, Offset Way);

/// <summary>Where a nest lies by the steps and directions from its flag.</summary>
public static class DeadReckoning
{
    /// <summary>The places that a way may lead to.</summary>
    /// <param name="way">The way as written.</param>
    /// <param name="stepM">Metres a step of whoever walked it.</param>
    /// <param name="declinationDeg">Degrees from true to magnetic north, east positive; of no concern to a way by true north; 0 leaves directions by the compass.</param>
    /// <returns>One place; two where the sense was not written, that of flag to nest first.</returns>
    /// <source>Traverse arithmetic of any surveying textbook: departures L·sin A and latitudes L·cos A summed over the legs, true azimuth = magnetic + declination.</source>
    /// <check>published-values</check>
    public static ImmutableArray<ReckonedPlace> Places(PacedWay way, double stepM, double declinationDeg)
    {
        ImmutableArray<DirectionSense> senses = way.Sense == DirectionSense.NotWritten ? [DirectionSense.FlagToNest, DirectionSense.NestToFlag] : [way.Sense];
        return [.. senses.Select(s => new ReckonedPlace(s, way.FromFlag(s), End(way.FromFlag(s), stepM, way.IsTrueNorth ? 0 : declinationDeg)))];
    }

    /// <summary>The end of legs seen from their beginning.</summary>
    /// <param name="legs">Legs in the order walked.</param>
    /// <param name="stepM">Metres a step.</param>
    /// <param name="turnDeg">Degrees added to each direction.</param>
    public static Offset End(ImmutableArray<Leg> legs, double stepM, double turnDeg) =>
        legs.Aggregate(new Offset(0, 0), (at, l) => at + Offset.Along(l.Direction.Degrees + turnDeg, l.Steps * stepM));
}
