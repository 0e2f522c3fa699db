using System.Text.Json;
using Tussock.Cover;
using Tussock.Evidence;
using Tussock.Verdicts;
using Tussock.Wayfinding;
using Xunit;

namespace Tussock.Tests;

/// <summary>Cases small enough to work out on paper: <c>tests/checks/worked-by-hand</c>.</summary>
public class WorkedByHandChecks
{
    [Fact]
    public void Passes_sides_and_segments_of_a_belt()
    {
        var c = Case("passes");
        var rows = c.GetProperty("segments").EnumerateArray().Select(s => new SegmentCount
        {
            Line = 0, Transect = 0, Pasture = 0, Cover = 0, Segment = s.GetProperty("segment").GetInt32(), Pass = s.GetProperty("pass").GetInt32(),
            Side = s.GetProperty("side").GetString() == "right" ? BeltSide.Right : BeltSide.Both,
            Clumps = s.GetProperty("clumps").GetDouble(), Steps = Of(c, "steps"), StepM = Of(c, "step_m"), WidthM = Of(c, "width_m"),
        });
        var units = PassesMerged.Of(rows);
        Assert.Equal(Of(c, "pass_difference"), units[0].PassDifference);
        var density = ClumpDensity.Of(units, new());
        Near.Is(Of(c, "clumps"), density.Clumps, 1e-12);
        Near.Is(Of(c, "area_m2"), density.AreaM2, 1e-12);
        Near.Is(Of(c, "per_acre"), density.PerAcre.Value, 1e-12);
        Assert.All(SegmentDensity.Along(units, new()).Zip(Numbers(c, "segment_per_acre")), s => Near.Is(s.Second, s.First.PerAcre, 1e-12));
    }

    [Fact]
    public void Walkers_of_a_measured_course()
    {
        var c = Case("walkers");
        var areas = c.GetProperty("areas").EnumerateObject().ToDictionary(a => a.Name, a => a.Value.GetDouble(), StringComparer.Ordinal);
        var walks = c.GetProperty("walks").EnumerateArray().Select(w => new CourseWalk(w[0].GetString()!, w[1].GetDouble(), w[2].GetDouble())).ToArray();
        Near.Is(Of(c, "squared_error"), CalibratedWalkers.SquaredError(areas, walks), 1e-12);
    }

    [Fact]
    public void Readings_of_all_losses_and_of_those_that_a_camera_saw()
    {
        var c = Case("readings");
        List<int> readings = [], truths = [];
        foreach (var (confirmed, reading) in c.GetProperty("confirmed").EnumerateArray().Select((e, i) => (e.EnumerateArray().Select(n => n.GetInt32()).ToArray(), i)))
        {
            var all = (int)Numbers(c, "all")[reading];
            readings.AddRange(Enumerable.Repeat(reading, all));
            truths.AddRange(confirmed.SelectMany((n, k) => Enumerable.Repeat(k, n)).Concat(Enumerable.Repeat(-1, all - confirmed.Sum())));
        }

        Assert.All(Tenenbein.Shares([.. readings], [.. truths], 2)!.Zip(Numbers(c, "shares")), s => Near.Is(s.Second, s.First, 1e-12));
    }

    [Fact]
    public void Two_signs_of_one_group_that_speak_against_each_other()
    {
        var c = Case("pooled_signs");
        var pooled = SignGroups.Pooled([.. c.GetProperty("chances").EnumerateArray().Select(s => s.EnumerateArray().Select(p => Math.Log(p.GetDouble())).ToArray())]);
        Near.Is(Of(c, "log_odds"), pooled[0] - pooled[1], 1e-12);
    }

    [Fact]
    public void Chance_of_a_clear_call_after_more_belts()
    {
        var c = Case("more_belts");
        for (var i = 0; i < 2; i++)
        {
            Near.Is(Numbers(c, "chance")[i], MoreBelts.ChanceOfCall(Of(c, "away_log"), Of(c, "s"), (int)Of(c, "lines"), (int)Numbers(c, "more")[i], Numbers(c, "certainty")[i]), 1e-9);
        }
    }

    [Fact]
    public void Readings_of_a_compass_that_agree_and_that_waver()
    {
        var c = Case("compass_readings");
        var (mean, spread) = CompassReadings.Of(Numbers(c, "readings"));
        Assert.Null(mean);
        Near.Is(Of(c, "spread"), spread, 1e-12);
        (mean, spread) = CompassReadings.Of(Numbers(c, "close"));
        Assert.Equal(Of(c, "close_mean"), Math.IEEERemainder(mean!.Value, 360), 1e-12);
        Near.Is(Of(c, "close_spread"), spread, 1e-12);
    }

    private static JsonElement Case(string name)
    {
        using var json = JsonDocument.Parse(Checks.Read("worked-by-hand", "expected.json"));
        return json.RootElement.GetProperty(name).Clone();
    }

    private static double Of(JsonElement c, string name) => c.GetProperty(name).GetDouble();

    private static double[] Numbers(JsonElement c, string name) => [.. c.GetProperty(name).EnumerateArray().Select(e => e.GetDouble())];
}
