using System.Globalization;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class TurnbullTests
{
    private const double Never = double.PositiveInfinity, NoCamera = double.NaN;

    private static SurvivalCurve Curve(params (double, double, double)[] known) => Turnbull.CurveFrom(CurveNests.Of(known)).Value;

    [Fact]
    public void Nests_never_watched_give_a_reason_and_no_curve()
    {
        Assert.Equal("curve.nothing_watched", Turnbull.CurveFrom(NestSpans.Empty).Why?.Key);
        Assert.Equal("curve.nothing_watched", Turnbull.CurveFrom(CurveNests.Of([(0, Never, NoCamera), (0, Never, NoCamera)])).Why?.Key);
    }

    [Fact]
    public void When_all_nests_stay_whole_the_curve_stays_at_one_as_far_as_anyone_looked()
    {
        var curve = Curve((28, Never, NoCamera), (14, Never, NoCamera));
        Assert.Equal([28.0], curve.Left);
        Assert.Equal([null], curve.Right);
        Assert.Equal([1.0], curve.Mass);
        Assert.Equal((1.0, 1.0), (curve.At(28).Low, curve.At(28).High));
        Assert.Equal((0.0, 1.0), (curve.At(29).Low, curve.At(29).High));
        Assert.Equal(0, curve.LogLikelihood);
    }

    [Fact]
    public void When_all_nests_are_lost_by_one_day_the_curve_is_exactly_zero_from_then_on()
    {
        var curve = Curve((0, 14, NoCamera), (0, 14, NoCamera), (0, 9, 3));
        Assert.Equal(new CurveValue(0, 0), curve.At(14));
        Assert.True(curve.At(3).IsDefined);
    }

    [Fact]
    public void Two_shared_check_days_give_plain_shares()
    {
        (double, double, double)[] known = [.. Enumerable.Repeat((0.0, 14.0, NoCamera), 9), .. Enumerable.Repeat((14.0, 28.0, NoCamera), 7), .. Enumerable.Repeat((28.0, Never, NoCamera), 24)];
        var curve = Curve(known);
        for (var j = 0; j < 3; j++)
        {
            var printed = PublishedValues.Of("grouped.40", $"mass (0,14],(14,28],(28,inf)[{j + 1}]");
            Assert.Equal(printed, curve.Mass[j], 1e-13);
        }

        Assert.Equal(31.0 / 40, curve.At(14).Low, 1e-13);
        Assert.False(curve.At(7).IsDefined);
        Assert.True(curve.At(14).IsDefined);
    }

    [Fact]
    public void An_exact_time_is_a_point_that_an_interval_opening_there_leaves_out_and_one_closing_there_holds()
    {
        var curve = Curve((0, 9, 5), (5, 9, NoCamera), (0, 5, NoCamera));
        Assert.Equal([5.0, 5.0], curve.Left);
        Assert.Equal([5.0, 9.0], curve.Right);
        Assert.Equal(2.0 / 3, curve.Mass[0], 1e-12);
        Assert.Equal(1.0 / 3, curve.At(5).Low, 1e-12);
        Assert.Equal(1, curve.At(4.9).Low);
    }

    [Fact]
    public void A_loss_by_camera_alone_counts_at_its_time()
    {
        var curve = Curve((0, Never, 6), (28, Never, NoCamera));
        Assert.Equal([6.0, 28.0], curve.Left);
        Assert.Equal(0.5, curve.At(20).Low, 1e-12);
    }

    [Fact]
    public void A_last_step_whose_gain_is_lost_in_rounding_is_taken()
    {
        var curve = Curve([.. Enumerable.Repeat((1.0, Never, NoCamera), 5), (0, 17, NoCamera), (16, Never, NoCamera), (5, 18, 17.25), (0, 17, NoCamera), (2, 16, 15.75), (15, Never, NoCamera)]);
        Assert.True(curve.Diary.Converged, curve.Diary.ToString());
        Assert.Equal([1.0 / 2, 1.0 / 6, 1.0 / 3], curve.Mass.Select(m => Math.Round(m, 12)), (a, b) => Math.Abs(a - b) < 1e-11);
    }

    [Fact]
    public void Ten_thousand_nests_without_ties_meet_the_Kuhn_Tucker_condition()
    {
        var chance = new Random(1);
        var known = Enumerable.Range(0, 10000).Select(_ =>
        {
            double first = 10 + (8 * chance.NextDouble()), second = 24 + (8 * chance.NextDouble()), loss = -45 * Math.Log(1 - chance.NextDouble());
            var lost = loss <= first ? (0, first) : loss <= second ? (first, second) : (second, Never);
            return (lost.Item1, lost.Item2, lost.Item2 < Never && chance.NextDouble() < 0.2 ? loss : NoCamera);
        }).ToArray();
        var curve = Turnbull.CurveFrom(CurveNests.Of(known)).Value;
        Assert.True(curve.Diary.Converged, curve.Diary.ToString());
        Assert.True(curve.Diary.Residual <= 1e-10);
        Assert.Equal(1, curve.Mass.Sum(), 1e-9);
    }
}

