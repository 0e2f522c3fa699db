using System.Globalization;
using FsCheck.Xunit;
using Tussock.Land;
using Tussock.Wayfinding;
using Xunit;

namespace Tussock.Tests.Wayfinding;

public class GeodesicTests
{
    [Fact]
    public void A_place_is_0_m_from_itself() => Assert.Equal(new Geodesic(0, 0, 0), Geodesic.Between(new(31.45, -99.2), new(31.45, -99.2)));

    [Theory]
    [InlineData(0, 0, 0, 1, 90)]
    [InlineData(0, 0, 0, -1, 270)]
    [InlineData(0, 0, 1, 0, 0)]
    [InlineData(0, 0, -1, 0, 180)]
    [InlineData(89, 10, 90, 10, 0)]
    [InlineData(45, 179.5, 45.0001, 179.5, 0)]
    public void Along_the_equator_and_the_meridians_the_bearing_is_plain(double lat1, double lon1, double lat2, double lon2, double bearing)
    {
        var line = Geodesic.Between(new(lat1, lon1), new(lat2, lon2));
        Assert.Equal(bearing, line.BearingFromDeg, 1e-9);
    }

    [Fact]
    public void A_degree_of_the_equator_is_that_of_its_circle() => Near.Is(6_378_137 * Math.PI / 180, Geodesic.Between(new(0, 20), new(0, 21)).DistanceM, 1e-14);

    [Fact]
    public void The_date_line_is_crossed_by_the_short_way()
    {
        var line = Geodesic.Between(new(-17, 179.9999), new(-17, -179.9999));
        Assert.InRange(line.DistanceM, 20, 22);
        Assert.Equal(90, line.BearingFromDeg, 1e-3);
    }

    [Theory]
    [InlineData(0, 0, 0.5, 179.7)]
    [InlineData(30, 0, -30, 179.9)]
    [InlineData(0, 0, 0, 180)]
    [InlineData(12, 40, -12, -140)]
    public void Nearly_opposite_places_have_a_line_too(double lat1, double lon1, double lat2, double lon2)
    {
        var line = Geodesic.Between(new(lat1, lon1), new(lat2, lon2));
        Assert.InRange(line.DistanceM, 19_900_000, 20_004_000);
        var to = Geodesic.Direct(new(lat1, lon1), line.BearingFromDeg, line.DistanceM).To;
        Assert.Equal(0, Geodesic.Between(to, new(lat2, lon2)).DistanceM, 1e-3);
    }
}

public class GeodesicLaws
{
    [Property]
    public void There_and_measured_is_as_it_was_walked(short lat, short lon, ushort bearing, ushort length)
    {
        var (from, metres) = (new Position(lat / 32768.0 * 85, lon / 32768.0 * 180), 1 + (length * 10.0));
        var angle = bearing / 65536.0 * 360;
        var (to, walked) = Geodesic.Direct(from, angle, metres);
        var seen = Geodesic.Between(from, to);
        Assert.Equal(metres, seen.DistanceM, 1e-6);
        Assert.Equal(0, Math.IEEERemainder(seen.BearingFromDeg - angle, 360) * metres * Math.PI / 180, 1e-6);
        Assert.Equal(0, Math.IEEERemainder(seen.BearingToDeg - walked.BearingToDeg, 360) * metres * Math.PI / 180, 1e-6);
        var back = Geodesic.Between(to, from);
        Assert.Equal(seen.DistanceM, back.DistanceM, 1e-7);
        Assert.Equal(180, Math.Abs(Math.IEEERemainder(back.BearingFromDeg - seen.BearingToDeg, 360)), 1e-3);
    }

    [Property]
    public void Field_lengths_agree_with_the_plane_to_a_millimetre(short lat, ushort bearing, ushort length)
    {
        var (from, metres) = (new Position(lat / 32768.0 * 60, -99.2), 1 + (length / 65536.0 * 999));
        var way = Offset.Between(from, Geodesic.Direct(from, bearing / 65536.0 * 360, metres).To);
        Assert.Equal(metres, way.DistanceM, 1e-3);
    }
}

public class GeodesicChecks
{
    [Fact]
    public void Short_lines_of_another_library_both_ways()
    {
        foreach (var row in Rows("geodesic_short_wgs84.csv"))
        {
            var (to, line) = Geodesic.Direct(new(row[0], row[1]), row[2], row[3]);
            Assert.Equal(row[4], to.Latitude, 2e-14 * 100);
            Assert.Equal(row[5], to.Longitude, 2e-14 * 100);
            Assert.Equal(0, Math.IEEERemainder(line.BearingToDeg - row[6], 360), 1e-11);
            var seen = Geodesic.Between(new(row[0], row[1]), new(row[4], row[5]));
            Assert.Equal(row[3], seen.DistanceM, 1e-6);
            Assert.Equal(0, Math.IEEERemainder(seen.BearingFromDeg - row[2], 360), 1e-6);
        }
    }

    [Fact]
    public void Twenty_lines_round_the_earth_both_ways()
    {
        var rows = Rows("karney_geodesic_20.csv");
        Assert.Equal(20, rows.Length);
        foreach (var row in rows)
        {
            var (to, line) = Geodesic.Direct(new(row[0], row[1]), row[2], row[6]);
            Assert.Equal(row[3], to.Latitude, 1e-12);
            Assert.Equal(0, Math.IEEERemainder(to.Longitude - row[4], 360), 1e-12);
            Assert.Equal(0, Math.IEEERemainder(line.BearingToDeg - row[5], 360), 1e-12);
            var seen = Geodesic.Between(new(row[0], row[1]), new(row[3], row[4]));
            Assert.Equal(row[6], seen.DistanceM, 1e-7);
            Assert.Equal(0, Math.IEEERemainder(seen.BearingFromDeg - row[2], 360), 1e-11);
            Assert.Equal(0, Math.IEEERemainder(seen.BearingToDeg - row[5], 360), 1e-11);
        }
    }

    private static double[][] Rows(string file) =>
        [.. Checks.Read("published-values", Path.Combine("data", file)).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray())];
}
