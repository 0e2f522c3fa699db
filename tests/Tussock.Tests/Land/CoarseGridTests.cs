using FsCheck.Xunit;
using Tussock.Land;
using Xunit;

namespace Tussock.Tests.Land;

/// <summary>The public grid: worked by hand, and its laws.</summary>
public class CoarseGridTests
{
    [Theory]
    [InlineData(31.2537, -99.4211, 31.255, -99.425)]
    [InlineData(31.25, -99.42, 31.255, -99.415)]
    [InlineData(-31.2537, 0.0001, -31.255, 0.005)]
    [InlineData(0, 0, 0.005, 0.005)]
    [InlineData(89.9999, 12, 89.995, 45)]
    [InlineData(90, 12, 89.995, 45)]
    [InlineData(10, 180, 10.005, 179.995)]
    [InlineData(10, -180, 10.005, -179.995)]
    [InlineData(60.001, 25.012, 60.005, 25.01)]
    public void A_place_goes_to_the_middle_of_its_cell(double latitude, double longitude, double north, double east) =>
        Assert.Equal(new Position(north, east), CoarseGrid.Middle(new Position(latitude, longitude)));

    [Theory]
    [InlineData(31.25)]
    [InlineData(0.07)]
    [InlineData(0.29)]
    [InlineData(-12.57)]
    public void A_place_on_a_line_of_the_grid_belongs_to_the_cell_to_its_north_east(double degrees) =>
        Assert.Equal(new Position(Math.Round(degrees + 0.005, 3), Math.Round(degrees + 0.005, 3)), CoarseGrid.Middle(new Position(degrees, degrees)));

    [Property(MaxTest = 500)]
    public void Blurring_what_is_blurred_changes_nothing_and_moves_no_place_far(int seed)
    {
        var random = new Random(seed);
        var place = new Position((random.NextDouble() * 160) - 80, (random.NextDouble() * 360) - 180);
        var middle = CoarseGrid.Middle(place);
        Assert.Equal(middle, CoarseGrid.Middle(middle));
        Assert.InRange(Offset.Between(place, middle).DistanceM, 0, 1300);
    }

    [Property(MaxTest = 500)]
    public void A_cell_is_600_to_1510_metres_wide_and_1100_high(int seed)
    {
        var random = new Random(seed);
        var place = new Position((random.NextDouble() * 160) - 80, (random.NextDouble() * 358) - 179);
        var (low, high) = CoarseGrid.Cover(place.Latitude, place.Longitude, place.Latitude, place.Longitude);
        var middle = CoarseGrid.Middle(place);
        Assert.Equal((low.Latitude + high.Latitude) / 2, middle.Latitude, 9);
        Assert.Equal((low.Longitude + high.Longitude) / 2, middle.Longitude, 9);
        Assert.InRange(new LocalPlane(middle).MetresPerDegreeEast * (high.Longitude - low.Longitude), 599, 1510);
        Assert.InRange(new LocalPlane(middle).MetresPerDegreeNorth * (high.Latitude - low.Latitude), 1100, 1120);
    }

    [Property(MaxTest = 500)]
    public void Cells_cover_what_they_are_asked_to_cover(int seed)
    {
        var random = new Random(seed);
        var (south, west) = ((random.NextDouble() * 170) - 85, (random.NextDouble() * 350) - 175);
        var (north, east) = (south + (random.NextDouble() / 10), west + (random.NextDouble() / 10));
        var (low, high) = CoarseGrid.Cover(south, west, north, east);
        Assert.True(low.Latitude <= south && low.Longitude <= west && high.Latitude >= north && high.Longitude >= east);
        Assert.True(high.Latitude - north <= 0.0101 && south - low.Latitude <= 0.0101);
    }
}
