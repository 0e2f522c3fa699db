using Tussock.Land;
using Tussock.Numerics;

namespace Tussock.Wayfinding;

/// <summary>Where to look at the end of the way: a box that holds the nest in 95 of 100 returns.</summary>
/// <param name="Centre">The place to go to, metres east and north of the flag.</param>
/// <param name="LeftRightM">Metres to look to the left and to the right of whoever arrives there.</param>
/// <param name="AheadBackM">Metres to look ahead and back.</param>
/// <param name="Misfit">Squared distance between steps and satellite in standard deviations, about 2 on average; 0 where there is no position.</param>
/// <remarks>
/// <para>
/// The errors of a walk: the length of the step (one share for the whole way), steps counted to the whole, each direction (a compass point holds
/// everything within half a point, evenly, which bends the area into a banana; degrees a normal error of 3°), the declination. With a position of
/// the nest the two are weighted by their precision, and the area is that of the weighted place.
/// </para>
/// <para>The box is found on 2,048 evenly spread draws of those errors: both sides at the same level, the lowest at which the box holds 95 %. Cost: those draws.</para>
/// <para>The person's own walk back is not in it. May be shared between threads.</para>
/// </remarks>
/// <source>Halton 1960, Numerische Mathematik 2:84–90, for the draws; weights by inverse covariance: any textbook of adjustment. 3° for a hand compass: common practice, no source.</source>
/// <check>search-area</check>
public sealed record SearchArea(Offset Centre, double LeftRightM, double AheadBackM, double Misfit = 0)
{
    /// <summary>Share of returns in which the box holds the nest.</summary>
    public const double Level = 0.95;

    /// <summary>Standard deviation of a direction in degrees, degrees.</summary>
    public const double DegreesSd = 3;

    /// <summary>Half of one of the 16 points, degrees.</summary>
    public const double HalfPointDeg = 11.25;

    internal const int Draws = 2048;
    internal const int StepRadix = 2;

    private static readonly Lazy<double[]> LazyGpsEast = new(() => Normals(5));
    private static readonly Lazy<double[]> LazyGpsNorth = new(() => Normals(7));
    private static readonly Lazy<double[]> LazyDeclination = new(() => Normals(19));
    private static readonly Lazy<double[][]> LazyDirections = new(() => [Levels(3), Levels(11)]);
    private static readonly Lazy<double[][]> LazyDirectionNormals = new(() => [Normals(3), Normals(11)]);
    private static readonly Lazy<double[][]> LazyCounts = new(() => [Levels(13), Levels(17)]);

    /// <summary>The area of one place.</summary>
    /// <param name="place">Where steps and directions lead, one or two legs.</param>
    /// <param name="step">The step of whoever walked it.</param>
    /// <param name="turn">Degrees added to each direction and their standard deviation; (0, 0) by the compass.</param>
    /// <param name="gps">The nest's position from the flag by satellite, and the standard deviation of each of its coordinates in metres; null where it was not taken.</param>
    /// <returns>The area; both sides 0 or more.</returns>
    public static SearchArea Of(ReckonedPlace place, StepLength step, (double Deg, double SdDeg) turn, (Offset Way, double SdM)? gps = null)
    {
        var errors = Errors(place, step, turn);
        if (gps is not { } fix) return Box(place.Way, errors, Facing(place, step, turn.Deg, place.Way));
        var gain = Gain(errors, fix.SdM);
        var apart = new Offset(fix.Way.EastM - place.Way.EastM, fix.Way.NorthM - place.Way.NorthM);
        var centre = place.Way + gain.Times(apart);
        for (var i = 0; i < Draws; i++)
        {
            var seen = new Offset(errors[i].EastM + (fix.SdM * LazyGpsEast.Value[i]), errors[i].NorthM + (fix.SdM * LazyGpsNorth.Value[i]));
            errors[i] = Less(errors[i], gain.Times(seen));
        }

        // (I − K)·d = s²·(C + s²I)⁻¹·d: its product with d, divided by s², is the squared distance.
        var left = Less(apart, gain.Times(apart));
        return Box(centre, errors, Facing(place, step, turn.Deg, centre)) with { Misfit = ((left.EastM * apart.EastM) + (left.NorthM * apart.NorthM)) / (fix.SdM * fix.SdM) };
    }

    /// <summary>Where a satellite's position alone leads.</summary>
    /// <param name="way">The nest from the flag.</param>
    /// <param name="sdM">Standard deviation of each coordinate, metres.</param>
    public static SearchArea OfPosition(Offset way, double sdM)
    {
        var errors = new Offset[Draws];
        for (var i = 0; i < Draws; i++) errors[i] = new(sdM * LazyGpsEast.Value[i], sdM * LazyGpsNorth.Value[i]);
        return Box(way, errors, way.BearingTrueDeg);
    }