public class TurnbullLaws
{
    private static List<(double A, double B, double T)>? Known((byte, byte, byte)[] seeds)
    {
        var known = CurveNests.From(seeds);
        return Turnbull.CurveFrom(CurveNests.Of(known)).HasValue ? known : null;
    }

    private static SurvivalCurve Curve(IReadOnlyList<(double, double, double)> known) => Turnbull.CurveFrom(CurveNests.Of(known)).Value;

    private static (double, double, double)[] Masses(SurvivalCurve curve) => [.. curve.Mass.Select((m, j) => (curve.Left[j], curve.Right[j] ?? double.PositiveInfinity, m))];

    [Property(MaxTest = 200)]
    public void The_masses_meet_the_Kuhn_Tucker_condition_by_the_slow_count((byte, byte, byte)[] seeds)
    {
        if (Known(seeds) is not { } known) return;
        var curve = Curve(known);
        var (residual, logLikelihood) = CurveNests.Judge(known, Masses(curve));
        Assert.True(residual <= 1e-9, $"residual {residual}");
        Assert.Equal(logLikelihood, curve.LogLikelihood, 1e-9 * Math.Max(1, Math.Abs(logLikelihood)));
        Assert.Equal(1, curve.Mass.Sum(), 1e-12);
        Assert.All(Masses(curve), m => Assert.Contains((m.Item1, m.Item2), CurveNests.Places(known)));
    }

    [Property(MaxTest = 30)]
    public void Expectation_maximisation_from_equal_masses_goes_where_the_curve_is((byte, byte, byte)[] seeds)
    {
        if (Known(seeds) is not { } known) return;
        var curve = Curve(known);
        var slow = CurveNests.ExpectationMaximisation(known, 2000);
        Assert.True(CurveNests.Judge(known, slow).LogLikelihood <= curve.LogLikelihood + 1e-9);
        foreach (var (left, right, mass) in slow)
        {
            var found = Masses(curve).Where(m => m.Item1 == left && m.Item2 == right).Sum(m => m.Item3);
            Assert.Equal(mass, found, 5e-3);
        }
    }

    [Property]
    public void Order_of_rows_changes_nothing((byte, byte, byte)[] seeds)
    {
        if (Known(seeds) is not { } known) return;
        var (one, other) = (Curve(known), Curve([.. known.AsEnumerable().Reverse()]));
        Assert.Equal(Masses(one), Masses(other));
        Assert.Equal(one.LogLikelihood, other.LogLikelihood);
    }

    [Property]
    public void A_nest_never_seen_again_changes_nothing((byte, byte, byte)[] seeds)
    {
        if (Known(seeds) is not { } known) return;
        var (one, other) = (Curve(known), Curve([.. known, (0, double.PositiveInfinity, double.NaN)]));
        Assert.Equal(Masses(one), Masses(other));
        Assert.Equal(one.Nests, other.Nests);
    }

    [Property]
    public void A_visit_inside_an_interval_that_ended_in_a_loss_never_raises_the_likelihood((byte, byte, byte)[] seeds, byte which, bool intactThen)
    {
        if (Known(seeds) is not { } known) return;
        var i = which % known.Count;
        var (a, b, t) = known[i];
        if (double.IsPositiveInfinity(b) || !double.IsNaN(t)) return;
        var before = Curve(known).LogLikelihood;
        known[i] = intactThen ? ((a + b) / 2, b, t) : (a, (a + b) / 2, t);
        Assert.True(Curve(known).LogLikelihood <= before + 1e-9);
    }

