using System.Globalization;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class TurnbullBandTests
{
    private static Estimate At(NestSpans nests, double day) => Assert.Single(TurnbullBand.Around(nests, [day], 7)).Survival;

    private static NestSpans Lines(params (int Line, double A, double B)[] nests) =>
        CurveNests.Of([.. nests.Select(n => (n.A, n.B, double.NaN))], [.. nests.Select(n => n.Line)]);

    [Fact]
    public void One_line_has_a_curve_without_limits()
    {
        var point = At(Lines((0, 14, 28), (0, 28, double.PositiveInfinity)), 28);
        Assert.Equal(0.5, point.Value!.Value, 1e-12);
        Assert.Null(point.Low);
        Assert.Equal("curve.one_line", point.Why?.Key);
    }

    [Fact]
    public void Inside_an_interval_both_bounds_are_in_the_reason()
    {
        var point = At(Lines((0, 14, 28), (1, 28, double.PositiveInfinity)), 20);
        Assert.Null(point.Value);
        Assert.Equal(Phrase.Of("curve.inside", ("day", 20.0), ("low", 0.5), ("high", 1.0)).Key, point.Why?.Key);
    }

    [Fact]
    public void Beyond_the_last_visit_nothing_is_said() => Assert.Equal("curve.after_last_visit", At(Lines((0, 14, 28), (1, 28, double.PositiveInfinity)), 30).Why?.Key);

    [Fact]
    public void Where_a_resample_can_lose_all_or_nothing_there_are_no_limits()
    {
        var point = At(Lines((0, 14, 28), (1, 28, double.PositiveInfinity)), 28);
        Assert.NotNull(point.Value);
        Assert.Equal((null, null, "curve.resample_at_end"), (point.Low, point.High, point.Why?.Key));
    }

    [Fact]
    public void Lines_that_came_out_alike_give_no_limits()
    {
        var point = At(Lines((0, 14, 28), (0, 28, double.PositiveInfinity), (1, 14, 28), (1, 28, double.PositiveInfinity)), 28);
        Assert.Equal((null, null, "curve.lines_alike"), (point.Low, point.High, point.Why?.Key));
        Assert.Equal(0.5, point.Value!.Value, 1e-12);
    }

    [Fact]
    public void Two_very_unlike_lines_have_limits_that_exclude_nothing()
    {
        (int, double, double)[] nests = [.. Enumerable.Repeat((0, 14.0, 28.0), 29), (0, 28, double.PositiveInfinity), (1, 14, 28), .. Enumerable.Repeat((1, 28, double.PositiveInfinity), 29)];
        var point = At(Lines(nests), 28);
        Assert.Equal((0.0, 1.0), (point.Low, Math.Round(point.High!.Value, 12)));
        Assert.Null(point.Why);
    }

    [Fact]
    public void At_the_ends_of_the_curve_there_are_no_limits()
    {
        Assert.Equal("curve.none_lost", At(Lines((0, 14, 28), (1, 28, double.PositiveInfinity)), 3).Why?.Key);
        Assert.Equal("curve.none_left", At(Lines((0, 14, 28), (1, 0, 28)), 28).Why?.Key);
    }

    [Fact]
    public void Without_a_watched_nest_every_day_has_the_reason() => Assert.Equal("curve.nothing_watched", At(Lines((0, 0, double.PositiveInfinity)), 28).Why?.Key);

    [Fact]
    public void Lines_without_a_watched_nest_are_no_lines()
    {
        (int, double, double)[] nests = [(0, 14, 28), (0, 28, double.PositiveInfinity), (1, 0, 14), (1, 28, double.PositiveInfinity), (1, 28, double.PositiveInfinity)];
        Assert.Equal(At(Lines(nests), 28), At(Lines([.. nests, (2, 0, double.PositiveInfinity)]), 28));
    }

    [Fact]
    public void The_same_seed_gives_the_same_band_and_another_seed_another()
    {
        var nests = ReferenceSeason.Whole("typical144");
        Assert.Equal(TurnbullBand.Around(nests, [14, 28], 3), TurnbullBand.Around(nests, [14, 28], 3));
        Assert.NotEqual(TurnbullBand.Around(nests, [14, 28], 3), TurnbullBand.Around(nests, [14, 28], 4));
    }

    [Fact]
    public void Every_reason_has_a_sentence()
    {
        foreach (var key in (string[])["curve.inside", "curve.none_left", "curve.none_lost", "curve.one_line", "curve.lines_alike", "curve.resample_at_end", "curve.after_last_visit", "curve.nothing_watched"])
        {
            Assert.NotEmpty(Words.Catalogue.English.Say(Phrase.Of(key, ("day", 20.0), ("low", 0.25), ("high", 0.5))));
        }
    }
}

