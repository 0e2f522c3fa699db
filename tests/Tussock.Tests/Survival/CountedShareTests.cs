using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Survival;

public class CountedShareTests
{
    private static CountedShare Day28(params IEnumerable<NestRow> rows) => CountedShare.Of(NestRows.Spans(rows), Trial.Usual, TrialDay.End);

    [Fact]
    public void Two_lines_worked_by_hand()
    {
        // p = 5/8; residuals 1 − 4·5/8 = −1.5 and 4 − 4·5/8 = 1.5; v = 2/1·4.5/64; t(1) = 12.7062.
        var share = Day28([.. NestRows.Line(0, 1, 3), .. NestRows.Line(1, 4, 0)]);
        Assert.Equal(5, share.Survived);
        Assert.Equal(3, share.Lost);
        Assert.Equal(0.625, share.Share.Value);
        Near.Is(0.375, share.Share.Se, 1e-14);
        Near.Is(1 / (1 + Math.Exp(-(Math.Log(5 / 3.0) - 12.706204736432095 * 0.375 / (0.625 * 0.375)))), share.Share.Low, 1e-8);
        Near.Is(8 / (0.140625 / (0.625 * 0.375 / 8)), share.EffectiveNests.Value, 1e-12);
        Assert.Contains(share.Share.Notes, n => n.Key == "counted.few_lines");
    }

    [Fact]
    public void Lines_with_the_same_share_fall_back_to_exact_limits_though_floating_point_would_see_a_difference()
    {
        var share = Day28([.. NestRows.Line(0, 1, 2), .. NestRows.Line(1, 2, 4), .. NestRows.Line(2, 3, 6), .. NestRows.Line(3, 7, 14)]);
        Assert.Equal("counted share, Clopper-Pearson", share.Share.Method);
        Assert.Equal(ClopperPearson.Limits(13, 39), (share.Share.Low!.Value, share.Share.High!.Value));
        Near.Is(39, share.EffectiveNests.Value, 1e-12);
    }

    [Fact]
    public void One_line_gives_the_score_interval_and_says_that_clustering_is_ignored()
    {
        var share = Day28(NestRows.Line(0, 3, 2));
        Assert.Equal(Wilson.Limits(3, 5), (share.Share.Low!.Value, share.Share.High!.Value));
        Assert.Contains("ignore clustering", Catalogue.English.Say(share.Share.Notes.Single()));
        Assert.False(share.EffectiveNests.HasValue);
    }

    [Fact]
    public void All_survive_and_none_survive_reach_the_ends_exactly()
    {
        var all = Day28([.. NestRows.Line(0, 4, 0), .. NestRows.Line(1, 5, 0)]).Share;
        var none = Day28([.. NestRows.Line(0, 0, 4), .. NestRows.Line(1, 0, 5)]).Share;
        Assert.Equal((1, 1), (all.Value, all.High));
        Assert.Equal((0, 0), (none.Value, none.Low));
    }

    [Fact]
    public void Lines_more_alike_than_chance_show_the_independent_limits_too()
    {
        var share = Day28([.. NestRows.Line(0, 3, 2), .. NestRows.Line(1, 3, 3), .. NestRows.Line(2, 3, 2), .. NestRows.Line(3, 3, 3)]);
        var (low, high) = Wilson.Limits(12, 22);
        Assert.Contains(Phrase.Of("counted.narrower_than_independent", ("low", low), ("high", high)), share.Share.Notes);
        Near.Is(22, share.EffectiveNests.Value, 1e-12);
    }

