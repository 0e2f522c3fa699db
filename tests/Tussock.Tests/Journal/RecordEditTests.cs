using Tussock.Journal;
using Tussock.Records;
using Xunit;

namespace Tussock.Tests.Journal;

public sealed class RecordEditTests
{
    private static readonly Guid First = new("01900000-0000-7000-8000-000000000001"), Second = new("01900000-0000-7000-8000-000000000002"), Record = new("01900000-0000-7000-8000-0000000000aa");

    private static RecordState Now(params Head[] note) => new(Guid.Empty, "visits", Record, true, [new FieldState("finding", [new Head(First, "intact")]), new FieldState("note", [.. note])]);

    private static RecordEdit Edit(RecordState now, params EditedField[] fields) => RecordEdit.Of(RecordKind.Visits, now, fields);

    [Fact]
    public void Only_what_the_form_changed_is_written_and_it_replaces_the_heads_that_were_shown()
    {
        var edit = Edit(Now(new Head(First, "a")), new("finding", "intact", "intact", [First]), new("note", "a", " b ", [First]));
        var field = Assert.Single(edit.Draft!.Fields);
        Assert.Equal(("note", "b", First), (field.Name, field.Value, Assert.Single(field.Replaces)));
        Assert.Null(Edit(Now(new Head(First, "a")), new EditedField("note", "a", "a", [First])).Draft);
    }

    [Fact]
    public void A_value_that_somebody_else_wrote_meanwhile_is_never_overwritten_unseen()
    {
        var edit = Edit(Now(new Head(Second, "theirs")), new EditedField("note", "a", "mine", [First]));
        Assert.Null(edit.Draft);
        Assert.Equal("theirs", Assert.Single(edit.Stale).Now!.Value);
        Assert.Empty(Edit(Now(new Head(Second, "mine")), new EditedField("note", "a", "mine", [First])).Stale);
    }

    [Fact]
    public void Settling_replaces_every_head_even_with_the_value_that_was_shown()
    {
        var edit = Edit(Now(new Head(First, "a"), new Head(Second, "b")), new EditedField("note", "b", "b", [First, Second], Settles: true));
        Assert.Equal([First, Second], Assert.Single(edit.Draft!.Fields).Replaces);
    }

    [Theory]
    [InlineData("Intact", "intact")]
    [InlineData("Not relocated", "not_relocated")]
    public void A_list_that_shows_a_token_in_its_own_spelling_changes_nothing(string written, string shown)
    {
        Assert.Null(Edit(Now(new Head(First, "a")), new EditedField("finding", written, shown, [First])).Draft);
        Assert.NotNull(Edit(Now(new Head(First, "a")), new EditedField("finding", written, "depredated", [First])).Draft);
    }

    [Fact]
    public void One_cell_that_cannot_be_read_keeps_all_of_it_from_being_written()
    {
        var edit = Edit(Now(new Head(First, "a")), new("note", "a", "b", [First]), new("finding", "intact", "eaten", [First]), new("own column", "", "x", []));
        Assert.Null(edit.Draft);
        Assert.Equal("finding", Assert.Single(edit.Unreadable).Column);
    }
}
