using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Survival;

public class TwoPieceTests
{
    private static TwoPieceFit Fit(params IEnumerable<NestRow> rows) => TwoPiece.Fit(NestRows.Spans(rows), Trial.Usual);

    [Fact]
    public void Checks_on_the_planned_days_have_a_closed_form()
    {
        // 10 nests: 3 lost by day 14, 2 of the 7 others by day 28.
        var fit = Fit([.. Enumerable.Repeat(new NestRow(0, 0, 14), 2), new NestRow(1, 0, 14), .. NestRows.Line(0, 1, 2), .. NestRows.Line(1, 4, 0)]);
        Near.Is(0.7, fit.S14, 1e-13);
        Near.Is(0.5, fit.S28, 1e-13);
        Near.Is(Math.Log(0.7) / Math.Log(0.5), fit.Phi, 1e-13);
        Near.Is(3 * Math.Log(0.3) + 7 * Math.Log(0.7) + 2 * Math.Log(2 / 7.0) + 5 * Math.Log(5 / 7.0), fit.LogLikelihood, 1e-13);
        Assert.Equal(NewtonStop.Converged, fit.Diary.Stopped);
        Assert.True(fit.Diary.Steps is > 0 and < 20);
    }

    [Fact]
    public void Camera_times_on_both_sides_have_a_closed_form()
    {
        var fit = Fit(new NestRow(0, 0, 14, 14), new NestRow(0, 14, 28, 20), new NestRow(1, 14, T: 16), new NestRow(1, 28));
        Near.Is(1 / 56.0, fit.H1, 1e-12);
        Near.Is(2 / 22.0, fit.H2, 1e-12);
        Near.Is(Math.Log(1 / 56.0) - 1 + 2 * Math.Log(2 / 22.0) - 2, fit.LogLikelihood, 1e-12);
    }

    [Fact]
    public void Nothing_lost_gives_1_without_limits()
    {
        var fit = Fit(new NestRow(0, 28), new NestRow(1, 28));
        Assert.Equal((0, 0, 1, 1, 0, 0.5), (fit.H1, fit.H2, fit.S14, fit.S28, fit.LogLikelihood, fit.Phi));
        Assert.Null(fit.LikelihoodRatio);
        Assert.Equal("twopiece.nothing_lost", fit.Survival28.Why!.Key);
        var daily = TwoPiece.DailySurvivalByFortnight(NestRows.Spans(new NestRow(0, 28), new NestRow(1, 28)), Trial.Usual);
        Near.Is(Math.Exp(-1.9207294103470658 / 28), daily[0].Low, 1e-9);
        Near.Is(Math.Exp(-1.9207294103470658 / 28), daily[1].Low, 1e-9);
        Assert.Equal((1, 1), (daily[0].High, daily[1].High));
    }

    [Fact]
    public void Nothing_seen_gives_a_reason()
    {
        var fit = Fit(new NestRow(0, 0));
        Assert.Equal((TwoPieceShape.NoVisit, null, null), (fit.Shape, fit.Phi, fit.S28));
        Assert.Equal("twopiece.no_visit", fit.Survival28.Why!.Key);
        Assert.Equal("twopiece.no_visit", TwoPiece.Fit(NestSpans.Empty, Trial.Usual).Survival28.Why!.Key);
    }

    [Fact]
    public void Nests_watched_to_the_first_check_only_tell_nothing_of_the_second_hazard()
    {
        NestRow[] rows = [new NestRow(0, 14), new NestRow(0, 0, 14), new NestRow(1, 13)];
        var fit = Fit(rows);
        Assert.Equal(TwoPieceShape.SecondNotWatched, fit.Shape);
        Assert.NotNull(fit.S14);
        Assert.Null(fit.S28);
        Assert.Equal(0.5, fit.Phi);
        Assert.Contains("after day 14", Catalogue.English.Say(fit.Survival28.Why!));
        var daily = TwoPiece.DailySurvivalByFortnight(NestRows.Spans(rows), Trial.Usual);
        Near.Is(Math.Exp(-fit.H1!.Value), daily[0].Value, 1e-12);
        Assert.Equal("twopiece.second_not_watched", daily[1].Why!.Key);
    }

