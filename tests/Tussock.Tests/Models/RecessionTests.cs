using Tussock.Models;
using Xunit;

namespace Tussock.Tests.Models;

public class RecessionTests
{
    private static readonly Interval[] Both = [new("a", [1, 0], 14, false), new("a", [1, 0], 14, true), new("b", [1, 1], 14, false), new("b", [1, 1], 14, true)];

    private static sbyte[]? Signs(Link link, double[] direction, params IEnumerable<Interval> rows) =>
        Recession.Signs(EffectColumns.Of(NestTables.Of(["(Intercept)", "cactus"], rows), [0, 1]), link, direction);

    [Fact]
    public void A_class_with_a_loss_and_a_survival_lies_along_no_such_direction()
    {
        foreach (var link in new[] { Link.LogHazard, Link.DailyLogit })
            foreach (var direction in new double[][] { [0, 1], [0, -1], [1, 0], [-1, 0], [0.5, 0.5], [0.5, -0.5] }) Assert.Null(Signs(link, direction, Both));
    }

    [Fact]
    public void Each_of_watched_days_and_losses_allows_one_way_only()
    {
        // Scaled cactus is ±1 where classes are watched alike: (1, 1)/2 moves cactus nests alone.
        Interval[] whole = [.. Both[..2], Both[2], Both[2] with { Group = "c" }], lost = [.. Both[..2], Both[3], Both[3] with { Group = "c" }];
        Assert.Equal([0, -1], Signs(Link.LogHazard, [-0.5, -0.5], whole)!.Take(2).Select(s => (int)s));
        Assert.Null(Signs(Link.LogHazard, [0.5, 0.5], whole));
        Assert.Null(Signs(Link.DailyLogit, [-0.5, -0.5], whole));
        Assert.Equal([0, 1], Signs(Link.LogHazard, [0.5, 0.5], lost)!.Take(2).Select(s => (int)s));
        Assert.Null(Signs(Link.LogHazard, [-0.5, -0.5], lost));
        Assert.Equal([0, 1], Signs(Link.DailyLogit, [-0.5, -0.5], lost)!.Take(2).Select(s => (int)s));
    }

    [Fact]
    public void A_timed_loss_holds_its_pattern_still()
    {
        var maker = new ModelTableMaker(["(Intercept)", "cactus"]);
        maker.Group("a");
        var grass = maker.Pattern([1, 0]);
        maker.Watched(grass, 14);
        maker.LostWithin(grass, 14);
        var cactus = maker.Pattern([1, 1]);
        maker.Watched(cactus, 28);
        var whole = EffectColumns.Of(maker.Table(), [0, 1]);
        Assert.NotNull(Recession.Signs(whole, Link.LogHazard, [-0.5, -0.5]));
        maker.LostAt(cactus);
        Assert.Null(Recession.Signs(EffectColumns.Of(maker.Table(), [0, 1]), Link.LogHazard, [-0.5, -0.5]));
    }
}
