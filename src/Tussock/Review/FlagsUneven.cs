using Tussock.Land;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>Neighbouring flags of a line that are not about as far apart as the steps between them say.</summary>
internal static class FlagsUneven
{
    private const double LeastM = 15;
    private const double Share = 0.25;

    internal static void Look(Inspection on)
    {
        Nest? before = null;
        foreach (var nest in on.Season.Nests)
        {
            if (nest.Flag is null) continue;
            if (before is not null && ReferenceEquals(before.Transect, nest.Transect)) Compare(on, before, nest);
            before = nest;
        }
    }

    private static void Compare(Inspection on, Nest before, Nest nest)
    {
        if (nest.Transect is not { StepsBetween: { } steps, StepM: { } step } || before.Flag is not { } from || nest.Flag is not { } to) return;
        var expected = (nest.Number - before.Number) * steps * step;
        var distance = Offset.Between(from, to).DistanceM;
        if (Math.Abs(distance - expected) > Math.Max(LeastM, Share * expected))
            on.Add("flags_uneven", Severity.Odd, nest.Source.Place("flag_lat"), nest, ("before", before.Number), ("metres", Distances.Said(distance)), ("expected", Distances.Said(expected)));
    }
}
