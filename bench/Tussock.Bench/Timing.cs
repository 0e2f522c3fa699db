using System.Diagnostics;
using System.Globalization;

namespace Tussock.Bench;

/// <summary>Times one task: a warm-up, then the median of five runs, as one CSV row.</summary>
internal static class Timing
{
    private const int Runs = 5;

    internal static void Row(string task, int n, Action work)
    {
        work();
        var seconds = new double[Runs];
        var allocated = new double[Runs];
        for (var run = 0; run < Runs; run++)
        {
            var before = GC.GetTotalAllocatedBytes(precise: true);
            var watch = Stopwatch.StartNew();
            work();
            seconds[run] = watch.Elapsed.TotalSeconds;
            allocated[run] = (GC.GetTotalAllocatedBytes(precise: true) - before) / 1e6;
        }

        Array.Sort(seconds);
        Array.Sort(allocated);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task},{n},{seconds[Runs / 2]:G3},{allocated[Runs / 2]:G3}"));
    }

    /// <summary>The same for work so short that it is repeated; the row tells of one piece.</summary>
    internal static void RowOfEach(string task, int n, int times, Action<int> work)
    {
        for (var i = 0; i < times; i++) work(i);
        var seconds = new double[Runs];
        var before = GC.GetTotalAllocatedBytes(precise: true);
        for (var run = 0; run < Runs; run++)
        {
            var watch = Stopwatch.StartNew();
            for (var i = 0; i < times; i++) work(i);
            seconds[run] = watch.Elapsed.TotalSeconds / times;
        }

        var allocated = (GC.GetTotalAllocatedBytes(precise: true) - before) / 1e6 / times / Runs;
        Array.Sort(seconds);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task},{n},{seconds[Runs / 2]:G3},{allocated:G3}"));
    }
}
