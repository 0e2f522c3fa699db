using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Wayfinding;

/// <summary>The ways back to the nests of a season, from what its records say: steps of whoever walked, directions, positions.</summary>
/// <remarks>
/// The walker's step counts, not the writer's: <c>paced_by</c> of the nest, of its transect, else the observer of its transect; the mean of that person's walks
/// of the course, else the transect's step, else <see cref="StepLength.AssumedM"/>. Accuracy of a position is the radius that holds 68 of 100 fixes;
/// where it was not written, <see cref="AssumedAccuracyM"/>. Cost of a way: the draws of <see cref="SearchArea"/>. May be shared between threads.
/// </remarks>
public sealed class SeasonWays
{
    /// <summary>Accuracy of a position whose accuracy nobody wrote, metres.</summary>
    public const double AssumedAccuracyM = 5;

    /// <summary>Steps and satellite are told apart as contradicting each other above this: 1 in 1,000 by chance.</summary>
    private const double MostMisfit = 13.8;

    /// <summary>A place must be so much nearer to the line to be looked at before the other, metres.</summary>
    private const double NearerM = 1;

    /// <summary>Radius that holds 68 % of a round normal spread, in standard deviations of one coordinate: √(−2 ln 0.32).</summary>
    private static readonly double RadiusInSds = Math.Sqrt(-2 * Math.Log(0.32));

    private readonly Season season;
    private readonly FrozenDictionary<string, StepLength> steps;
    private readonly FrozenDictionary<Transect, ImmutableArray<Position>> lines;
    private readonly Position? somewhere;

    /// <summary>The ways of a season.</summary>
    public SeasonWays(Season season)
    {
        this.season = season;
        steps = season.CrewWalks.GroupBy(w => w.Observer, StringComparer.Ordinal).Select(g => (g.Key, Step: StepLength.Measured(g.Select(w => (w.CourseM, w.Steps)))))
            .Where(s => s.Step is not null).ToFrozenDictionary(s => s.Key, s => s.Step!, StringComparer.Ordinal);
        lines = season.Nests.GroupBy(n => n.Transect).ToFrozenDictionary(g => g.Key, g => Along(g.Key, g));
        somewhere = Places(season.Nests.SelectMany(n => new[] { n.Flag, n.At }).Concat(season.Transects.SelectMany(t => new[] { t.Start, t.End }))).Cast<Position?>().FirstOrDefault();
    }

    /// <summary>Who walked from the flag to a nest; empty when nobody is named.</summary>
    public static string WalkerOf(Nest nest) => new[] { nest.Source.Text("paced_by"), nest.Transect.Source.Text("paced_by"), nest.Transect.Source.Text("observer") }.FirstOrDefault(t => t.Length > 0) ?? "";

    /// <summary>The step of a person on a transect.</summary>
    public StepLength StepOf(string walker, Transect? transect) => steps.GetValueOrDefault(walker)
        ?? (transect?.StepM is > 0 and var own ? new(own, null, 0, StepOrigin.Transect) : new(StepLength.AssumedM, null, 0, StepOrigin.Assumed));

    /// <summary>The day that a transect's declination is given for: its set-out, or that of its first nest; the middle of the season's year while it is planned; null where the year is no number.</summary>
    public DateOnly? DayOf(Transect transect) => transect.SetOn ?? season.Nests.FirstOrDefault(n => n.Transect == transect && n.SetOn is not null)?.SetOn
        ?? (int.TryParse(season.Settings.Year, NumberStyles.None, CultureInfo.InvariantCulture, out var year) && year is > 0 and < 9999 ? new DateOnly(year, 7, 1) : null);

    /// <summary>The declination of a transect; a reason when no place or day is written, or the model can't tell.</summary>
    public Answer<Declination> DeclinationOf(Transect transect, DateOnly? on = null)
    {
        if ((on ?? DayOf(transect)) is not { } day) return NoAnswer.Because("wayback.no_day");
        return (lines.GetValueOrDefault(transect) is { IsDefaultOrEmpty: false } line ? line[0] : Places([transect.Start, transect.End]).Cast<Position?>().FirstOrDefault() ?? somewhere) is { } at
            ? Declination.Of(at, day)
            : NoAnswer.Because("wayback.no_place");
    }

    /// <summary>The way back to a nest.</summary>
    public NestWay Of(Nest nest)
    {
        var gps = Fix(nest);
        if (Paced(nest) is not { } way) return gps is { } alone ? ByGpsAlone(nest, alone) : new(nest, [], false, Phrase.Of("wayback.no_steps"));
        var step = StepOf(WalkerOf(nest), nest.Transect);
        var declination = way.IsTrueNorth ? new Declination(0, 0, 0) : DeclinationOf(nest.Transect, nest.SetOn);
        var (isTrue, turn) = (declination.HasValue, declination.HasValue ? (declination.Value.DegreesEast, declination.Value.SdDeg) : (0, 0));
        var reckoned = DeadReckoning.Places(way, step.Metres, turn.Item1);
        ImmutableArray<WayPlace> Made((Offset, double)? fix) => [.. reckoned.Select(r => Place(nest, r, step, turn, isTrue, fix))];
        var said = step.Origin == StepOrigin.Assumed ? Phrase.Of("wayback.step_assumed", ("metres", step.Metres)) : null;
        if (gps is null || !isTrue) return new(nest, NearerFirst(nest, Made(null)), way.IsTrueNorth, said);

        var fitting = Made(gps).Where(p => p.Area.Misfit <= MostMisfit).OrderBy(p => p.Area.Misfit).ToImmutableArray();
        if (fitting.IsEmpty) return new(nest, NearerFirst(nest, Made(null)), way.IsTrueNorth, Phrase.Of("wayback.gps_far", ("metres", Math.Round(reckoned.Min(r => Apart(r.Way, gps.Value.Way))))));
        if (fitting.Length < reckoned.Length) said = Phrase.Of(fitting[0].Sense == DirectionSense.NestToFlag ? "wayback.gps_nest_to_flag" : "wayback.gps_flag_to_nest");
        return new(nest, fitting, way.IsTrueNorth, said);
    }