    [Fact]
    public void Nests_all_lost_at_their_first_visit_after_the_first_check_have_survival_0()
    {
        NestRow[] rows = [new NestRow(0, 14, 28), new NestRow(0, 0, 14), new NestRow(1, 13, 28)];
        var fit = Fit(rows);
        Assert.Equal((TwoPieceShape.AtInfinity, 0, null, 0.5), (fit.Shape, fit.S28, fit.H2, fit.Phi));
        Assert.Null(fit.Survival28.Low);
        Assert.Equal(0, fit.Survival28.Value);
        var daily = TwoPiece.DailySurvivalByFortnight(NestRows.Spans(rows), Trial.Usual);
        Assert.Equal((0, 0), (daily[1].Value, daily[1].Low));
        Assert.InRange(daily[1].High!.Value, 0.5, 1);
        Near.Is(Math.Exp(-fit.H1!.Value), daily[0].Value, 1e-12);
    }

    [Fact]
    public void Nests_all_found_lost_at_day_28_leave_both_hazards_open_but_survival_is_0()
    {
        NestRow[] rows = [new NestRow(0, 0, 28), new NestRow(1, 0, 28)];
        var fit = Fit(rows);
        Assert.Equal((0, null, null, null), (fit.S28, fit.H1, fit.H2, fit.S14));
        Assert.All(TwoPiece.DailySurvivalByFortnight(NestRows.Spans(rows), Trial.Usual), d => Assert.Equal("twopiece.not_told_apart", d.Why!.Key));
    }

    [Fact]
    public void Checks_at_day_28_alone_give_survival_but_not_its_two_halves()
    {
        NestRow[] rows = [.. Enumerable.Repeat(new NestRow(0, 28), 5), new NestRow(0, 0, 28), new NestRow(1, 28), .. Enumerable.Repeat(new NestRow(1, 0, 28), 3)];
        var fit = Fit(rows);
        Assert.Equal((TwoPieceShape.NotToldApart, null, null, 0.5), (fit.Shape, fit.H1, fit.H2, fit.Phi));
        Near.Is(0.6, fit.S28, 1e-12);
        Assert.NotNull(fit.Survival28.Low);
        Assert.Contains(fit.Survival28.Notes, n => n.Key == "twopiece.not_told_apart");
    }

    [Fact]
    public void A_fortnight_without_loss_leaves_no_clustered_limits_and_shows_those_with_it_taken_as_known()
    {
        var fit = Fit([.. Enumerable.Repeat(new NestRow(0, 0, 14), 2), .. NestRows.Line(0, 3, 0), .. NestRows.Line(1, 5, 0), new NestRow(1, 0, 14)]);
        Assert.Equal(0, fit.H2);
        Assert.Equal("twopiece.zero_hazard", fit.Survival28.Why!.Key);
        Assert.NotNull(fit.ZeroHazardHeld);
        Assert.Contains(fit.Survival28.Notes, n => n.Key == "twopiece.zero_held");
    }

    [Fact]
    public void One_line_and_lines_alike_leave_no_limits()
    {
        NestRow[] line = [new NestRow(0, 0, 14), .. NestRows.Line(0, 2, 1)];
        Assert.Equal("twopiece.one_line", Fit(line).Survival28.Why!.Key);
        Assert.Equal("twopiece.lines_alike", Fit(NestRows.Twice(line)).Survival28.Why!.Key);
    }

