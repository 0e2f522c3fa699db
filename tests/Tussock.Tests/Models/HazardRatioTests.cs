using System.Text.Json;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Tests.Survival;
using Xunit;

namespace Tussock.Tests.Models;

public class HazardRatioTests
{
    [Fact]
    public void A_class_that_no_watched_nest_stood_in_has_a_reason()
    {
        var nests = TwoClasses(NestRows.Spans([.. NestRows.Line(0, 3, 3), .. NestRows.Line(1, 4, 2)]), _ => 0);
        var ratio = Assert.Single(HazardRatio.Of(nests, Trial.Usual));
        Assert.Null(ratio.Value);
        Assert.Equal("hazard_ratio.no_other", ratio.Why!.Key);
    }

    [Fact]
    public void Without_a_nest_in_the_reference_class_there_is_a_reason()
    {
        var nests = TwoClasses(NestRows.Spans([.. NestRows.Line(0, 3, 3), .. NestRows.Line(1, 4, 2)]), _ => 1);
        Assert.Equal("hazard_ratio.no_reference", Assert.Single(HazardRatio.Of(nests, Trial.Usual)).Why!.Key);
    }

    [Fact]
    public void A_class_without_a_loss_has_no_finite_ratio()
    {
        var spans = NestRows.Spans([.. NestRows.Line(0, 6, 4), .. NestRows.Line(1, 7, 3), .. NestRows.Line(2, 6, 4)]);
        var ratio = Assert.Single(HazardRatio.Of(TwoClasses(spans, row => spans.IsLost(row) || row % 2 == 0 ? 0 : 1), Trial.Usual));
        Assert.Null(ratio.Value);
        Assert.NotNull(ratio.Why);
    }

    [Fact]
    public void Nothing_lost_nothing_watched_and_a_single_class_are_said()
    {
        Assert.NotNull(Assert.Single(HazardRatio.Of(TwoClasses(NestRows.Spans([.. NestRows.Line(0, 4, 0)]), row => row % 2), Trial.Usual)).Why);
        Assert.NotNull(Assert.Single(HazardRatio.Of(TwoClasses(NestRows.Spans([.. NestRows.Line(0, 0, 0, 4)]), row => row % 2), Trial.Usual)).Why);
        Assert.Empty(HazardRatio.Of(NestRows.Spans([.. NestRows.Line(0, 4, 2)]), Trial.Usual));
    }

    internal static NestSpans TwoClasses(NestSpans spans, Func<int, int> cover) => new()
    {
        LastIntact = spans.LastIntact, FirstLost = spans.FirstLost, LostAt = spans.LostAt, Line = spans.Line, Transect = spans.Transect, Nest = spans.Nest,
        Cover = [.. Enumerable.Range(0, spans.Count).Select(cover)], Pasture = spans.Pasture, Cause = spans.Cause, Day14 = spans.Day14, Day28 = spans.Day28, LineNames = spans.LineNames, CoverNames = ["grass", "cactus"],
    };
}

public class HazardRatioLaws
{
    [Fact]
    public void Exchanging_the_classes_turns_the_ratio_over()
    {
        var spans = ReferenceSeason.Whole("typical144");
        var one = Assert.Single(HazardRatio.Of(spans, Trial.Usual));
        var other = Assert.Single(HazardRatio.Of(HazardRatioTests.TwoClasses(spans, row => 1 - spans.Cover[row]), Trial.Usual));
        Assert.Equal(one.Value!.Value, 1 / other.Value!.Value, 1e-7);
        Assert.Equal(one.Low!.Value, 1 / other.High!.Value, 1e-6);
    }

    [Fact]
    public void Equal_losses_added_up_or_not_give_the_same_fit()
    {
        var spans = ReferenceSeason.Whole("typical144");
        var table = SpanTable.Of(spans, ["cactus"], (row, x) => x[0] = spans.Cover[row], 14);
        var maker = new ModelTableMaker(["intercept", SpanTable.AfterCut, "cactus"]);
        for (var row = 0; row < spans.Count; row++)
        {
            if (row == 0 || spans.Line[row] != spans.Line[row - 1]) maker.Group(spans.LineNames[spans.Line[row]]);
            if (!spans.IsWatched(row)) continue;
            int p = maker.Pattern([1, 0, spans.Cover[row]]), q = maker.Pattern([1, 1, spans.Cover[row]]);
            double a = spans.LastIntact[row], b = spans.FirstLost[row];
            maker.Watched(p, Math.Min(a, 14));
            maker.Watched(q, Math.Max(a - 14, 0));
            if (double.IsPositiveInfinity(b)) continue;
            double before = Math.Max(0, Math.Min(b, 14) - a), after = b - a - before;
            if (before > 0 && after > 0) maker.LostWithin([(p, before), (q, after)]);
            else maker.LostWithin(before > 0 ? p : q, before + after);
        }

        var one = GroupedFit.Of(table, Link.LogHazard).Value;
        var other = GroupedFit.Of(maker.Table(), Link.LogHazard).Value;
        Assert.Equal(one.LogLikelihood, other.LogLikelihood, 1e-10);
        Assert.Equal(one.Effects[2].Coefficient.Value!.Value, other.Effects[2].Coefficient.Value!.Value, 1e-8);
    }
}

public class HazardRatioChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void As_plain_integration_in_another_language_says(string set)
    {
        using var json = JsonDocument.Parse(Checks.Read("line-intercept-by-integration", "expected.json"));
        var expected = json.RootElement.GetProperty(set + "_hazard");
        var ratio = Assert.Single(HazardRatio.Of(ReferenceSeason.Whole(set), Trial.Usual));
        Assert.Equal(expected.GetProperty("log_ratio").GetDouble(), Math.Log(ratio.Value!.Value), 2e-4);
        Assert.Equal(expected.GetProperty("se").GetDouble(), ratio.Se!.Value / ratio.Value!.Value, 2e-3);
    }
}
