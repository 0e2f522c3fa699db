using Tussock.Land;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest whose position is far from where its flag, steps and direction put it; or far from its flag altogether.</summary>
/// <remarks>
/// Allowed: three times the expected error (8 % of the distance, and the accuracy of the position where written), at least 10 m; a direction may be
/// off by half a point (by 3° when written in degrees), and by 15° more unless it is called true, because the declination is not known here.
/// </remarks>
internal static class NestFarFromWalk
{
    private const double LeastM = 10;
    private const double StepSpread = 0.08;
    private const double FarFromFlagM = 1000;

    internal static void Look(Inspection on)
    {
        var walks = new WalkCells(on.Season);
        foreach (var nest in on.Season.Nests)
        {
            if (nest.Flag is not { } flag || nest.At is not { } at) continue;
            var found = Offset.Between(flag, at);
            if (found.DistanceM > FarFromFlagM) on.Add("nest_far_from_flag", Severity.Odd, nest.Source.Place("nest_lat"), nest, ("metres", Distances.Said(found.DistanceM)));
            else if (walks.Of(nest) is { } walk) Compare(on, nest, found, walk);
        }
    }

    private static void Compare(Inspection on, Nest nest, Offset found, Walk walk)
    {
        var allowed = Math.Max(LeastM, 3 * Math.Sqrt(Square(StepSpread * walk.Way.DistanceM) + Square(walk.AccuracyM)));
        var asWritten = Error(found, walk.Way, walk.TurnDeg);
        var turned = Error(found, new Offset(-walk.Way.EastM, -walk.Way.NorthM), walk.TurnDeg);
        if (asWritten <= allowed || (!walk.HasSense && turned <= allowed)) return;
        var why = turned <= allowed ? walk.IsNestToFlag ? "review.fits_flag_to_nest" : "review.fits_nest_to_flag" : "review.fits_neither";
        on.Add("nest_far_from_walk", Severity.Odd, nest.Source.Place("nest_lat"), nest, ("metres", Math.Round(asWritten)), ("allowed", Math.Round(allowed)), ("why", Phrase.Of(why)));
    }

    /// <summary>Metres between two ways, the second turned by up to <paramref name="turnDeg"/> to fit best.</summary>
    private static double Error(Offset found, Offset way, double turnDeg)
    {
        var apart = Math.Max(0, Math.Abs(Math.IEEERemainder(found.BearingTrueDeg - way.BearingTrueDeg, 360)) - turnDeg);
        var (d, r) = (found.DistanceM, way.DistanceM);
        return Math.Sqrt(Math.Max(0, (d * d) + (r * r) - (2 * d * r * Math.Cos(apart * Math.PI / 180))));
    }

    private static double Square(double x) => x * x;
}