    [Fact]
    public void A_trial_that_is_none_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => TwoPiece.Fit(NestSpans.Empty, new Trial(28, 28, 3)));

    [Theory]
    [InlineData(0.01, 0.03)]
    [InlineData(0.2, 0.004)]
    [InlineData(1e-4, 2)]
    public void Likelihood_score_and_information_agree_with_the_slow_version_away_from_the_maximum(double h1, double h2)
    {
        var spans = NestRows.Spans(new NestRow(0, 28), new NestRow(0, 13, 29), new NestRow(0, 0, 15), new NestRow(1, 0, 28), new NestRow(1, 15, 30, 17.5), new NestRow(1, 0, 14, 9), new NestRow(1, 41));
        var fast = PieceLikelihood.From(spans, 14);
        Near.Is(Slow(spans, h1, h2), fast.LogLikelihood(h1, h2), 1e-12);
        double e1 = 1e-5 * h1, e2 = 1e-5 * h2;
        var s = fast.At(h1, h2);
        Near.Is((Slow(spans, h1 + e1, h2) - Slow(spans, h1 - e1, h2)) / (2 * e1), s.G1, 1e-6, 10);
        Near.Is((Slow(spans, h1, h2 + e2) - Slow(spans, h1, h2 - e2)) / (2 * e2), s.G2, 1e-6, 10);
        Near.Is(-(fast.At(h1 + e1, h2).G1 - fast.At(h1 - e1, h2).G1) / (2 * e1), s.I11, 1e-6);
        Near.Is(-(fast.At(h1, h2 + e2).G1 - fast.At(h1, h2 - e2).G1) / (2 * e2), s.I12, 1e-5, 1e-3);
        Near.Is(-(fast.At(h1, h2 + e2).G2 - fast.At(h1, h2 - e2).G2) / (2 * e2), s.I22, 1e-6, 1e-3);
    }

    [Fact]
    public void Line_scores_are_the_slopes_of_the_slow_version_line_by_line()
    {
        const double h1 = 0.03, h2 = 0.05, e = 1e-6;
        NestRow[] rows = [new NestRow(0, 28), new NestRow(0, 0, 14, 9), new NestRow(1, 15, 30, 17.5), new NestRow(1, 0, 28), new NestRow(2, 13, 29), new NestRow(2, 0), new NestRow(3, 0, 15)];
        double s11 = 0, s12 = 0, s22 = 0;
        foreach (var line in rows.GroupBy(r => r.Line))
        {
            var spans = NestRows.Spans(line);
            double u1 = (Slow(spans, h1 + e, h2) - Slow(spans, h1 - e, h2)) / (2 * e), u2 = (Slow(spans, h1, h2 + e) - Slow(spans, h1, h2 - e)) / (2 * e);
            (s11, s12, s22) = (s11 + u1 * u1, s12 + u1 * u2, s22 + u2 * u2);
        }

        var all = NestRows.Spans(rows);
        var found = PieceLikelihood.From(all, 14).LineScores(all, h1, h2);
        Near.Is(s11, found.S11, 1e-6);
        Near.Is(s12, found.S12, 1e-6);
        Near.Is(s22, found.S22, 1e-6);
    }

    /// <summary>Nest by nest, from survival functions.</summary>
    internal static double Slow(NestSpans spans, double h1, double h2)
    {
        double H(double day) => h1 * Math.Min(day, 14) + h2 * Math.Max(day - 14, 0);
        var sum = 0.0;
        for (var i = 0; i < spans.Count; i++)
        {
            double a = spans.LastIntact[i], b = spans.FirstLost[i], t = spans.LostAt[i];
            sum += !double.IsNaN(t) ? Math.Log(t <= 14 ? h1 : h2) - H(t) : double.IsFinite(b) ? Math.Log(Math.Exp(-H(a)) - Math.Exp(-H(b))) : -H(a);
        }

        return sum;
    }
}