    /// <summary>The nest seen from where steps and directions lead, for each draw.</summary>
    private static Offset[] Errors(ReckonedPlace place, StepLength step, (double Deg, double SdDeg) turn)
    {
        var shares = StepSpread.Draws(step);
        var (east, north) = (new double[Draws], new double[Draws]);
        for (var l = 0; l < place.Legs.Length; l++)
        {
            var leg = place.Legs[l];
            var (counts, declinations) = (LazyCounts.Value[l % 2], LazyDeclination.Value);
            var offs = (leg.Direction.IsPoint ? LazyDirections : LazyDirectionNormals).Value[l % 2];
            for (var i = 0; i < Draws; i++)
            {
                var off = leg.Direction.IsPoint ? HalfPointDeg * ((2 * offs[i]) - 1) : DegreesSd * offs[i];
                var (sine, cosine) = Math.SinCos((leg.Direction.Degrees + turn.Deg + off + (turn.SdDeg * declinations[i])) * (Math.PI / 180));
                var metres = (leg.Steps + counts[i] - 0.5) * step.Metres * (1 + shares[i]);
                east[i] += metres * sine;
                north[i] += metres * cosine;
            }
        }

        var errors = new Offset[Draws];
        for (var i = 0; i < Draws; i++) errors[i] = new(east[i] - place.Way.EastM, north[i] - place.Way.NorthM);
        return errors;
    }

    /// <summary>The share of a satellite's disagreement that the weighted place follows: C·(C + s²I)⁻¹, C the spread of the errors.</summary>
    private static Matrix Gain(Offset[] errors, double sdM)
    {
        var (ee, en, nn) = (0.0, 0.0, 0.0);
        foreach (var e in errors) (ee, en, nn) = (ee + (e.EastM * e.EastM / Draws), en + (e.EastM * e.NorthM / Draws), nn + (e.NorthM * e.NorthM / Draws));
        var (a, d) = (ee + (sdM * sdM), nn + (sdM * sdM));
        var determinant = (a * d) - (en * en);
        return new(((ee * d) - (en * en)) / determinant, en * (a - ee) / determinant, en * (d - nn) / determinant, ((nn * a) - (en * en)) / determinant);
    }

    /// <summary>True bearing, or bearing by the compass, in which a walker arrives: along the last leg.</summary>
    private static double Facing(ReckonedPlace place, StepLength step, double turnDeg, Offset centre)
    {
        var before = DeadReckoning.End(place.Legs.RemoveAt(place.Legs.Length - 1), step.Metres, turnDeg);
        return new Offset(centre.EastM - before.EastM, centre.NorthM - before.NorthM).BearingTrueDeg;
    }

    private static SearchArea Box(Offset centre, Offset[] errors, double facingDeg)
    {
        var ahead = Offset.Along(facingDeg, 1);
        var across = new double[Draws];
        var along = new double[Draws];
        for (var i = 0; i < Draws; i++)
        {
            across[i] = Math.Abs((errors[i].EastM * ahead.NorthM) - (errors[i].NorthM * ahead.EastM));
            along[i] = Math.Abs((errors[i].EastM * ahead.EastM) + (errors[i].NorthM * ahead.NorthM));
        }

        double[] sortedAcross = [.. across], sortedAlong = [.. along];
        Array.Sort(sortedAcross);
        Array.Sort(sortedAlong);
        var (low, high) = ((int)(Level * Draws) - 1, Draws - 1);
        while (low < high)
        {
            var rank = (low + high) / 2;
            var (side, depth) = (sortedAcross[rank], sortedAlong[rank]);
            var held = 0;
            for (var i = 0; i < Draws; i++) if (across[i] <= side && along[i] <= depth) held++;
            if (held >= Level * Draws) high = rank;
            else low = rank + 1;
        }

        return new(centre, sortedAcross[low], sortedAlong[low]);
    }

    private static Offset Less(Offset a, Offset b) => new(a.EastM - b.EastM, a.NorthM - b.NorthM);

    private static double[] Levels(int radix) => [.. Enumerable.Range(1, Draws).Select(i => RadicalInverse.Of(i, radix))];

    private static double[] Normals(int radix) => [.. Levels(radix).Select(Tails.NormalQuantile)];

    private readonly record struct Matrix(double EastEast, double EastNorth, double NorthEast, double NorthNorth)
    {
        internal Offset Times(Offset v) => new((EastEast * v.EastM) + (EastNorth * v.NorthM), (NorthEast * v.EastM) + (NorthNorth * v.NorthM));
    }
}
