using System.Collections.Immutable;
using System.Globalization;
using FsCheck.Xunit;
using Tussock.Land;
using Tussock.Wayfinding;
using Xunit;

namespace Tussock.Tests.Wayfinding;

public class DeadReckoningTests
{
    [Fact]
    public void A_direction_without_its_sense_leads_to_two_places_opposite_each_other()
    {
        var places = DeadReckoning.Places(new([new(17, new(45, true))], DirectionSense.NotWritten, false), 0.78, 5);
        Assert.Equal([DirectionSense.FlagToNest, DirectionSense.NestToFlag], places.Select(p => p.Sense));
        Assert.All(places, p => Assert.Equal(13.26, p.Way.DistanceM, 1e-9));
        Assert.Equal(50, places[0].Way.BearingTrueDeg, 1e-9);
        Assert.Equal(230, places[1].Way.BearingTrueDeg, 1e-9);
    }

    [Fact]
    public void True_directions_do_not_turn_and_magnetic_ones_turn_by_the_declination()
    {
        ImmutableArray<Leg> legs = [new(10, new(355, false))];
        Assert.Equal(355, DeadReckoning.Places(new(legs, DirectionSense.FlagToNest, true), 1, 12).Single().Way.BearingTrueDeg, 1e-9);
        Assert.Equal(7, DeadReckoning.Places(new(legs, DirectionSense.FlagToNest, false), 1, 12).Single().Way.BearingTrueDeg, 1e-9);
    }
}

public class DeadReckoningLaws
{
    [Property]
    public void The_way_back_ends_opposite_the_way_out(byte steps1, byte steps2, ushort a, ushort b)
    {
        ImmutableArray<Leg> legs = [new(steps1, new(a / 65536.0 * 360, false)), new(steps2, new(b / 65536.0 * 360, false))];
        var places = DeadReckoning.Places(new(legs, DirectionSense.NotWritten, false), 0.75, 3.4);
        Assert.Equal(0, (places[0].Way + places[1].Way).DistanceM, 1e-9);
        Assert.Equal(legs[1].Back, places[1].Legs[0]);
    }
}

public class DeadReckoningChecks
{
    [Fact]
    public void Latitudes_and_departures_of_a_printed_traverse()
    {
        foreach (var line in Checks.Read("published-values", Path.Combine("data", "traverse_mahun.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1))
        {
            var cells = line.Replace("\"", "", StringComparison.Ordinal).Split(',');
            var (length, azimuth) = (Number(cells[5]), Number(cells[6]));
            var end = DeadReckoning.End([new(length, new(azimuth, false))], 1, 0);
            Assert.Equal(Number(cells[7]), end.NorthM, 1e-9);
            Assert.Equal(Number(cells[8]), end.EastM, 1e-9);
            Assert.Equal(Number(cells[9]), end.NorthM, 5.01e-4);
            Assert.Equal(Number(cells[10]), end.EastM, 5.01e-4);
        }
    }

    [Fact]
    public void A_closed_traverse_closes_as_printed()
    {
        ImmutableArray<Leg> legs = [.. Checks.Read("published-values", Path.Combine("data", "traverse_mahun.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
            .Select(l => l.Split(',')).Select(c => new Leg(Number(c[5]), new(Number(c[6]), false)))];
        Near.Is(PublishedValues.Of("traverse.mahun", "linear misclosure"), DeadReckoning.End(legs, 1, 0).DistanceM, 1e-9);
    }

    [Fact]
    public void Magnetic_and_true_of_a_printed_rule()
    {
        Assert.Equal(PublishedValues.Of("declination", "true from magnetic 350 deg, declination 12 E"), DeadReckoning.End([new(1, new(350, false))], 1, 12).BearingTrueDeg, 1e-9);
        Assert.Equal(PublishedValues.Of("declination", "true from magnetic 5 deg, declination 8 W"), DeadReckoning.End([new(1, new(5, false))], 1, -8).BearingTrueDeg, 1e-9);
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}

public class StepLengthTests
{
    [Fact]
    public void Three_walks_of_a_hundred_metres()
    {
        var step = StepLength.Measured([(100, 131), (100, 129), (100, 133)])!;
        Near.Is(PublishedValues.Of("pace", "mean step m (100 m / steps, 3 walks)"), step.Metres, 1e-12);
        Near.Is(PublishedValues.Of("pace", "sd of one step length"), step.SdM, 1e-10);
        Near.Is(PublishedValues.Of("pace", "50-step leg m"), 50 * step.Metres, 1e-12);
    }

    [Fact]
    public void One_walk_leaves_the_spread_unknown_and_no_walk_is_no_step()
    {
        var step = StepLength.Measured([(60, 80), (null, 80), (60, 0)])!;
        Assert.Equal((0.75, null, 1), (step.Metres, step.SdM, step.Walks));
        Assert.Null(StepLength.Measured([(60, null), (0, 3)]));
    }
}

public class CompassReadingsTests
{
    [Fact]
    public void Readings_on_both_sides_of_north_have_their_mean_between_them()
    {
        var (mean, spread) = CompassReadings.Of([350, 10, 0]);
        Assert.Equal(0, Math.IEEERemainder(mean!.Value, 360), 1e-9);
        Assert.InRange(spread!.Value, 8, 8.5);
    }

    [Fact]
    public void Wavering_opposite_and_missing_readings_are_no_direction()
    {
        Assert.Equal((null, null), CompassReadings.Of([]));
        Assert.Equal((null, null), CompassReadings.Of([0, 180]));
        var (mean, spread) = CompassReadings.Of([0, 60]);
        Assert.Null(mean);
        Assert.InRange(spread!.Value, 30, 31);
    }
}
