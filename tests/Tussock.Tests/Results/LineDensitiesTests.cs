using Tussock.Measures;
using Tussock.Results;
using Tussock.Tests.Review;
using Xunit;

namespace Tussock.Tests.Results;

public class LineDensitiesTests
{
    private const double SegmentM2 = 50 * 0.76 * 1.80;

    [Fact]
    public void A_line_has_the_clumps_of_its_own_belts_on_their_area()
    {
        var densities = Of(new SmallSeason().Read());
        Near.Is(Area.PerAcre(5 / (2 * SegmentM2)), densities["T1"], 1e-12);
        Near.Is(Area.PerAcre(7 / (2 * SegmentM2)), densities["T2"], 1e-12);
    }

    [Fact]
    public void A_line_without_a_clump_counts_as_half_a_clump_and_one_that_was_not_counted_has_none()
    {
        var densities = Of(new SmallSeason().With("belts.csv", 2, "clumps", "0").With("belts.csv", 3, "clumps", "0").With("belts.csv", 4, "status", "not_counted").With("belts.csv", 5, "status", "not_counted").Read());
        Near.Is(Area.PerAcre(0.5 / (2 * SegmentM2)), densities["T1"], 1e-12);
        Assert.False(densities.ContainsKey("T2"));
    }

    [Fact]
    public void Two_transects_on_one_flag_line_are_one_line() =>
        Near.Is(Area.PerAcre(12 / (4 * SegmentM2)), Of(new SmallSeason().WithAll("transects.csv", "line", "old fence").Read())["old fence"], 1e-12);

    private static System.Collections.Immutable.ImmutableDictionary<string, double> Of(Tussock.Records.Season season) => LineDensities.Of(season, Tussock.Results.Belts.Of(season));
}
