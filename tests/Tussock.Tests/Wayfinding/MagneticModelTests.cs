using System.Globalization;
using Tussock.Land;
using Tussock.Wayfinding;
using Xunit;

namespace Tussock.Tests.Wayfinding;

public class MagneticModelTests
{
    [Theory]
    [InlineData(2024, 12, 31)]
    [InlineData(2030, 1, 2)]
    [InlineData(1999, 6, 1)]
    public void A_day_outside_the_model_is_said(int year, int month, int day)
    {
        var none = Declination.Of(new(31.45, -99.2), new(year, month, day));
        Assert.Equal("wayback.outside_model", none.Why!.Key);
        Assert.Throws<ArgumentOutOfRangeException>(() => MagneticModel.Current.At(new(31.45, -99.2), 0, Declination.DecimalYear(new(year, month, day))));
    }

    [Fact]
    public void The_first_and_the_last_day_belong_to_it()
    {
        Assert.True(Declination.Of(new(31.45, -99.2), new(2025, 1, 1)).HasValue);
        var last = Declination.Of(new(31.45, -99.2), new(2030, 1, 1));
        Assert.InRange(last.Value.ChangePerYear, -0.3, 0.3);
    }

    [Fact]
    public void Near_a_magnetic_pole_a_compass_is_no_use() => Assert.Equal("wayback.blackout", Declination.Of(new(86, 142), new(2026, 5, 4)).Why!.Key);

    [Fact]
    public void The_change_of_a_year_is_what_a_year_changes()
    {
        var (now, then) = (Declination.Of(new(27, -98.2), new(2026, 5, 4)).Value, Declination.Of(new(27, -98.2), new(2027, 5, 4)).Value);
        Assert.Equal(then.DegreesEast - now.DegreesEast, now.ChangePerYear, 2e-3);
        Assert.InRange(now.SdDeg, 0.26, 0.5);
    }

    [Theory]
    [InlineData(90)]
    [InlineData(-90)]
    public void At_the_poles_there_is_still_a_field(double latitude) => Assert.InRange(MagneticModel.Current.At(new(latitude, 0), 0, 2026).TotalNt, 50_000, 60_000);
}

public class MagneticModelChecks
{
    [Fact]
    public void Each_published_value_to_its_last_digit()
    {
        var rows = Checks.Read("wmm2025", "test_values.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        Assert.Equal(100, rows.Length);
        foreach (var r in rows)
        {
            var field = MagneticModel.Current.At(new Position(r[2], r[3]), r[1], r[0]);
            foreach (var (printed, found) in new[] { (r[4], field.NorthNt), (r[5], field.EastNt), (r[6], field.DownNt), (r[7], field.HorizontalNt), (r[8], field.TotalNt) }) Assert.Equal(printed, found, 1e-3);
            Assert.Equal(r[9], field.InclinationDeg, 0.00501);
            Assert.Equal(r[10], field.DeclinationDeg, 0.00501);
        }
    }

    [Fact]
    public void A_declination_of_south_Texas_worked_out_elsewhere() =>
        // 27.0 N, 98.2 W at 2026.9: 3.30° by an independent evaluation of the same coefficients.
        Assert.Equal(3.30, Declination.Of(new(27, -98.2), new(2026, 11, 25)).Value.DegreesEast, 0.01);
}
