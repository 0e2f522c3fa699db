using Tussock.Journal;
using Xunit;

namespace Tussock.Tests.Journal;

public sealed class HistoryTests
{
    private static readonly Change[] Changes =
    [
        Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass"), Made.Field("eggs", "3")),
        Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 1)),
        Made.Change(3, 1, ChangeOp.Set, Made.Field("cover", "cactus", 2)),
    ];

    [Fact]
    public void The_history_of_a_value_has_what_each_step_replaced()
    {
        var steps = History.Of(Changes, "cover");
        Assert.Equal(["grass", "shrub", "cactus"], steps.Select(s => s.Value));
        Assert.Equal(["shrub"], steps[2].Former);
        Assert.Empty(steps[0].Former);
        Assert.Single(History.Of(Changes, "eggs"));
    }

    [Fact]
    public void Undo_writes_the_former_value_and_replaces_the_present_one()
    {
        var undo = History.Undo(Changes, "cover")!;
        var field = Assert.Single(undo.Fields);
        Assert.Equal("shrub", field.Value);
        Assert.Equal([Made.Id(3)], field.Replaces);
        Assert.Equal("shrub", Fold.Record([.. Changes, Made.Change(4, 1, undo.Op, field)]).Field("cover")!.Value);
    }

    [Fact]
    public void Undoing_an_undo_brings_the_value_back()
    {
        Change[] undone = [.. Changes, Made.Change(4, 1, ChangeOp.Set, [.. History.Undo(Changes, "cover")!.Fields])];
        Assert.Equal("cactus", History.Undo(undone, "cover")!.Fields[0].Value);
    }

    [Fact]
    public void A_first_value_and_a_conflict_are_not_undone()
    {
        Assert.Null(History.Undo(Changes, "eggs"));
        Assert.Null(History.Undo(Changes, "no such field"));
        Assert.Null(History.Undo([.. Changes, Made.Change(4, 1, ChangeOp.Set, Made.Field("cover", "bare", 2))], "cover"));
    }
}
