using System.Diagnostics;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Store;

/// <summary>A writer makes a log beside the file and takes it away again: whoever reads at that moment must not meet a half-made one.</summary>
public sealed class ReadersBesideWriters : IDisposable
{
    private static readonly DateTimeOffset Noon = new(2026, 6, 12, 12, 0, 0, TimeSpan.Zero);
    private readonly StoreScratch scratch = new();

    public void Dispose() => scratch.Dispose();

    [Fact]
    public async Task Readers_and_copies_beside_writers_that_come_and_go_always_get_an_answer()
    {
        var token = TestContext.Current.CancellationToken;
        var file = DataFile.OpenToWrite(scratch.File);
        file.Import(new ImportRequest { Season = PlainFolder.Invented("small", 4), By = "crew 1", Now = Noon }, cancellation: token);
        var since = Stopwatch.StartNew();
        bool GoesOn() => since.Elapsed < TimeSpan.FromSeconds(3);
        var readers = Enumerable.Range(0, 2).Select(_ => Task.Run(() => { while (GoesOn()) Assert.True(file.Position > 0); }, token));
        var copies = Task.Run(
            () =>
            {
                for (var n = 0; GoesOn(); n++)
                {
                    var copy = Path.Combine(scratch.Folder, "copy" + n + ".db");
                    file.CopyTo(copy);
                    File.Delete(copy);
                }
            },
            token);
        var writer = Task.Run(
            () =>
            {
                while (GoesOn())
                {
                    try
                    {
                        file.Write(file.Seasons()[0].Id, [], "crew 1", Noon);
                    }
                    catch (DataFileException told) when (told.Problem.Rule == "busy")
                    {
                        // Readers without any pause may keep a writer waiting until it is told so.
                    }
                }
            },
            token);
        await Task.WhenAll([.. readers, copies, writer]);
    }
}
