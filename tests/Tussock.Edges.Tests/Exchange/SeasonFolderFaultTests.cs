using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>The disk fails at step n of writing a folder, for every n: the former season stands whole, or the new one does.</summary>
public sealed class SeasonFolderFaultTests : IDisposable
{
    private static readonly string Whole = Path.Combine(Corpus.Folder("broken/000-whole"), "season");
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Fact]
    public void A_disk_that_fails_at_any_step_leaves_the_former_season_whole() => EachStep(() => new IOException("No space left on device"));

    [Fact]
    public void A_fault_of_the_program_at_any_step_leaves_the_former_season_whole() => EachStep(() => new InvalidOperationException("A fault"));

    [Fact]
    public void A_disk_that_fails_at_any_step_leaves_a_new_place_empty()
    {
        var steps = Steps(scratch.At("count"));
        for (var n = 0; n < steps.Count; n++)
        {
            var problem = Assert.Single(Write(scratch.At("new"), n, () => new UnauthorizedAccessException()));
            Assert.Equal("not_written", problem.Rule);
            Assert.Equal(["count"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName));
        }
    }

    [Fact]
    public void Cancelling_leaves_the_former_season_whole()
    {
        var folder = scratch.Copy(Whole, "season");
        var before = SeasonFolderWriterTests.Seen(folder);

        Assert.ThrowsAny<OperationCanceledException>(() => SeasonFolderWriter.Write(SeasonFolderWriterTests.EveryKind(), folder, true, new CancellationToken(true)));

        Assert.Equal(before, SeasonFolderWriterTests.Seen(folder));
        Assert.Equal(["season"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName));
    }

    private void EachStep(Func<Exception> fault)
    {
        var former = Former("former");
        var before = SeasonFolderWriterTests.Seen(former);
        var steps = Steps(Former("count"));
        Assert.Equal([FolderStep.Create, FolderStep.Open, FolderStep.Flush, FolderStep.Copy, FolderStep.Rename, FolderStep.Remove], steps.Distinct().Order());
        for (var n = 0; n < steps.Count; n++)
        {
            var error = Record.Exception(() => Write(former, n, fault));
            if (steps[n] == FolderStep.Remove) break;
            Assert.Equal(fault() is IOException, error is null);
            Assert.Equal(before, SeasonFolderWriterTests.Seen(former));
            Assert.Equal(["count", "former"], Directory.GetFileSystemEntries(scratch.Folder).Select(Path.GetFileName).Order());
        }

        // Only the removal of the former folder failed: the new season is in its place, the former one beside it.
        Assert.Equal(SameTables.ShownWithoutList(Changed()), SameTables.ShownWithoutList(SeasonFolderWriterTests.Tables(former)));
        Assert.Equal(before, SeasonFolderWriterTests.Seen(Directory.GetDirectories(scratch.Folder, ".former.*.old").Single()));
    }

    /// <summary>Another season than the former one, small because every file is flushed down to the disk.</summary>
    private static SeasonTables Changed()
    {
        var whole = SeasonFolderWriterTests.Tables(Whole);
        return whole with { Tables = [.. whole.Tables.Where(t => t.Kind.IsRequired).Select(t => t with { Rows = [.. t.Rows.Reverse()] })], Texts = whole.Texts.Add("zones.geojson", "{}") };
    }

    private string Former(string name)
    {
        var folder = scratch.Copy(Whole, name);
        Directory.CreateDirectory(Path.Combine(folder, "media"));
        File.WriteAllText(Path.Combine(folder, "media", "a.jpg"), "a photo");
        return folder;
    }

    private static List<FolderStep> Steps(string folder)
    {
        var steps = new List<FolderStep>();
        SeasonFolderWriter.Write(Changed(), folder, true, new FolderSteps((step, _) => steps.Add(step)), TestContext.Current.CancellationToken);
        return steps;
    }

    private static System.Collections.Immutable.ImmutableArray<Problem> Write(string folder, int failAt, Func<Exception> fault)
    {
        var n = 0;
        return SeasonFolderWriter.Write(Changed(), folder, true, new FolderSteps((_, _) =>
        {
            if (n++ == failAt) throw fault();
        }), TestContext.Current.CancellationToken);
    }
}
