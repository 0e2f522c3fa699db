using System.Collections.Immutable;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Scenes;
using Tussock.Journal;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Sync;

/// <summary>Two phones out of sight of each other both made a nest 9 of line 1: a question for the desk, no stop.</summary>
public sealed class NameTwiceTests : IDisposable
{
    private readonly SceneFolder scene = new("washer");

    public NameTwiceTests() => Typed.Done("import", scene.DataFile, scene.Folder);

    public void Dispose() => scene.Dispose();

    [Theory]
    [InlineData(1, 2)]
    [InlineData(2, 1)]
    public void The_one_with_the_smaller_id_stands_whoever_came_first_and_the_worklist_asks(int first, int second)
    {
        var before = Typed.Results(scene.DataFile).Group("season");
        Receive(Nest(first), Nest(second), Visit(3));

        var after = Typed.Results(scene.DataFile);
        Assert.Equal(before.Number("nests") + 1, after.Group("season").Number("nests"));
        Assert.Equal("depredated", after.Fate("1", 9).Text("day28") is "lost" ? "depredated" : after.Fate("1", 9).GetRawText());
        var asked = Assert.Single(Typed.Findings(scene.DataFile), f => f.Text("rule") == "name_twice");
        Assert.Equal("contradiction", asked.Text("severity"));
        Assert.Contains("eggs 3 / 2", asked.Text("what"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_is_exported_with_both_gives_the_same_answer()
    {
        Receive(Nest(1), Nest(2), Visit(3));
        var folder = scene.DataFile + "-out";
        Typed.Done("export", scene.DataFile, folder);

        Assert.Equal(Typed.ResultsText(scene.DataFile), Typed.ResultsText(folder));
        Assert.Single(Typed.Findings(folder), f => f.Text("rule") == "name_twice");
        Assert.Contains("The answer did not move", Typed.Done("import", scene.DataFile, folder).Out, StringComparison.Ordinal);
        Assert.Contains("Nothing to do", Typed.Done("import", scene.DataFile, folder).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_rows_without_ids_stay_an_error()
    {
        scene.Add("nests.csv", "1,1,bunchgrass,2");
        Assert.Equal(1, Typed.Run("results", scene.Folder).Exit);
    }

    private void Receive(params Change[] changes) => Assert.Empty(DataFile.OpenToWrite(scene.DataFile).Receive(changes, DateTimeOffset.UnixEpoch).Refused);

    private Change Nest(int n) => Made(n, "nests", [("transect", "1"), ("nest", "9"), ("cover", "bunchgrass"), ("eggs", n == 1 ? "3" : "2")]);

    private Change Visit(int n) => Made(n, "visits", [("transect", "1"), ("nest", "9"), ("visited_on", "2024-06-03"), ("finding", "depredated")]);

    private Change Made(int n, string kind, (string Name, string Value)[] fields) => new()
    {
        Id = Id(n), Batch = Id(n), Device = "phone " + Words.Numbers.Whole(n), DeviceSeq = 1, Season = DataFile.OpenToRead(scene.DataFile).Seasons().Single().Id, Kind = kind, Record = Id(100 + n), Op = ChangeOp.Create,
        Fields = [.. fields.Select(f => new FieldChange(f.Name, f.Value, []))], By = "crew 1", SaidAt = DateTimeOffset.UnixEpoch, CameAt = DateTimeOffset.UnixEpoch,
    };

    private static Guid Id(int n) => new("01900000-0000-7000-8000-" + n.ToString("x12", System.Globalization.CultureInfo.InvariantCulture));
}
