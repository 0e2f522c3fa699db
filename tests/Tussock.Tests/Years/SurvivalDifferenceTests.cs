using System.Globalization;
using Tussock.Numerics;
using Tussock.Survival;
using Tussock.Years;
using Xunit;

namespace Tussock.Tests.Years;

/// <summary>Differences between two years: published tables for independent nests, sums by hand for lines, and edges.</summary>
public class SurvivalDifferenceTests
{
    [Fact]
    public void With_independent_nests_the_limits_are_Newcombes_method_ten()
    {
        foreach (var row in File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "newcombe_difference.csv")).Skip(1))
        {
            var n = row.Split(',').Select(c => double.Parse(c.Trim('"'), CultureInfo.InvariantCulture)).ToArray();
            (double, double, double) Share(double k, double of)
            {
                var (low, high) = Wilson.Limits((int)k, (int)of, 0.95);
                return (k / of, low, high);
            }

            var found = RecoveredLimits.Difference(Share(n[2], n[3]), Share(n[0], n[1]));
            Assert.Equal(n[4], found.Low, 5e-5);
            Assert.Equal(n[5], found.High, 5e-5);
        }
    }

    [Fact]
    public void Errors_of_lines_walked_again_are_those_of_their_differences()
    {
        // Influences by hand: three pairs and one line more in each year.
        var errors = LineErrors.Of([("A", 0.1), ("B", -0.2), ("C", 0.1), (null, 0.05)], [("A", 0.2), ("B", -0.1), ("C", -0.1), ("D", 0.3)]);
        Near.Is(0.0625, errors.Before, 1e-12);
        Near.Is(0.15, errors.After, 1e-12);
        Near.Is((0.1 * 0.2) + (0.2 * 0.1) - (0.1 * 0.1), errors.Covariance, 1e-12);
        Near.Is((0.1 * 0.1) + (0.1 * 0.1) + (0.2 * 0.2) + (0.05 * 0.05) + (0.3 * 0.3), errors.OfDifference, 1e-12);
        Assert.Equal(3, errors.Shared);
    }

    [Fact]
    public void Without_shared_lines_the_degrees_of_freedom_are_Welchs()
    {
        var errors = LineErrors.Of([(null, 0.1), (null, -0.1), (null, 0.2)], [(null, 0.3), (null, -0.1), (null, 0.05), (null, -0.2)]);
        double a = 0.06, b = 0.1425;
        Near.Is((a + b) * (a + b) / ((a * a / 2) + (b * b / 3)), errors.Degrees, 1e-12);
    }

    [Fact]
    public void Lines_walked_again_make_the_difference_surer_than_other_lines()
    {
        (int, int)[] first = [(9, 12), (2, 12), (6, 12), (11, 12), (4, 12), (7, 12)], second = [(7, 12), (1, 12), (5, 12), (9, 12), (2, 12), (6, 12)];
        var again = SurvivalDifference.Between(InventedYears.Year("2024", first, true), InventedYears.Year("2025", second, true));
        var other = SurvivalDifference.Between(InventedYears.Year("2024", first), InventedYears.Year("2025", second));
        Near.Is(-9 / 72.0, again.Difference.Value, 1e-12);
        Assert.True(again.Difference.High - again.Difference.Low < 0.8 * (other.Difference.High - other.Difference.Low));
        Assert.True(again.ChanceRose.Value < other.ChanceRose.Value);
        Assert.Equal((6, 0), (again.SharedLines, other.SharedLines));
    }

    [Fact]
    public void Pairs_that_all_fell_by_the_same_are_still_no_certainty()
    {
        (int, int)[] first = [(2, 8), (4, 8), (5, 8), (6, 8)], second = [(1, 8), (3, 8), (4, 8), (5, 8)];
        var fell = SurvivalDifference.Between(InventedYears.Year("2024", first, true), InventedYears.Year("2025", second, true));
        Assert.True(fell.Difference.High - fell.Difference.Low > 0.2);
        Assert.InRange(fell.ChanceRose.Value, 0.01, 0.4);
    }

    [Fact]
    public void Lines_of_which_all_or_none_survived_in_both_years_are_no_certainty_either()
    {
        (int, int)[] lines = [(10, 10), (0, 10), (10, 10), (0, 10)];
        var same = SurvivalDifference.Between(InventedYears.Year("2024", lines, true), InventedYears.Year("2025", lines, true));
        Assert.True(same.Difference is { Low: < -0.02, High: > 0.02 });
        Near.Is(0.5, same.ChanceRose.Value, 1e-9);
        (int, int)[] single = [(1, 1), (0, 1), (1, 1)];
        Assert.InRange(SurvivalDifference.Between(InventedYears.Year("2024", single, true), InventedYears.Year("2025", single, true)).ChanceRose.Value, 0.4, 0.6);
    }

    [Fact]
    public void Lines_that_changed_in_exact_proportion_have_no_error_and_no_chance_from_rounding()
    {
        PastureYear Year(string label, double times) => InventedYears.Year(label, [(1, 2), (1, 2)], true) with { PerAcre = new Measured(10 * times, null, null), Lines = [new("A", "A", 1, 2, times, 70.3), new("B", "B", 1, 2, 2 * times, 101.7)] };
        var change = DensityChange.Between(Year("2024", 1), Year("2025", 3));
        Assert.Equal("density.no_difference", change.Ratio.Why!.Key);
        Assert.False(change.ChanceRose.HasValue);
    }

    [Fact]
    public void A_year_whose_nests_nobody_has_looked_at_yet_is_not_counted_as_lost()
    {
        var before = InventedYears.Year("2024", [(5, 8), (3, 8), (6, 8), (4, 8)]);
        var open = InventedYears.Year("2025", [(0, 2), (0, 1), (0, 3), (0, 1)]) with { NotLookedAt = 25, Counts = new(32, 7, 0, 7, 0, 25) };
        Assert.True(open.IsByPieces);
        Assert.Null(open.Survival.Value);
        Assert.Equal("years.no_survival", SurvivalDifference.Between(before, open).Difference.Why!.Key);
    }

    [Fact]
    public void Two_seasons_of_one_year_are_one_point_of_a_trend_and_are_told_apart_by_their_names()
    {
        PastureYear[] years = [InventedYears.Year("2023", [(3, 8), (5, 8)]), InventedYears.Year("2024", [(4, 8), (5, 8)]), InventedYears.Year("2024", [(6, 8), (5, 8)]) with { Conduct = InventedYears.Year("2024", [(1, 1)]).Conduct with { Season = "late" } }];
        Assert.Equal("years.few_years", YearTrend.Of(years).Why!.Key);
        var said = YearSentences.Of(YearStep.Of(years[1], years[2]))[0];
        Assert.Equal(["s2024", "late"], said.Arguments.Where(a => a.Name is "before" or "after").Select(a => a.Value));
    }

    [Fact]
    public void Lines_that_agree_by_luck_do_not_make_a_year_weigh_more_than_its_nests()
    {
        PastureYear Of(string label, params (int, int)[] lines) => InventedYears.Year(label, lines);
        var lucky = YearTrend.Of([Of("2021", (5, 10), (6, 11)), Of("2022", (8, 10), (2, 11)), Of("2023", (3, 10), (9, 11))]).Value;
        var plain = YearTrend.Through([(2021, Smoothed.LogOdds(11, 21), Smoothed.Variance(11, 21)), (2022, Smoothed.LogOdds(10, 21), Smoothed.Variance(10, 21)), (2023, Smoothed.LogOdds(12, 21), Smoothed.Variance(12, 21))]).Value;
        Assert.True(lucky.LogOddsAYear.Se > 0.9 * plain.LogOddsAYear.Se);
    }

    [Fact]
    public void A_density_stands_in_the_unit_that_was_chosen_beside_its_name()
    {
        var land = LandYears.Of([InventedYears.Year("2024", [(5, 8), (3, 8)])])[0];
        Assert.Equal("12", YearRows.Of(land, Words.Catalogue.English).Single()[^1]);
        var metric = Words.Catalogue.English.In(Words.UnitChoice.Metric);
        Assert.Equal(("30", "Clumps a hectare"), (YearRows.Of(land, metric).Single()[^1], metric.Say(YearRows.Heads[^1])));
    }

    [Fact]
    public void Swapping_the_years_turns_everything_round()
    {
        var (a, b) = (InventedYears.Year("2024", [(3, 8), (5, 8), (6, 8), (1, 8)]), InventedYears.Year("2025", [(7, 8), (5, 8), (6, 8), (8, 8)]));
        var (there, back) = (SurvivalDifference.Between(a, b), SurvivalDifference.Between(b, a));
        Near.Is(-there.Difference.Value!.Value, back.Difference.Value, 1e-12);
        Near.Is(-there.Difference.Low!.Value, back.Difference.High, 1e-9, 1e-3);
        Near.Is(1 - there.ChanceRose.Value, back.ChanceRose.Value, 1e-9);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(8, 8)]
    [InlineData(0, 8)]
    public void All_or_none_in_a_year_gives_numbers_inside_what_is_possible(int first, int second)
    {
        var d = SurvivalDifference.Between(InventedYears.Year("2024", [(first, 8), (first, 8), (first, 8)]), InventedYears.Year("2025", [(second, 8), (second, 8), (second, 8)]));
        Assert.InRange(d.Difference.Low!.Value, -1, 1);
        Assert.InRange(d.Difference.High!.Value, d.Difference.Low.Value + 0.05, 1);
        Assert.InRange(d.ChanceRose.Value, 1e-6, 1 - 1e-6);
        if (first == second) Near.Is(0.5, d.ChanceRose.Value, 1e-9);
    }

    [Fact]
    public void A_year_without_fates_has_no_difference_and_says_which()
    {
        var none = SurvivalDifference.Between(InventedYears.Year("2024", [(0, 0)]), InventedYears.Year("2025", [(5, 8), (3, 8)]));
        Assert.Null(none.Difference.Value);
        Assert.Equal("years.no_survival", none.Difference.Why!.Key);
    }

    [Theory]
    [InlineData(0.5, 0.3, 5)]
    [InlineData(-1.2, 0.6, 3)]
    [InlineData(0.05, 0.02, 30)]
    [InlineData(2, 3, 1)]
    public void The_chance_is_what_a_fine_sum_over_both_unknowns_gives(double difference, double se, double degrees)
    {
        double above = 0, all = 0;
        for (var i = 0; i < 600; i++)
        {
            var omega = (i + 0.5) * 0.01;
            var h = Math.Min(omega, se) / 30;
            for (var delta = h / 2; delta < 9 * omega; delta += h)
            {
                double T(double d) => Math.Pow(1 + ((difference - d) / se * ((difference - d) / se) / degrees), -(degrees + 1) / 2);
                var prior = Math.Exp((-omega * omega / 4.5) - (delta * delta / (2 * omega * omega))) / omega * h;
                above += prior * T(delta);
                all += prior * (T(delta) + T(-delta));
            }
        }

        Assert.Equal(above / all, ChanceOfRise.Of(difference, se, degrees), 0.004);
        Near.Is(0.5, ChanceOfRise.Of(0, se, degrees), 1e-12);
    }
}