    [Fact]
    public void Very_different_lines_show_the_mean_of_their_shares_and_say_when_it_differs()
    {
        var far = Day28([.. NestRows.Line(0, 9, 1), .. NestRows.Line(1, 1, 2), .. NestRows.Line(2, 2, 2), .. NestRows.Line(3, 1, 3)]);
        var near = Day28([.. NestRows.Line(0, 5, 5), .. NestRows.Line(1, 2, 2), .. NestRows.Line(2, 3, 2), .. NestRows.Line(3, 1, 2)]);
        var alike = Day28([.. NestRows.Line(0, 4, 1), .. NestRows.Line(1, 1, 2), .. NestRows.Line(2, 3, 3)]);
        Assert.Contains(far.Share.Notes, n => n.Key == "counted.mean_of_lines_differs");
        Assert.Contains(near.Share.Notes, n => n.Key == "counted.mean_of_lines");
        Assert.DoesNotContain(alike.Share.Notes, n => n.Key.StartsWith("counted.mean_of_lines", StringComparison.Ordinal));
    }

    [Fact]
    public void A_line_without_a_known_fate_is_not_counted_as_a_line()
    {
        var share = Day28([.. NestRows.Line(0, 3, 2), .. NestRows.Line(1, 0, 0, never: 4)]);
        Assert.Equal(1, share.Lines);
        Assert.Equal(9, share.Nests);
        Assert.Equal(3 / 9.0, share.IfUnknownLost.Value);
        Assert.Equal(7 / 9.0, share.IfUnknownSurvived.Value);
    }

    [Fact]
    public void Checks_made_too_late_take_the_share_away_and_name_the_day()
    {
        NestRow[] rows = [.. NestRows.Line(0, 8, 2), .. NestRows.Line(1, 8, 1), new NestRow(1, 14, 41)];
        var one = Day28(rows);
        var two = Day28([.. rows, .. NestRows.Line(1, 1, 0), new NestRow(0, 14, 33)]);
        Assert.NotNull(one.Share.Value);
        Assert.Equal(1, one.CheckedTooLate);
        Assert.Null(two.Share.Value);
        Assert.Null(two.Share.Low);
        Assert.Contains("last check on day 41", Catalogue.English.Say(two.Share.Why!));
    }

    [Fact]
    public void No_nest_and_no_known_fate_give_a_reason()
    {
        var nothing = CountedShare.Of(NestSpans.Empty, Trial.Usual, TrialDay.End);
        var unknown = Day28(NestRows.Line(0, 0, 0, never: 3));
        Assert.Equal("counted.no_nests", nothing.Share.Why!.Key);
        Assert.False(nothing.IfUnknownLost.HasValue);
        Assert.Equal("The fate at day 28 is known for none of 3 nests.", Catalogue.English.Say(unknown.Share.Why!));
        Assert.Equal((0, 1), (unknown.IfUnknownLost.Value, unknown.IfUnknownSurvived.Value));
    }

    [Theory]
    [InlineData(25, true)]
    [InlineData(27, false)]
    [InlineData(28, false)]
    [InlineData(31, true)]
    public void Last_checks_away_from_the_day_call_for_the_two_piece_estimate(double day, bool called)
    {
        var share = Day28([.. Enumerable.Repeat(new NestRow(0, day), 6), new NestRow(0, 14, day), .. Enumerable.Repeat(new NestRow(0, 0, 14), 12)]);
        Assert.Equal(Math.Abs(day - 28), share.Drift);
        Assert.Equal(called, share.ShouldShowTwoPieceBeside);
    }

    [Fact]
    public void Many_unknown_fates_call_for_the_two_piece_estimate()
    {
        Assert.Equal("counted.unknown", Day28([.. NestRows.Line(0, 9, 9), new NestRow(0, 14)]).WhyTwoPieceBeside!.Key);
        Assert.Null(Day28([.. NestRows.Line(0, 9, 10), new NestRow(0, 14)]).WhyTwoPieceBeside);
        Assert.Equal("counted.drift_and_unknown", Day28([new NestRow(0, 25), new NestRow(0, 14)]).WhyTwoPieceBeside!.Key);
    }

    [Fact]
    public void The_first_check_has_its_own_fates()
    {
        var share = CountedShare.Of(NestRows.Spans(NestRows.Line(0, 3, 2)), Trial.Usual, TrialDay.FirstCheck);
        Assert.Equal((5, 0), (share.Survived, share.Lost));
    }
}