[Properties(Arbitrary = [typeof(InventedNests)])]
public class TwoPieceLaws
{
    [Property]
    public void No_point_nearby_is_better_than_the_maximum(Invented season)
    {
        var fit = TwoPiece.Fit(season.Spans, Trial.Usual);
        if (fit is not { Shape: TwoPieceShape.Found, H1: { } h1, H2: { } h2 }) return;
        foreach (var (f1, f2) in new[] { (1.001, 1), (0.999, 1), (1, 1.001), (1, 0.999), (1.001, 0.999), (0.999, 1.001) })
        {
            double x1 = h1 == 0 ? Math.Max(0, f1 - 1) * 1e-3 : h1 * f1, x2 = h2 == 0 ? Math.Max(0, f2 - 1) * 1e-3 : h2 * f2;
            if (x1 + x2 > 0) Assert.False(TwoPieceTests.Slow(season.Spans, x1, x2) > fit.LogLikelihood + 1e-10);
        }
    }

    [Property]
    public void Order_of_rows_and_nests_never_seen_again_change_nothing(Invented season)
    {
        TwoPieceFit one = TwoPiece.Fit(season.Spans, Trial.Usual), other = TwoPiece.Fit(NestRows.Spans(season.Rows.Reverse().Append(new NestRow(9, 0))), Trial.Usual);
        Assert.Equal((one.Shape, one.NestsUsed, one.Lines, one.Lost), (other.Shape, other.NestsUsed, other.Lines, other.Lost));
        Near.Is(one.LogLikelihood!.Value, other.LogLikelihood, 1e-11, 1);
        Assert.Equal(one.S28.HasValue, other.S28.HasValue);
        if (one.S28 is { } survival) Near.Is(survival, other.S28, 1e-9);
        if (one.Limits.HasValue) Near.Is(one.Limits.Value.SeLogH28, other.Limits.Value.SeLogH28, 1e-6);
    }

    [Property]
    public void The_same_lines_again_under_new_names_shrink_the_interval(Invented season)
    {
        TwoPieceFit one = TwoPiece.Fit(season.Spans, Trial.Usual), two = TwoPiece.Fit(NestRows.Spans(NestRows.Twice([.. season.Rows])), Trial.Usual);
        Assert.Equal(one.Shape, two.Shape);
        if (one.S28 is { } survival) Near.Is(survival, two.S28, 1e-9);
        if (one.Limits.HasValue) Assert.True(two.Limits.Value.High - two.Limits.Value.Low < one.Limits.Value.High - one.Limits.Value.Low);
    }

    [Property]
    public void Doubling_nests_inside_lines_leaves_the_clustered_standard_error_unchanged(Invented season)
    {
        TwoPieceFit one = TwoPiece.Fit(season.Spans, Trial.Usual), two = TwoPiece.Fit(NestRows.Spans(season.Rows.Concat(season.Rows)), Trial.Usual);
        Assert.Equal(one.Limits.HasValue, two.Limits.HasValue);
        if (one.Limits.HasValue) Near.Is(one.Limits.Value.SeLogH28, two.Limits.Value.SeLogH28, 1e-7);
    }

    [Property]
    public void Splitting_an_interval_that_ended_in_a_loss_never_raises_the_likelihood(Invented season, byte cut)
    {
        const double h1 = 0.02, h2 = 0.05;
        var split = season.Rows.Select(r => double.IsFinite(r.B) && double.IsNaN(r.T) ? r with { A = r.A + (r.B - r.A) * cut / 256 } : r);
        Assert.True(PieceLikelihood.From(NestRows.Spans(split), 14).LogLikelihood(h1, h2) <= PieceLikelihood.From(season.Spans, 14).LogLikelihood(h1, h2) + 1e-12);
    }

