using Tussock.Land;
using Tussock.Records;
using Tussock.Wayfinding;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Wayfinding;

/// <summary>Ways back from the records of a season: "17 NE" of crew 1, and what else people write or leave out.</summary>
public class NestWayTests
{
    private const string Columns = "transect,nest,cover,set_on,steps,direction,direction_sense,north,flag_lat,flag_lon,nest_lat,nest_lon,position_source,gps_accuracy_m,paced_by,steps_2,direction_2\n";
    private const string Crew = "observer,course_m,steps\ncrew 1,78,100\ncrew 1,78,100\ncrew 2,60,100\n";

    /// <summary>A place where the magnetic model says 5.0° east on 4 May 2026.</summary>
    private static readonly Position FiveEast = Found(5);

    [Fact]
    public void Seventeen_steps_northeast_without_a_sense_are_two_places()
    {
        var way = Way($"T1,5,grass,,17,NE,,magnetic,{At(FiveEast)},,,gps,4,crew 1,,");
        Assert.Equal([DirectionSense.FlagToNest, DirectionSense.NestToFlag], way.Places.Select(p => p.Sense));
        Assert.All(way.Places, p => Assert.Equal(13.26, p.Area.Centre.DistanceM, 1e-9));
        Assert.Equal(50, way.Places[0].Area.Centre.BearingTrueDeg, 0.01);
        Assert.Equal(230, way.Places[1].Area.Centre.BearingTrueDeg, 0.01);
        Assert.Equal(13.26, Geodesic.Between(FiveEast, way.Places[1].At!.Value).DistanceM, 1e-4);
        Assert.Equal("17 steps NE of flag 5, or 17 steps SW of flag 5; then look 3 m left and right, 1 m ahead and back", Said(way));
        Assert.Equal("17 NE or 17 SW", Catalogue.English.Say(WayBack.Short(way)!));
        Assert.Null(way.Why);
    }

    [Theory]
    [InlineData("23,ENE,flag_to_nest,magnetic", "", "23 steps ENE of flag 5; then look 4 m left and right, 1 m ahead and back")]
    [InlineData("23,ENE,nest_to_flag,", "", "23 steps WSW of flag 5; then look 4 m left and right, 1 m ahead and back")]
    [InlineData("23,70,flag_to_nest,true", "", "From flag 5 23 steps at 70° true; then look 3 m left and right, 1 m ahead and back")]
    [InlineData("1,N,flag_to_nest,true", "", "1 step N by true north of flag 5; then look 1 m left and right, 1 m ahead and back")]
    [InlineData("12,N,nest_to_flag,magnetic", "8,E", "From flag 5 8 steps W, then 12 steps S; then look 2 m left and right, 2 m ahead and back")]
    public void The_way_is_said_as_it_is_walked_from_the_flag(string first, string second, string said) =>
        Assert.Equal(said, Said(Way($"T1,5,grass,,{first},{At(FiveEast)},,,gps,4,crew 1,{(second.Length > 0 ? second : ",")}")));