    /// <summary>Steps and directions of a row; null where the first leg is not whole.</summary>
    private static PacedWay? Paced(Nest nest)
    {
        if (LegOf(nest, "steps", "direction") is not { } first) return null;
        var sense = nest.Source.Token("direction_sense") switch { "flag_to_nest" => DirectionSense.FlagToNest, "nest_to_flag" => DirectionSense.NestToFlag, _ => DirectionSense.NotWritten };
        return new(LegOf(nest, "steps_2", "direction_2") is { } second ? [first, second] : [first], sense, nest.Source.Token("north") == "true");
    }

    private static Leg? LegOf(Nest nest, string steps, string direction) =>
        nest.Source.Number(steps) is > 0 and var count && Direction.Parse(nest.Source.Text(direction)) is { } where ? new Leg(count, where) : null;

    /// <summary>The nest from its flag by satellite; both fixes err on their own.</summary>
    private static (Offset Way, double SdM)? Fix(Nest nest)
    {
        if (nest.Flag is not { } flag || nest.At is not { } at || nest.Source.Token("position_source") is not ("" or "gps")) return null;
        var radius = nest.Source.Number("gps_accuracy_m") is > 0 and var written ? written : AssumedAccuracyM;
        return (Offset.Between(flag, at), radius / RadiusInSds * Math.Sqrt(2));
    }

    private static NestWay ByGpsAlone(Nest nest, (Offset Way, double SdM) fix) =>
        new(nest, [new WayPlace(DirectionSense.NotWritten, [], SearchArea.OfPosition(fix.Way, fix.SdM), true, nest.At, true)], true, Phrase.Of("wayback.gps_alone"));

    private static WayPlace Place(Nest nest, ReckonedPlace place, StepLength step, (double Deg, double SdDeg) turn, bool isTrue, (Offset Way, double SdM)? gps)
    {
        var area = SearchArea.Of(place, step, turn, gps);
        var legs = gps is null ? place.Legs : [.. place.Legs[..^1], LastLeg(place, step, turn.Deg, area.Centre)];
        var at = isTrue && nest.Flag is { } flag ? Geodesic.Direct(flag, area.Centre.BearingTrueDeg, area.Centre.DistanceM).To : (Position?)null;
        return new(place.Sense, legs, area, isTrue, at, gps is not null);
    }

    /// <summary>The leg from the end of those before it to a place, as it is walked: whole steps, whole degrees.</summary>
    private static Leg LastLeg(ReckonedPlace place, StepLength step, double turnDeg, Offset to)
    {
        var before = DeadReckoning.End(place.Legs.RemoveAt(place.Legs.Length - 1), step.Metres, turnDeg);
        var way = new Offset(to.EastM - before.EastM, to.NorthM - before.NorthM);
        return new(Math.Round(way.DistanceM / step.Metres), new Direction((Math.Round(way.BearingTrueDeg - turnDeg) + 720) % 360, false));
    }

    /// <summary>Of two places the one nearer to the line comes first; where both are as near, the one of flag to nest.</summary>
    private ImmutableArray<WayPlace> NearerFirst(Nest nest, ImmutableArray<WayPlace> places) =>
        places.Length == 2 && places[0].IsTrue && FromLine(nest, places[1]) < FromLine(nest, places[0]) - NearerM ? [places[1], places[0]] : places;

    private double FromLine(Nest nest, WayPlace place)
    {
        if (nest.Flag is not { } flag || lines[nest.Transect] is not { Length: > 1 } line) return 0;
        var corners = line.Select(p => Offset.Between(flag, p)).ToArray();
        return corners.Zip(corners.Skip(1)).Min(s => ToSegment(place.Area.Centre, s.First, s.Second));
    }

    private static double ToSegment(Offset at, Offset from, Offset to)
    {
        var (east, north) = (to.EastM - from.EastM, to.NorthM - from.NorthM);
        var squared = (east * east) + (north * north);
        var share = squared == 0 ? 0 : Math.Clamp((((at.EastM - from.EastM) * east) + ((at.NorthM - from.NorthM) * north)) / squared, 0, 1);
        return Apart(at, new(from.EastM + (share * east), from.NorthM + (share * north)));
    }

    private static double Apart(Offset a, Offset b) => new Offset(a.EastM - b.EastM, a.NorthM - b.NorthM).DistanceM;

    private static ImmutableArray<Position> Along(Transect transect, IEnumerable<Nest> nests) =>
        [.. Places([transect.Start, .. nests.OrderBy(n => n.Number).Select(n => n.Flag), transect.End])];

    private static IEnumerable<Position> Places(IEnumerable<Position?> places) => places.Where(p => p is not null).Select(p => p!.Value);
}
