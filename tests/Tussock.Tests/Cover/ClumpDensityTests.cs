using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Cover;
using Tussock.Measures;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Cover;

public class ClumpDensityTests
{
    private static readonly DensityQuestion Usual = new();

    // Two callers: step 0.76 m, stick 1.80 m wide, segments of 50 steps.
    private static SegmentCount Called(int segment, double clumps) => new()
    {
        Line = 0, Transect = 0, Pasture = 0, Segment = segment, Cover = 0, Clumps = clumps, Steps = 50, StepM = 0.76, WidthM = 1.80,
    };

    [Fact]
    public void Two_callers_give_their_mean_one_side_half_the_width_and_not_counted_is_not_zero()
    {
        var density = ClumpDensity.Of(PassesMerged.Of([Called(1, 6), Called(1, 4) with { Pass = 2 }, Called(2, 3) with { Side = BeltSide.Right }, Called(3, 0) with { IsCounted = false }]), Usual);
        Assert.Equal(102.6, density.AreaM2, 9);
        Assert.Equal(8, density.Clumps);
        Assert.Equal(315.5, density.PerAcre.Value!.Value, 1);
        Assert.Equal(1, density.SegmentsNotCounted);
        Assert.Equal((1, 2.0), density.Passes);
        Assert.Contains("one segment was counted twice; the two counts differ by 2.0 clumps on average", density.PerAcre.Notes.Select(Catalogue.English.Say));
    }

    [Fact]
    public void Left_and_right_of_one_pass_add_up_to_the_whole_width()
    {
        var halves = PassesMerged.Of([Called(1, 2) with { Side = BeltSide.Left, Walker = "crew 1" }, Called(1, 3) with { Side = BeltSide.Right, Walker = "crew 2" }]);
        Assert.Equal((5.0, 68.4), (halves[0].Clumps, Math.Round(halves[0].AreaM2, 9)));
        Assert.Null(halves[0].PassDifference);
        Assert.Equal(["crew 1", "crew 2"], halves[0].Walkers);
    }

    [Fact]
    public void The_area_of_a_segment_is_taken_once_however_many_classes_were_counted_on_it()
    {
        var units = Belts.Units(Belts.Row(0, 1, 4), Belts.Row(0, 1, 2, cover: 1), Belts.Row(1, 1, 5), Belts.Row(1, 1, 0, cover: 1));
        Assert.Equal(200, ClumpDensity.Of(units, Usual).AreaM2);
        Assert.Equal(11, ClumpDensity.Of(units, Usual).Clumps);
        var grass = ClumpDensity.Of(units, Usual with { Classes = [0] });
        Assert.Equal((9.0, 200.0), (grass.Clumps, grass.AreaM2));
    }

