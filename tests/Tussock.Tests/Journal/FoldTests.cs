using System.Collections.Immutable;
using FsCheck.Xunit;
using Tussock.Journal;
using Xunit;

namespace Tussock.Tests.Journal;

/// <summary>Changes made up for tests: small numbers for ids.</summary>
internal static class Made
{
    internal static readonly Guid Season = new("00000000-0000-0000-0000-0000000000aa");

    internal static Guid Id(int n) => new(n, 0, 0, [0, 0, 0, 0, 0, 0, 0, 0]);

    internal static Change Change(int id, int record, ChangeOp op, params FieldChange[] fields) => new()
    {
        Id = Id(id),
        Batch = Id(1),
        Device = "phone",
        DeviceSeq = id,
        Season = Season,
        Kind = "nests",
        Record = Id(1000 + record),
        Op = op,
        Fields = [.. fields],
        By = "Ann",
        SaidAt = DateTimeOffset.UnixEpoch.AddDays(100 - id),
        CameAt = DateTimeOffset.UnixEpoch,
    };

    internal static FieldChange Field(string name, string value, params int[] replaces) => new(name, value, [.. replaces.Select(Id)]);

    /// <summary>A set of changes from numbers: several devices that see, replace, or miss what others wrote.</summary>
    internal static ImmutableArray<Change> Journal(IEnumerable<int> numbers)
    {
        var changes = ImmutableArray.CreateBuilder<Change>();
        foreach (var number in numbers)
        {
            var n = Math.Abs((long)number);
            var id = changes.Count + 1;
            var record = (int)(n % 3);
            var name = ((n / 3) % 3) switch { 0 => "cover", 1 => "note", _ => FieldName.Void };
            var seen = changes.Where(c => c.Record == Id(1000 + record) && c.Fields.Any(f => f.Name == name) && (n / 9 + c.DeviceSeq) % 2 == 0).Select(c => (int)c.DeviceSeq).ToArray();
            var op = (n / 27) % 3 == 0 ? ChangeOp.Create : ChangeOp.Set;
            changes.Add(Change(id, record, op, Field(name, (n / 81 % 4).ToString(System.Globalization.CultureInfo.InvariantCulture), seen)));
        }

        return changes.ToImmutable();
    }
}

public sealed class FoldTests
{
    [Fact]
    public void The_last_to_replace_a_value_gives_the_value_whatever_its_clock_said()
    {
        var record = Fold.Record([Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass")), Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 1))]);
        Assert.Equal("shrub", record.Field("cover")!.Value);
        Assert.False(record.Field("cover")!.IsConflict);
    }

    [Fact]
    public void A_lower_id_wins_when_it_replaces_the_greater_one()
    {
        var record = Fold.Record([Made.Change(9, 1, ChangeOp.Create, Made.Field("cover", "grass")), Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 9))]);
        Assert.Equal("shrub", record.Field("cover")!.Value);
    }

    [Fact]
    public void Two_who_did_not_see_each_other_make_a_conflict_and_both_are_kept()
    {
        var field = Fold.Record([
            Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass")),
            Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 1)),
            Made.Change(3, 1, ChangeOp.Set, Made.Field("cover", "cactus", 1))]).Field("cover")!;
        Assert.True(field.IsConflict);
        Assert.Equal(["shrub", "cactus"], field.Heads.Select(h => h.Value));
        Assert.Equal("cactus", field.Value);
    }

    [Fact]
    public void Two_who_wrote_the_same_are_no_conflict()
    {
        var field = Fold.Record([Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass")), Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "grass"))]).Field("cover")!;
        Assert.False(field.IsConflict);
        Assert.Equal(2, field.Heads.Length);
    }

    [Fact]
    public void A_change_that_replaces_all_heads_settles_a_conflict()
    {
        var field = Fold.Record([
            Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass")),
            Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub")),
            Made.Change(3, 1, ChangeOp.Set, Made.Field("cover", "grass", 1, 2))]).Field("cover")!;
        Assert.False(field.IsConflict);
        Assert.Equal("grass", field.Value);
    }

    [Fact]
    public void A_set_that_comes_before_its_create_waits()
    {
        var set = Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 1));
        Assert.False(Fold.Record([set]).IsCreated);
        var whole = Fold.Record([set, Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass"))]);
        Assert.True(whole.IsCreated);
        Assert.Equal("shrub", whole.Field("cover")!.Value);
    }

    [Fact]
    public void A_record_taken_out_comes_back_with_all_its_values()
    {
        Change[] changes = [Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass")), Made.Change(2, 1, ChangeOp.Void, Made.Field(FieldName.Void, "yes"))];
        Assert.True(Fold.Record(changes).Shown().IsVoid);
        var back = Fold.Record([.. changes, Made.Change(3, 1, ChangeOp.Void, Made.Field(FieldName.Void, "no", 2))]).Shown();
        Assert.False(back.IsVoid);
        Assert.Equal("grass", back.Text("cover"));
    }

    [Fact]
    public void Changes_that_replace_each_other_in_a_ring_still_leave_a_value()
    {
        var field = Fold.Record([Made.Change(1, 1, ChangeOp.Create, Made.Field("cover", "grass", 2)), Made.Change(2, 1, ChangeOp.Set, Made.Field("cover", "shrub", 1))]).Field("cover")!;
        Assert.Equal("shrub", field.Value);
    }
}

public sealed class FoldLaws
{
    [Property(MaxTest = 300)]
    public bool Any_order_gives_the_same_records(int[] numbers, int seed)
    {
        var changes = Made.Journal(numbers);
        return Fold.Records(changes).SequenceEqual(Fold.Records(changes.OrderBy(c => unchecked((uint)(c.DeviceSeq * 2654435761L) ^ (uint)seed))));
    }

    [Property(MaxTest = 300)]
    public bool Any_number_of_copies_gives_the_same_records(int[] numbers) =>
        Fold.Records(Made.Journal(numbers)).SequenceEqual(Fold.Records([.. Made.Journal(numbers), .. Made.Journal(numbers).Reverse()]));

    [Property(MaxTest = 300)]
    public bool Any_pieces_in_any_order_give_the_same_records(int[] numbers, int piece)
    {
        var changes = Made.Journal(numbers);
        var pieces = changes.Chunk((int)(Math.Abs((long)piece) % 5) + 1).Reverse().SelectMany(p => p);
        return Fold.Records(changes).SequenceEqual(Fold.Records(pieces));
    }

    [Property(MaxTest = 300)]
    public bool Every_value_that_nobody_replaced_is_kept(int[] numbers)
    {
        var changes = Made.Journal(numbers);
        var heads = Fold.Records(changes).SelectMany(r => r.Fields.SelectMany(f => f.HeadIds.Select(h => (r.Id, f.Name, h)))).ToHashSet();
        return changes.All(c => c.Fields.All(f => heads.Contains((c.Record, f.Name, c.Id))
            || changes.Any(o => o.Record == c.Record && o.Fields.Any(g => g.Name == f.Name && g.Replaces.Contains(c.Id)))));
    }

    [Property(MaxTest = 300)]
    public bool A_change_that_replaces_all_heads_leaves_one_value(int[] numbers)
    {
        var changes = Made.Journal(numbers);
        return Fold.Records(changes).All(r => r.Fields.All(f =>
            Fold.Record([.. changes.Where(c => c.Record == r.Id), Made.Change(900, 0, ChangeOp.Set, new FieldChange(f.Name, "settled", f.HeadIds)) with { Record = r.Id }]).Field(f.Name)!.Heads is [{ Value: "settled" }]));
    }
}