public class TurnbullBandLaws
{
    [Property(MaxTest = 12)]
    public void Limits_hold_the_curve_and_lie_between_0_and_1((byte, byte, byte)[] seeds)
    {
        var known = CurveNests.From(seeds);
        if (known.Count == 0) return;
        var lines = known.Select((_, i) => i / 4).ToArray();
        foreach (var (_, point) in TurnbullBand.Around(CurveNests.Of(known, lines), [7, 14, 21, 28], 5))
        {
            if (point.Low is null) Assert.NotNull(point.Why);
            else Assert.True(point is { Low: >= 0, High: <= 1 } && point.Low <= point.Value && point.Value <= point.High);
        }
    }

    [Property(MaxTest = 12)]
    public void The_same_lines_again_under_new_names_shrink_the_limits((byte, byte, byte)[] seeds)
    {
        var known = CurveNests.From(seeds);
        if (known.Count < 5) return;
        var lines = known.Select((_, i) => i / 4).ToArray();
        var one = TurnbullBand.Around(CurveNests.Of(known, lines), [14, 28], 5);
        var twice = TurnbullBand.Around(CurveNests.Of([.. known, .. known], [.. lines, .. lines.Select(l => l + lines[^1] + 1)]), [14, 28], 5);
        foreach (var (before, after) in one.Zip(twice))
        {
            if (before.Survival is { Low: { } low, High: { } high } && after.Survival.Low is { } newLow && high - low > 1e-9) Assert.True(after.Survival.High - newLow < high - low);
        }
    }
}

public class TurnbullBandChecks
{
    private static readonly JsonElement Expected = JsonDocument.Parse(Checks.Read("curve-band", "expected.json")).RootElement;

    private static NestSpans Nests()
    {
        var rows = Checks.Read("curve-band", "data.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(r => r.Split(',')).ToArray();
        static double Number(string cell, double otherwise) => cell.Length == 0 ? otherwise : double.Parse(cell, CultureInfo.InvariantCulture);
        return CurveNests.Of(
            [.. rows.Select(r => (Number(r[1], 0), Number(r[2], double.PositiveInfinity), Number(r[3], double.NaN)))],
            [.. rows.Select(r => int.Parse(r[0].AsSpan(1), CultureInfo.InvariantCulture) - 1)]);
    }

    [Fact]
    public void The_band_agrees_with_every_resample_of_five_lines()
    {
        var points = Expected.GetProperty("points").EnumerateArray().ToArray();
        var found = TurnbullBand.Around(Nests(), [.. points.Select(p => p.GetProperty("day").GetDouble())], 20);
        foreach (var (expected, point) in points.Zip(found))
        {
            Assert.Equal(expected.GetProperty("survival").GetDouble(), point.Survival.Value!.Value, 1e-6);
            // Only one way in thousands leads to a resample at an end: 999 draws may or may not meet it.
            if (expected.GetProperty("se_log_log").ValueKind == JsonValueKind.Null) continue;
            double se = expected.GetProperty("se_log_log").GetDouble(), chance = expected.GetProperty("relative_mc_se").GetDouble();
            static double LogLog(double s) => Math.Log(-Math.Log(s));
            var reach = (LogLog(point.Survival.Low!.Value) - LogLog(point.Survival.High!.Value)) / 2;
            Assert.InRange(reach / Tails.StudentQuantile(0.975, 4) / se, 1 - (4 * chance), 1 + (4 * chance));
        }
    }

    [Fact]
    public void Each_resample_ends_where_expectation_maximisation_from_equal_masses_does()
    {
        var nests = Nests();
        var places = InnermostIntervals.Of(nests);
        var lines = LineRows.Of(nests, places);
        var fit = new ConstrainedNewton(places.From, places.To, places.Left.Length);
        var days = Expected.GetProperty("days").EnumerateArray().Select(d => d.GetDouble()).ToArray();
        foreach (var resample in Expected.GetProperty("resamples").EnumerateArray())
        {
            var weights = new double[places.Weight.Length];
            foreach (var line in resample.GetProperty("drawn").EnumerateArray()) lines.AddTo(weights, line.GetInt32());
            Assert.True(fit.Maximise(weights, start: default).Converged);
            foreach (var (day, s) in days.Zip(resample.GetProperty("survival").EnumerateArray()))
            {
                var lost = fit.Mass.Where((_, j) => places.Right[j] <= day).Sum() + (fit.Mass.Where((_, j) => places.Left[j] < day && day < places.Right[j]).Sum() / 2);
                Assert.Equal(s.GetDouble(), 1 - lost, 1e-5);
            }
        }
    }
}