    [Fact]
    public void A_class_without_a_row_on_a_counted_segment_has_none_there()
    {
        var shrub = ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 4), Belts.Row(1, 1, 5), Belts.Row(1, 1, 3, cover: 1)), Usual with { Classes = [1] });
        Assert.Equal((3.0, 200.0), (shrub.Clumps, shrub.AreaM2));
    }

    [Fact]
    public void No_clump_gives_the_Poisson_upper_limit_and_no_chance()
    {
        var density = ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 0), Belts.Row(1, 1, 0)), Usual);
        Assert.Equal((0.0, 0.0), (density.PerAcre.Value, density.PerAcre.Low));
        Assert.Equal(3.689 / Area.Acres(200), density.PerAcre.High!.Value, 2);
        Assert.False(density.ChanceAtLeastBenchmark.HasValue);
    }

    [Fact]
    public void Lines_that_do_not_differ_give_no_interval_and_no_chance()
    {
        var density = ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 3), Belts.Row(1, 1, 3), Belts.Row(2, 1, 6, areaM2: 200)), Usual);
        Assert.Equal(0, density.PerAcre.Se);
        Assert.Null(density.PerAcre.Low);
        Assert.Equal("density.no_difference", density.PerAcre.Why!.Key);
        Assert.False(density.ChanceAtLeastBenchmark.HasValue);
    }

    [Fact]
    public void One_line_takes_its_segments_as_units_and_says_so()
    {
        var density = ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 3), Belts.Row(0, 2, 7), Belts.Row(0, 3, 4)), Usual);
        Assert.Equal((1, 3), (density.Lines, density.Units));
        Assert.Equal(ClumpDensity.BetweenSegmentsMethod, density.PerAcre.Method);
        Assert.Contains(Phrase.Of("density.one_line"), density.PerAcre.Notes);
        Assert.True(density.PerAcre.Low < density.PerAcre.Value);
    }

    [Fact]
    public void One_segment_or_none_gives_a_reason()
    {
        Assert.Equal("density.one_segment", ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 3)), Usual).PerAcre.Why!.Key);
        Assert.Equal("density.no_belt", ClumpDensity.Of([], Usual).PerAcre.Why!.Key);
        Assert.Equal("density.no_belt", ClumpDensity.Of(Belts.Units(Belts.Row(0, 1, 3) with { IsCounted = false }), Usual).PerAcre.Why!.Key);
    }

    [Fact]
    public void Walkers_who_were_measured_widen_the_interval_and_the_plain_one_stays()
    {
        var units = Belts.Units(Belts.Row(0, 1, 3) with { Walker = "crew 1" }, Belts.Row(1, 1, 7) with { Walker = "crew 1" }, Belts.Row(2, 1, 5) with { Walker = "crew 2" }, Belts.Row(3, 1, 6) with { Walker = "crew 2" });
        ImmutableArray<CourseWalk> walks = [new("crew 1", 0.70, 1.80), new("crew 1", 0.80, 1.80), new("crew 2", 0.75)];
        var density = ClumpDensity.Of(units, Usual with { Walks = walks });
        var (plain, wide) = (density.PerAcreBetweenLines, density.PerAcre);
        var cv = 0.1 / Math.Sqrt(2) / 0.75;
        Assert.Equal(Math.Pow(plain.Se!.Value / plain.Value!.Value, 2) + 0.25 * cv * cv, Math.Pow(wide.Se!.Value / wide.Value!.Value, 2), 12);
        Assert.True(wide.Low < plain.Low && wide.High > plain.High);
    }

    [Fact]
    public void Segments_above_the_benchmark_leave_out_what_was_not_counted()
    {
        var segments = SegmentDensity.Along(Belts.Units(Belts.Row(0, 1, 8), Belts.Row(0, 2, 1), Belts.Row(0, 3, 0) with { IsCounted = false }), Usual);
        Assert.Equal((1, 2), SegmentDensity.SegmentsAbove(segments, 300));
        Assert.Null(segments[2].PerAcre);
    }
}

public class ClumpDensityLaws
{
    private static BeltUnit[] Some(byte[] clumps) => [.. clumps.Select((c, i) => Belts.Units(Belts.Row(i / 3, i % 3, c % 9, areaM2: 60 + c))[0])];

    [Property]
    public bool The_order_of_rows_changes_nothing(byte[] clumps)
    {
        var units = Some(clumps);
        var (there, back) = (ClumpDensity.Of(units, new()).PerAcre, ClumpDensity.Of(units.Reverse(), new()).PerAcre);
        return (there.Value, there.Low, there.High) == (back.Value, back.Low, back.High);
    }

    [Property]
    public bool The_same_lines_again_under_new_names_never_widen_the_interval(byte[] clumps)
    {
        var units = Some(clumps);
        var once = ClumpDensity.Of(units, new());
        var again = ClumpDensity.Of([.. units, .. units.Select(u => u with { Line = u.Line + 1000, Transect = u.Transect + 1000 })], new());
        return once.Lines < 2 || once.PerAcre.Low is null || once.PerAcre.Value == 0 || (again.PerAcre.Low > once.PerAcre.Low && again.PerAcre.High < once.PerAcre.High);
    }

    [Property]
    public bool The_chance_is_one_half_when_the_benchmark_is_the_estimate(byte[] clumps)
    {
        var units = Some(clumps);
        if (ClumpDensity.Of(units, new()).PerAcre.Value is not > 0) return true;
        var chance = ClumpDensity.Of(units, new() { BenchmarkPerAcre = ClumpDensity.Of(units, new()).PerAcre.Value!.Value }).ChanceAtLeastBenchmark;
        return !chance.HasValue || Math.Abs(chance.Value - 0.5) < 1e-9;
    }
}