    [Property]
    public void Every_nest_twice_leaves_the_curve((byte, byte, byte)[] seeds)
    {
        if (Known(seeds) is not { } known) return;
        var (one, two) = (Curve(known), Curve([.. known, .. known]));
        foreach (var day in Enumerable.Range(0, 48))
        {
            Assert.Equal(one.At(day).Low, two.At(day).Low, 1e-8);
            Assert.Equal(one.At(day).High, two.At(day).High, 1e-8);
        }
    }
}

public class TurnbullChecks
{
    public static TheoryData<string, string, bool> Sets => new(
        from set in new[] { "tiny20", "typical144", "separation120", "all_survive48", "strong600", "sparse10k" }
        from cameras in new[] { false, true }
        from cover in new[] { "all", "grass", "cactus" }
        where !cameras || set is "typical144" or "strong600"
        select (set, cover, cameras));

    [Theory]
    [MemberData(nameof(Sets))]
    public void Reference_seasons_are_met(string set, string cover, bool cameras)
    {
        var nests = cover == "all" ? ReferenceSeason.Whole(set, cameras) : ReferenceSeason.ByCover(set, cameras)[cover];
        var expected = ReferenceSeason.Block(set, "expected.json", cameras ? "turnbull_exact_mixture" : "turnbull").GetProperty(cover);
        var curve = Turnbull.CurveFrom(nests).Value;
        Assert.Equal(expected.GetProperty("nests").GetInt32(), curve.Nests);
        Assert.Equal(expected.GetProperty("loglik").GetDouble(), curve.LogLikelihood, 1e-8 * Math.Max(1, Math.Abs(curve.LogLikelihood)));
        // The reference creeps towards masses of 0 and stops on the way: what it leaves there is no mass.
        var support = Numbers(expected.GetProperty("mass")).Select((m, j) => (Mass: m, j)).Where(x => x.Mass > 1e-9).ToArray();
        Assert.Equal(support.Select(x => Numbers(expected.GetProperty("support_left"))[x.j]), curve.Left);
        Assert.Equal(support.Select(x => Numbers(expected.GetProperty("support_right"))[x.j]), curve.Right.Select(r => r ?? -1));
        Assert.All(support.Zip(curve.Mass), x => Assert.Equal(x.First.Mass, x.Second, 1e-8));
        foreach (var day in expected.GetProperty("S_at_days").EnumerateArray()) Same(day.GetProperty("S"), curve.At(day.GetProperty("day").GetDouble()));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void The_cosmesis_curves_are_met(int treatment)
    {
        var curve = Turnbull.CurveFrom(CurveNests.Of([.. Rows("cosmesis.csv").Where(r => r[2] == treatment).Select(r => (r[0], double.IsNaN(r[1]) ? double.PositiveInfinity : r[1], double.NaN))])).Value;
        var expected = Rows("cosmesis_npmle.csv").Where(r => r[0] == treatment).ToArray();
        Assert.Equal(expected.Select(r => r[1]), curve.Left);
        Assert.Equal(expected.Select(r => r[2]), curve.Right.Select(r => r ?? double.PositiveInfinity));
        Assert.All(expected.Select((r, j) => (r[3], j)), x => Assert.Equal(x.Item1, curve.Mass[x.j], 1e-12));
        Assert.Equal(PublishedValues.Of("cosmesis.trt" + treatment, "log-likelihood"), curve.LogLikelihood, 1e-9);
        foreach (var right in curve.Right)
        {
            if (right is { } day) Assert.Equal(PublishedValues.Of("cosmesis.trt" + treatment, string.Create(CultureInfo.InvariantCulture, $"S at {day} EM")), curve.At(day).Low, 1e-12);
        }
    }

    private static void Same(JsonElement expected, CurveValue found)
    {
        Assert.Equal(expected.ValueKind != JsonValueKind.Null, found.IsDefined);
        if (found.IsDefined) Assert.Equal(expected.GetDouble(), found.Low, 1e-8);
    }

    private static double[] Numbers(JsonElement one) => one.ValueKind == JsonValueKind.Array ? [.. one.EnumerateArray().Select(e => e.GetDouble())] : [one.GetDouble()];

    private static double[][] Rows(string file) => [.. Checks.Read("published-values", Path.Combine("data", file)).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
        .Select(line => line.Split(',').Select(Number).ToArray())];

    private static double Number(string cell) => cell.Trim() switch
    {
        "" => double.NaN,
        "Inf" => double.PositiveInfinity,
        var number => double.Parse(number, CultureInfo.InvariantCulture),
    };
}
