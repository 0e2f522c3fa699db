using Tussock.Land;
using Tussock.Words;

namespace Tussock.Wayfinding;

/// <summary>The way back in words: "23 steps ENE of flag 5; then look 5 m left and right, 3 m ahead and back".</summary>
/// <remarks>Metres to look are rounded up to whole ones. Directions count from the compass's north unless they are called true.</remarks>
public static class WayBack
{
    /// <summary>The whole sentence, both places in it where there are two; null where there is no way.</summary>
    public static Phrase? InWords(NestWay way) => way.Places switch
    {
        [] => null,
        [var one] => Look(Way(way, one), one.Area.LeftRightM, one.Area.AheadBackM),
        var many => Look(many.Select(p => Way(way, p)).Aggregate((a, b) => Phrase.Of("wayback.or", ("first", a), ("second", b))), many.Max(p => p.Area.LeftRightM), many.Max(p => p.Area.AheadBackM)),
    };

    /// <summary>The sentence of one of its places.</summary>
    public static Phrase InWords(NestWay way, WayPlace place) => Look(Way(way, place), place.Area.LeftRightM, place.Area.AheadBackM);

    /// <summary>As short as people write it: "23 ENE"; null where there is no way.</summary>
    public static Phrase? Short(NestWay way) => way.Places.IsEmpty ? null : way.Places.Select(Short).Aggregate((a, b) => Phrase.Of("wayback.short_or", ("first", a), ("second", b)));

    private static Phrase Short(WayPlace place) => place.Legs.IsEmpty
        ? Phrase.Of("wayback.short_metres", ("metres", Math.Round(place.Area.Centre.DistanceM)), ("direction", Nearest(place)))
        : place.Legs.Select(l => Phrase.Of("wayback.short_leg", ("steps", l.Steps), ("direction", l.Direction.IsPoint ? l.Direction.Point : Numbers.Short(l.Direction.Degrees) + "°")))
            .Aggregate((a, b) => Phrase.Of("wayback.short_then", ("first", a), ("next", b)));

    private static Phrase Look(Phrase way, double side, double along) => Phrase.Of("wayback.look", ("way", way), ("side", Whole(side)), ("along", Whole(along)));

    private static double Whole(double metres) => Math.Max(1, Math.Ceiling(metres));

    private static Phrase Way(NestWay way, WayPlace place)
    {
        var flag = ("flag", (object)way.Nest.Number);
        if (place.Legs.IsEmpty) return Phrase.Of("wayback.by_gps", ("metres", Math.Round(place.Area.Centre.DistanceM)), ("direction", Nearest(place)), flag);
        Phrase[] legs = [.. place.Legs.Select(l => Phrase.Of("wayback.leg", ("steps", l.Steps), ("direction", Said(l.Direction, way.IsTrueNorth))))];
        return legs.Length == 1 && place.Legs[0].Direction.IsPoint
            ? Phrase.Of("wayback.of_flag", ("way", legs[0]), flag)
            : Phrase.Of("wayback.from_flag", ("way", legs.Aggregate((a, b) => Phrase.Of("wayback.then", ("first", a), ("next", b)))), flag);
    }

    private static string Nearest(WayPlace place) => new Direction(place.Area.Centre.BearingTrueDeg, true).Point;

    private static object Said(Direction direction, bool isTrue) => (direction.IsPoint, isTrue) switch
    {
        (true, false) => direction.Point,
        (true, true) => Phrase.Of("wayback.true_point", ("point", direction.Point)),
        (false, false) => Phrase.Of("wayback.compass_degrees", ("degrees", direction.Degrees)),
        (false, true) => Phrase.Of("wayback.true_degrees", ("degrees", direction.Degrees)),
    };
}
