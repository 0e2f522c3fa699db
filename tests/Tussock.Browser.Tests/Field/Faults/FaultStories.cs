using System.Globalization;
using Tussock.Journal;
using Tussock.Store;
using Xunit;

namespace Tussock.Browser.Tests.Field.Faults;

/// <summary>
/// Seeded stories of everything that can go wrong between two phones and a desk: messages lost, doubled, cut, out of order and weeks late, clocks off by
/// days, storage full, the app killed at any moment, records brought as a file; and real kills of the browser or of the desk. At the end no change that
/// a phone answered for is lost, none is there twice, and phones, desk and an independent fold say the same.
/// </summary>
[Collection("browser")]
public sealed class FaultStories
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";

    public static TheoryData<int> Desks => [.. Enumerable.Range(1, IsLong ? 20 : 4)];

    /// <summary>50 stories a desk by <c>--long</c> (1,000 in all, 20 kills), 12 otherwise.</summary>
    private static int StoriesADesk => IsLong ? 50 : 12;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [MemberData(nameof(Desks))]
    public async Task Nothing_is_lost_nothing_doubled_and_all_end_alike(int seed)
    {
        using var desk = new FieldDesk(PlannedSeason.Files(nests: string.Concat(Enumerable.Range(1, 6).Select(n => string.Create(CultureInfo.InvariantCulture, $"T1,{n},bunchgrass,2026-05-04,,,,3,20,N,flag_to_nest,true,,,,,crew 1\n")))));
        await using var phones = await KillableBrowser.OpenAsync(desk);
        var killsBrowser = seed % 2 == 0;
        int first = seed * 1000, half = first + (StoriesADesk / 2), last = first + StoriesADesk;
        var moment = new Random(seed).Next(300, 2500);

        var acting = phones.ActAsync(first, half);
        await Task.WhenAny(acting, Task.Delay(moment, Cancel));
        if (killsBrowser)
        {
            await phones.KillAsync(acting);
            foreach (var unended in Enumerable.Range(first, half - first).Except(phones.Ended)) Assert.Equal("", await phones.MendAsync(unended));
        }
        else
        {
            desk.Kill();
            await Task.Delay(200, Cancel);
            desk.Start();
            Assert.Empty(await acting);
        }

        Assert.Empty(await phones.ActAsync(half, last));
        desk.Kill();
        desk.Start();
        var seen = SeenRows.Of(await phones.FreshAsync());

        var journal = DataFile.OpenToRead(desk.Data).Since(0);
        var ids = journal.Select(c => c.Id).ToHashSet();
        Assert.Equal(journal.Length, ids.Count);
        Assert.Subset(ids, phones.Told.ToHashSet());
        foreach (var device in journal.GroupBy(c => c.Device)) Assert.Equal(Enumerable.Range(1, device.Count()).Select(n => (long)n), device.Select(c => c.DeviceSeq).Order());
        Assert.Equal(SeenRows.Folded(journal), seen);
        Assert.All(phones.Photos, photo => Assert.True(File.Exists(Path.Combine(desk.Data + ".media", photo)), photo));
        Assert.DoesNotContain("wrong", FieldDesk.Done("check", desk.Data), StringComparison.OrdinalIgnoreCase);
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{journal.Length} changes, {phones.Told.Count} answered for, {phones.Files} files, {phones.Photos.Count} photos"));
    }
}