    [Fact]
    public void The_walkers_step_counts_and_not_the_writers()
    {
        Assert.Equal(13.26, Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},,,,,crew 1,,").Places[0].Area.Centre.DistanceM, 1e-9);
        Assert.Equal(10.2, Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},,,,,crew 2,,").Places[0].Area.Centre.DistanceM, 1e-9);
        Assert.Equal(10.2, Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},,,,,,,").Places[0].Area.Centre.DistanceM, 1e-9);
        var unknown = Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},,,,,crew 9,,");
        Assert.Equal(12.75, unknown.Places[0].Area.Centre.DistanceM, 1e-9);
        Assert.Equal("wayback.step_assumed", unknown.Why!.Key);
    }

    [Fact]
    public void Without_a_flags_position_the_way_is_walked_by_compass_and_no_place_is_given()
    {
        var way = Way("T1,5,grass,,17,NE,flag_to_nest,,,,,,,,crew 1,,");
        Assert.False(way.Places[0].IsTrue);
        Assert.Null(way.Places[0].At);
        Assert.StartsWith("17 steps NE of flag 5", Said(way), StringComparison.Ordinal);
    }

    [Fact]
    public void A_position_that_agrees_is_weighted_and_one_that_does_not_is_said()
    {
        var near = Geodesic.Direct(FiveEast, 54, 15).To;
        var way = Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},{At(near)},gps,3,crew 1,,");
        Assert.True(way.Places[0].IsWeighted);
        Assert.InRange(way.Places[0].Area.Centre.DistanceM, 13.27, 15);
        Assert.Matches("^From flag 5 1[789] steps at 4[5-9]° by compass; then look", Said(way));
        var far = Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},{At(Geodesic.Direct(FiveEast, 230, 40).To)},gps,3,crew 1,,");
        Assert.False(far.Places[0].IsWeighted);
        Assert.Equal("GPS puts the nest 53 m from where steps and direction lead: look at both, and mend the record.", Catalogue.English.Say(far.Why!));
        var planned = Way($"T1,5,grass,,17,NE,flag_to_nest,,{At(FiveEast)},{At(near)},planned,3,crew 1,,");
        Assert.False(planned.Places[0].IsWeighted);
    }

    [Fact]
    public void A_position_tells_the_sense_that_nobody_wrote()
    {
        var way = Way($"T1,5,grass,,17,NE,,,{At(FiveEast)},{At(Geodesic.Direct(FiveEast, 230, 13.26).To)},gps,2,crew 1,,");
        Assert.Equal(DirectionSense.NestToFlag, Assert.Single(way.Places).Sense);
        Assert.Equal("wayback.gps_nest_to_flag", way.Why!.Key);
    }

    [Fact]
    public void A_position_alone_is_a_way_and_nothing_is_none()
    {
        var alone = Way($"T1,5,grass,,,,,,{At(FiveEast)},{At(Geodesic.Direct(FiveEast, 90, 20).To)},gps,4,crew 1,,");
        Assert.StartsWith("20 m E of flag 5; then look 9 m left and right", Said(alone), StringComparison.Ordinal);
        Assert.Equal("20 m E", Catalogue.English.Say(WayBack.Short(alone)!));
        var none = Way($"T1,5,grass,,17,,,,{At(FiveEast)},,,,,crew 1,,");
        Assert.Empty(none.Places);
        Assert.Equal("wayback.no_steps", none.Why!.Key);
        Assert.Null(WayBack.InWords(none));
        Assert.Null(WayBack.Short(none));
    }

    [Fact]
    public void Of_two_places_the_one_nearer_to_the_line_comes_first()
    {
        // The line ends at flag 5, coming from the west: east of it there is no line.
        var before = At(Geodesic.Direct(FiveEast, 270, 38).To);
        var season = Season($"T1,4,grass,,10,N,flag_to_nest,true,{before},,,,,crew 1,,\nT1,5,grass,,17,E,,true,{At(FiveEast)},,,,,crew 1,,\n");
        var way = new SeasonWays(season).Of(season.Nests[1]);
        Assert.Equal([DirectionSense.NestToFlag, DirectionSense.FlagToNest], way.Places.Select(p => p.Sense));
        Assert.StartsWith("17 steps W by true north of flag 5, or 17 steps E", Said(way), StringComparison.Ordinal);
    }

    [Fact]
    public void The_sense_is_offered_for_that_recorders_other_nests_of_that_day()
    {
        var season = Season(string.Concat(
            "T1,1,grass,,17,NE,,,,,,,,,crew 1,,\n", "T1,2,grass,,12,S,,,,,,,,,crew 1,,\n", "T1,3,grass,,12,S,flag_to_nest,,,,,,,,crew 1,,\n", "T1,4,grass,2026-05-05,12,S,,,,,,,,,crew 1,,\n",
            "T2,1,grass,,9,W,,,,,,,,,crew 1,,\n", "T2,2,grass,,9,W,,,,,,,,,crew 2,,\n", "T2,3,grass,,,,,,,,,,,,crew 1,,\n"));
        Assert.Equal(["T1 2", "T2 1"], FoundSense.OfferedTo(season, season.Nests[0]).Select(n => n.Transect.Name + " " + n.Number));
        Assert.Empty(FoundSense.OfferedTo(season, season.Nests[2]));
    }

    [Fact]
    public void Where_no_day_or_place_is_written_declination_says_why()
    {
        var season = Season("T1,1,grass,,17,NE,,,,,,,,,crew 1,,\n");
        Assert.Equal("wayback.no_place", new SeasonWays(season).DeclinationOf(season.Transects[0]).Why!.Key);
        var placed = Season($"T1,1,grass,,17,NE,,,{At(FiveEast)},,,,,crew 1,,\n");
        Assert.Equal(5, new SeasonWays(placed).DeclinationOf(placed.Transects[0]).Value.DegreesEast, 0.01);
        Assert.Equal("wayback.outside_model", new SeasonWays(placed).DeclinationOf(placed.Transects[0], new(2019, 5, 4)).Why!.Key);
    }

    private static NestWay Way(string row)
    {
        var season = Season(row + "\n");
        return new SeasonWays(season).Of(season.Nests.Single());
    }

    private static Season Season(string nests) => FolderInTests.Season(new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["datapackage.json"] = """{"season":{"name":"2026","year":2026,"cover_classes":[{"name":"grass","role":"grass"}]}}""",
        ["pastures.csv"] = "property,pasture\nInvented ranch,North\n",
        ["transects.csv"] = "property,pasture,transect,set_on,observer,paced_by\nInvented ranch,North,T1,2026-05-04,crew 1,crew 2\nInvented ranch,North,T2,2026-05-04,crew 2,\n",
        ["nests.csv"] = Columns + nests,
        ["visits.csv"] = "transect,nest,visited_on,finding\n",
        ["crew.csv"] = Crew,
    });

    private static string Said(NestWay way) => Catalogue.English.Say(WayBack.InWords(way)!);

    private static string At(Position at) => FormattableString.Invariant($"{at.Latitude:F6},{at.Longitude:F6}");

    /// <summary>The longitude at 31.45° north where the declination is so much: it falls to the east.</summary>
    private static Position Found(double degrees)
    {
        var (west, east) = (-110.0, -90.0);
        for (var i = 0; i < 60; i++)
        {
            var middle = (west + east) / 2;
            if (Declination.Of(new(31.45, middle), new(2026, 5, 4)).Value.DegreesEast > degrees) west = middle;
            else east = middle;
        }

        return new(31.45, Math.Round(west, 6));
    }
}
