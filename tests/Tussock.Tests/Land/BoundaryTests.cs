using System.Globalization;
using Tussock.Land;
using Xunit;

namespace Tussock.Tests.Land;

public static class BoundaryTests
{
    private const string Two = """
        {"type":"FeatureCollection","features":[
         {"properties":{"property":"P","pasture":"holed"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[4,4],[6,4],[6,6],[4,6],[4,4]]]}},
         {"properties":{"property":"P","pasture":"pieces"},"geometry":{"type":"MultiPolygon","coordinates":[[[[0,0],[1,0],[1,1]]],[[[5,5],[6,5],[6,6],[5,6]]]]}},
         {"properties":{"property":"P"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1]]]}},
         {"properties":{"property":"P","pasture":"a point"},"geometry":{"type":"Point","coordinates":[0,0]}}]}
        """;

    [Theory]
    [InlineData("holed", 2, 2, true)]
    [InlineData("holed", 5, 5, false)]
    [InlineData("holed", 5, 7, true)]
    [InlineData("holed", 11, 5, false)]
    [InlineData("pieces", 0.2, 0.8, true)]
    [InlineData("pieces", 0.8, 0.2, false)]
    [InlineData("pieces", 5.5, 5.5, true)]
    [InlineData("pieces", 3, 3, false)]
    public static void Holes_are_outside_and_pieces_are_inside(string pasture, double latitude, double longitude, bool inside) =>
        Assert.Equal(inside, BoundaryReading.Read(Two).Value[("P", pasture)].Contains(new Position(latitude, longitude)));

    [Fact]
    public static void Features_without_names_or_polygon_are_passed_over() => Assert.Equal(2, BoundaryReading.Read(Two).Value.Count);

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("[]")]
    [InlineData("{\"features\":3}")]
    public static void Text_of_another_shape_is_a_reason_and_no_fault(string text) => Assert.False(BoundaryReading.Read(text).HasValue);

    [Theory]
    [InlineData("{\"features\":[1,null,{\"properties\":7}]}")]
    [InlineData("{\"features\":[{\"properties\":{\"property\":\"P\",\"pasture\":\"Q\"},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[5,[[1],[\"a\",2],[1e400,3]]]}}]}")]
    [InlineData("{\"features\":[{\"properties\":{\"property\":\"P\",\"pasture\":\"Q\"},\"geometry\":{\"type\":\"MultiPolygon\",\"coordinates\":[[[[1]]],7]}}]}")]
    public static void Odd_features_give_no_boundary(string text) => Assert.Empty(BoundaryReading.Read(text).Value);

    [Fact]
    public static void The_distance_to_the_nearest_side_is_in_metres()
    {
        var square = new Boundary([[new Position(0, 0), new Position(0, 0.01), new Position(0.01, 0.01), new Position(0.01, 0)]]);
        Assert.Equal(111.32, square.DistanceM(new Position(0.005, 0.011)), 0.01);
        Assert.Equal(0, square.DistanceM(new Position(0.005, 0.01)), 0.001);
    }
}

public static class OffsetChecks
{
    [Fact]
    public static void Short_ways_agree_with_geodesics_on_the_ellipsoid()
    {
        foreach (var line in Checks.Read("published-values", Path.Combine("data", "geodesic_short_wgs84.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1))
        {
            var cells = line.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray();
            var way = Offset.Between(new Position(cells[0], cells[1]), new Position(cells[4], cells[5]));
            Assert.Equal(cells[3], way.DistanceM, 0.001);
            Assert.True(Math.Abs(Math.IEEERemainder(way.BearingTrueDeg - cells[2], 360)) < 0.01, line);
        }
    }

    [Fact]
    public static void The_date_line_is_crossed_by_the_short_way() => Assert.Equal(222.64, Offset.Between(new Position(0, 179.999), new Position(0, -179.999)).DistanceM, 0.01);

    [Fact]
    public static void A_way_along_a_bearing_has_that_bearing()
    {
        foreach (var degrees in new[] { 0, 22.5, 90, 181, 359 })
        {
            var way = Offset.Along(degrees, 12);
            Assert.Equal(degrees, way.BearingTrueDeg, 9);
            Assert.Equal(12, way.DistanceM, 9);
        }
    }
}
