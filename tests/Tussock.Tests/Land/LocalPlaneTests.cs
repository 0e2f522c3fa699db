using System.Globalization;
using Tussock.Land;
using Xunit;

namespace Tussock.Tests.Land;

public class LocalPlaneTests
{
    [Fact]
    public void The_centre_is_the_origin() => Assert.Equal((0, 0), new LocalPlane(new Position(27, -98.5)).Metres(new Position(27, -98.5)));

    [Fact]
    public void A_place_goes_there_and_back()
    {
        var plane = new LocalPlane(new Position(-41, 174));
        var (east, north) = plane.Metres(plane.Place(1234.5, -678.9));
        Assert.Equal(1234.5, east, 1e-6);
        Assert.Equal(-678.9, north, 1e-6);
    }
}

public class LocalPlaneChecks
{
    [Fact]
    public void Lines_of_field_length_agree_with_the_geodesic_to_a_thousandth()
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "geodesic_short_wgs84.csv")).Skip(1)
            .Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        Assert.NotEmpty(rows);
        Assert.All(rows, row =>
        {
            var (east, north) = new LocalPlane(new Position(row[0], row[1])).Metres(new Position(row[4], row[5]));
            var angle = row[2] * Math.PI / 180;
            Assert.Equal(Math.Sin(angle) * row[3], east, row[3] / 1000);
            Assert.Equal(Math.Cos(angle) * row[3], north, row[3] / 1000);
        });
    }
}
