using System.Diagnostics;
using System.Globalization;
using Tussock.Planning.Power;
using Tussock.Simulation;

namespace Tussock.Bench;

/// <summary>Seconds for invented seasons with interval, both chances and verdict.</summary>
internal static class PowerTimings
{
    internal static void Run(int seasons)
    {
        Console.WriteLine("task,seasons,seconds,processor_seconds,allocated_mb,clear");
        foreach (var (name, truth) in ((string, SeasonTruth)[])[("power_all_found", new() { LineSd = 0.7 }), ("power_not_relocated", new() { LineSd = 0.7, NotRelocated = 0.05, LostNotRelocated = 0.1 })])
        {
            var question = new PowerQuestion { Truth = truth, HasDensity = true, Seasons = seasons };
            CallRates.Of(question, question.Judged, 50);
            var (before, processor, clock) = (GC.GetTotalAllocatedBytes(true), Process.GetCurrentProcess().TotalProcessorTime, Stopwatch.StartNew());
            var rates = CallRates.Of(question, question.Judged, seasons);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name},{seasons},{clock.Elapsed.TotalSeconds:F2},{(Process.GetCurrentProcess().TotalProcessorTime - processor).TotalSeconds:F2},{(GC.GetTotalAllocatedBytes(true) - before) / 1e6:F0},{rates.Clear:F4}"));
        }
    }
}