public class ClumpDensityChecks
{
    [Theory]
    [InlineData("typical144")]
    [InlineData("tiny20")]
    [InlineData("all_survive48")]
    [InlineData("separation120")]
    [InlineData("strong600")]
    public void Season_and_pastures_of_the_reference_seasons(string set)
    {
        var (units, pasture, _) = Belts.Season(set);
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", set + "/extra.json"));
        var value = json.RootElement.GetProperty("density").GetProperty("value");
        Compare(value.GetProperty("season"), units);
        foreach (var group in value.GetProperty("pasture").EnumerateObject()) Compare(group.Value, [.. units.Where(u => pasture[u.Transect] == group.Name)]);
    }

    [Theory]
    [InlineData("typical144")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    public void Belts_of_the_reference_seasons_against_a_survey_library(string set)
    {
        var (units, _, property) = Belts.Season(set);
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", set + "/expected.json"));
        foreach (var group in json.RootElement.GetProperty("belt_density").GetProperty("value").EnumerateObject())
        {
            var density = ClumpDensity.Of(units.Where(u => group.Name == "all" || property[u.Transect] == group.Name), new());
            Assert.Equal(group.Value.GetProperty("transects").GetInt32(), density.Lines);
            Near(group.Value.GetProperty("per_acre").GetDouble(), density.PerAcre.Value);
            Near(group.Value.GetProperty("se").GetDouble(), density.PerAcre.Se);
            Near(group.Value.GetProperty("ci_log_t")[0].GetDouble(), density.PerAcre.Low);
            Near(group.Value.GetProperty("ci_log_t")[1].GetDouble(), density.PerAcre.High);
        }
    }

    [Fact]
    public void Strips_of_unequal_length()
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "strips_constructed.csv")).Skip(1)
            .Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        var density = ClumpDensity.Of(Belts.Units([.. rows.Select(r => Belts.Row((int)r[0], 1, r[3], areaM2: r[1] * r[2]))]), new());
        Near(PublishedValues.Of("strips", "clumps per acre (international acre)"), density.PerAcre.Value);
        Near(PublishedValues.Of("strips", "se clumps per acre (R2)"), density.PerAcre.Se);
    }

    [Fact]
    public void Ratio_of_the_sizes_of_49_cities()
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "bigcity.csv")).Skip(1)
            .Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        var ratio = RatioEstimator.Of([.. rows.Select(r => r[1])], [.. rows.Select(r => r[0])]);
        Near(PublishedValues.Of("cochran.cities", "R (survey)"), ratio.Ratio);
        // The published error is that of 49 cities drawn from 196; lines are drawn from very many.
        Near(PublishedValues.Of("cochran.cities", "se(R) (survey)"), ratio.Se * Math.Sqrt(1 - 49.0 / 196));
    }

    private static void Compare(JsonElement expected, BeltUnit[] units)
    {
        var density = ClumpDensity.Of(units, new());
        Near(expected.GetProperty("clumps").GetDouble(), density.Clumps);
        Near(expected.GetProperty("acres").GetDouble(), Area.Acres(density.AreaM2));
        Near(expected.GetProperty("per_acre").GetDouble(), density.PerAcre.Value);
        Near(Nullable(expected, "se"), density.PerAcre.Se);
        Near(Nullable(expected, "low"), density.PerAcre.Low);
        Near(Nullable(expected, "high"), density.PerAcre.High);
        foreach (var benchmark in (int[])[300, 30])
        {
            var chance = ClumpDensity.Of(units, new() { BenchmarkPerAcre = benchmark }).ChanceAtLeastBenchmark;
            var wanted = Nullable(expected, "chance_" + benchmark);
            Assert.Equal(wanted.HasValue, chance.HasValue);
            if (wanted is { } w) Assert.Equal(w, chance.Value, 1e-8);
        }
    }

    private static double? Nullable(JsonElement e, string name) => e.GetProperty(name) is { ValueKind: JsonValueKind.Number } v ? v.GetDouble() : null;

    private static void Near(double? expected, double? actual)
    {
        Assert.Equal(expected.HasValue, actual.HasValue);
        if (expected is { } e) Assert.True(Math.Abs(actual!.Value - e) <= 1e-8 * Math.Abs(e), $"{actual} instead of {e}");
    }
}
