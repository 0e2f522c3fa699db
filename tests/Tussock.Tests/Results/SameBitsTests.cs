using System.Buffers;
using Tussock.Fates;
using Tussock.Results;
using Tussock.Tests.Models;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

public class SameBitsTests
{
    [Fact]
    public void One_thread_and_all_of_them_write_the_same_bytes()
    {
        var season = DemoOf(5);
        var all = Bytes(season);
        byte[] one = [];
        var threads = new HashSet<int>();
        OneThread.Run(() =>
        {
            Tussock.Numerics.Ordered.For(50, _ =>
            {
                lock (threads) threads.Add(Environment.CurrentManagedThreadId);
            });
            one = Bytes(season);
        });
        Assert.Single(threads);
        Assert.Equal(all, one);
    }

    private static Tussock.Records.Season DemoOf(ulong seed) => Tussock.Records.SeasonReading.Read(Tussock.Simulation.DemoSeason.Write(seed), out _)!;

    private static byte[] Bytes(Tussock.Records.Season season)
    {
        var buffer = new ArrayBufferWriter<byte>();
        ResultsDocument.Write(SeasonResults.Of(season), new MadeWith("test", 1, "2026-01-01T00:00:00Z"), withFates: true, Catalogue.English, buffer);
        return buffer.WrittenSpan.ToArray();
    }
}