[Properties(Arbitrary = [typeof(InventedNests)])]
public class CountedShareLaws
{
    private static CountedShare Day28(IEnumerable<NestRow> rows) => CountedShare.Of(NestRows.Spans(rows), Trial.Usual, TrialDay.End);

    [Property]
    public void Order_of_rows_changes_nothing(Invented season)
    {
        CountedShare one = Day28(season.Rows), other = Day28(season.Rows.Reverse());
        Assert.Equal((one.Share.Value, one.Survived, one.Lost), (other.Share.Value, other.Survived, other.Lost));
        if (one.Share.Low is { } low) Near.Is(low, other.Share.Low, 1e-12);
        Assert.Equal(one.WhyTwoPieceBeside?.Key, other.WhyTwoPieceBeside?.Key);
    }

    [Property]
    public void The_same_lines_again_under_new_names_shrink_the_interval(Invented season)
    {
        CountedShare one = Day28(season.Rows), two = Day28(NestRows.Twice([.. season.Rows]));
        if (one.Share.Value is null) return;
        Assert.Equal(one.Share.Value, two.Share.Value);
        Assert.True(two.Share.High - two.Share.Low < one.Share.High - one.Share.Low);
    }

    [Property]
    public void Doubling_nests_inside_lines_leaves_the_clustered_standard_error_unchanged(Invented season)
    {
        CountedShare one = Day28(season.Rows), two = Day28(season.Rows.Concat(season.Rows));
        Assert.Equal(one.Share.Method, two.Share.Method);
        if (one.Share.Se is { } se) Near.Is(se, two.Share.Se, 1e-12);
    }

    [Property]
    public void A_nest_never_seen_again_changes_the_extremes_only(Invented season)
    {
        CountedShare one = Day28(season.Rows), more = Day28(season.Rows.Append(new NestRow(0, 0)));
        Assert.Equal((one.Survived, one.Lost, one.Lines), (more.Survived, more.Lost, more.Lines));
        Assert.True(more.IfUnknownLost.Value <= one.IfUnknownLost.Value);
        Assert.True(more.IfUnknownSurvived.Value >= one.IfUnknownSurvived.Value);
    }
}

/// <summary>Against a survey library's ratio of totals: block <c>apparent_survival</c> of the reference seasons.</summary>
public class CountedShareChecks
{
    [Theory]
    [InlineData("all_survive48")]
    [InlineData("separation120")]
    [InlineData("sparse10k")]
    [InlineData("strong600")]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    public void Share_standard_error_and_limits_agree(string set)
    {
        var block = ReferenceSeason.Block(set, "expected.json", "apparent_survival");
        foreach (var (path, spans) in ReferenceSeason.Groups(set).Where(g => !g.Path.StartsWith("pasture", StringComparison.Ordinal)))
        {
            var expected = block.GetProperty(path == "season" ? "all" : path["cover/".Length..]);
            var share = CountedShare.Of(spans, Trial.Usual, TrialDay.End);
            Assert.Equal(expected.GetProperty("survived").GetInt32(), share.Survived);
            Assert.Equal(expected.GetProperty("transects").GetInt32(), share.Lines);
            Near.Is(expected.GetProperty("estimate").GetDouble(), share.Share.Value, 1e-12);
            var clustered = expected.TryGetProperty("cluster_logit_t", out var limits);
            if (!clustered) limits = expected.GetProperty("clopper_pearson");
            if (clustered) Near.Is(expected.GetProperty("cluster_se_linearised").GetDouble(), share.Share.Se, 1e-10);
            Near.Is(limits[0].GetDouble(), share.Share.Low, 1e-8);
            Near.Is(limits[1].GetDouble(), share.Share.High, 1e-8);
            var (low, high) = Wilson.Limits(share.Survived, share.Survived + share.Lost);
            Near.Is(expected.GetProperty("wilson")[0].GetDouble(), low, 1e-10);
            Near.Is(expected.GetProperty("wilson")[1].GetDouble(), high, 1e-10);
        }
    }
}