    [Property]
    public void Fortnightly_limits_hold_the_estimate_and_end_where_the_profile_has_fallen(Invented season)
    {
        var fit = TwoPiece.Fit(season.Spans, Trial.Usual);
        var daily = TwoPiece.DailySurvivalByFortnight(season.Spans, Trial.Usual);
        if (fit.Shape != TwoPieceShape.Found) return;
        Near.Is(fit.S28!.Value, Math.Pow(daily[0].Value!.Value * daily[1].Value!.Value, 14), 1e-9);
        Assert.All(daily, d => Assert.True(d.Low <= d.Value && d.Value <= d.High));
        var likelihood = PieceLikelihood.From(season.Spans, 14);
        var h = -Math.Log(daily[0].Low!.Value);
        var profile = Enumerable.Range(0, 2001).Max(i => likelihood.LogLikelihood(h, Math.Exp(-16 + i * 0.01)));
        Near.Is(fit.LogLikelihood!.Value - 1.9207294103470658, profile, 1e-4, 1);
    }
}

/// <summary>Against a plain, slow script: block <c>two_piece</c> of <c>extra.json</c> in the reference seasons.</summary>
public class TwoPieceChecks
{
    public static TheoryData<string> Sets() => ["all_survive48", "separation120", "strong600", "tiny20", "typical144"];

    [Theory]
    [MemberData(nameof(Sets))]
    public void The_whole_record_of_the_fit_agrees_for_season_pastures_and_covers(string set)
    {
        var block = ReferenceSeason.Block(set, "extra.json", "two_piece");
        foreach (var (path, spans) in ReferenceSeason.Groups(set))
        {
            var expected = block.At(path);
            var fit = TwoPiece.Fit(spans, Trial.Usual);
            Assert.Equal(expected.GetProperty("nests_used").GetInt32(), fit.NestsUsed);
            Assert.Equal(expected.GetProperty("transects").GetInt32(), fit.Lines);
            Assert.Equal(expected.GetProperty("lost").GetInt32(), fit.Lost);
            Same("h1", fit.H1, 1e-8);
            Same("h2", fit.H2, 1e-8);
            Same("S14", fit.S14, 1e-8);
            Same("S28", fit.S28, 1e-8);
            Same("phi", fit.Phi, 1e-8);
            Same("loglik", fit.LogLikelihood, 1e-10);
            Same("lr", fit.LikelihoodRatio, 1e-7);
            Same("lr_p", fit.LikelihoodRatioP, 1e-7);
            Same("se_log_H28", fit.Limits.HasValue ? fit.Limits.Value.SeLogH28 : null, 1e-8);
            Same("S28_low", fit.Survival28.Low, 1e-6, 1e-9);
            Same("S28_high", fit.Survival28.High, 1e-6);
            Assert.Equal(expected.TryGetProperty("zero_hazard_held", out var held), fit.ZeroHazardHeld is not null);
            if (fit.ZeroHazardHeld is { } zero) Near.Is(held.GetProperty("S28_low").GetDouble(), zero.Low, 1e-6);

            void Same(string name, double? found, double tolerance, double floor = 0)
            {
                var value = expected.GetProperty(name);
                if (value.ValueKind == System.Text.Json.JsonValueKind.Null) Assert.Null(found);
                else Near.Is(value.GetDouble(), found, tolerance, floor);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void With_camera_times_the_maximum_still_has_no_slope(string set)
    {
        foreach (var (_, spans) in ReferenceSeason.Groups(set, cameras: true))
        {
            var fit = TwoPiece.Fit(spans, Trial.Usual);
            if (fit is not { Shape: TwoPieceShape.Found, H1: > 0, H2: > 0 }) continue;
            var slopes = PieceLikelihood.From(spans, 14).At(fit.H1.Value, fit.H2.Value);
            Near.Is(0, slopes.G1 * fit.H1, 1e-10, fit.Lost);
            Near.Is(0, slopes.G2 * fit.H2, 1e-10, fit.Lost);
            Near.Is(TwoPieceTests.Slow(spans, fit.H1.Value, fit.H2.Value), fit.LogLikelihood, 1e-11);
        }
    }
}
