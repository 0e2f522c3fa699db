using System.Diagnostics;
using System.Globalization;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Bench;

/// <summary>Fits of models, curves and resamples, timed here and by general-purpose packages on the same tables.</summary>
internal sealed class ModelTimings(ModelTimings.Choice choice)
{
    private const ulong Seed = 11;
    private const int Runs = 3, Resamples = 1000, Seasons = 1000;

    private static readonly string[] AllTasks = ["fixed_effects", "grouped_laplace", "grouped_quadrature", "curve_tied", "curve_untied", "bootstrap", "power_fixed", "power_mixed"];

    private readonly Dictionary<(string Task, int N), (double Seconds, double Value)> own = [];

    /// <summary>What to time: sizes in nests, seconds that a peer may take, tasks by a part of their name.</summary>
    internal sealed record Choice(int[] Sizes, double Cap, string[] Parts)
    {
        internal static Choice From(ReadOnlySpan<string> args)
        {
            var choice = new Choice([1000, 10_000, 100_000], 60, []);
            for (var i = 0; i < args.Length; i++)
            {
                choice = args[i] switch
                {
                    "--sizes" => choice with { Sizes = [.. args[++i].Split(',').Select(n => int.Parse(n, CultureInfo.InvariantCulture))] },
                    "--cap" => choice with { Cap = double.Parse(args[++i], CultureInfo.InvariantCulture) },
                    var part => choice with { Parts = [.. choice.Parts, part] },
                };
            }

            return choice;
        }

        internal bool IsAsked(string task) => Parts.Length == 0 || Parts.Any(part => task.Contains(part, StringComparison.Ordinal));
    }

    /// <summary>Prints CSV: task, n, seconds here, peer, seconds there.</summary>
    internal void Run()
    {
        var tasks = AllTasks.Where(choice.IsAsked).ToArray();
        var folder = Directory.CreateTempSubdirectory("tussock-bench-");
        try
        {
            foreach (var n in choice.Sizes) OfSize(n, folder.FullName);
            if (tasks.Any(task => task.StartsWith("power", StringComparison.Ordinal))) Power(folder.FullName);
            Console.WriteLine("task,n,tussock_seconds,peer,peer_seconds");
            foreach (var peer in Peers.Run(folder.FullName, choice.Sizes, Seasons, choice.Cap, tasks))
            {
                if (!own.Remove((peer.Task, peer.N), out var here)) continue;
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{peer.Task},{peer.N},{here.Seconds:G4},{peer.Name},{peer.Seconds:G4}"));
                Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{peer.Task}, {peer.N}: answer {here.Value:G7} here, {peer.Value:G7} there; {peer.Seconds / here.Seconds:G3} times as quick"));
            }

            foreach (var ((task, n), here) in own) Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task},{n},{here.Seconds:G4},,"));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>Nests with three effects on lines of twelve.</summary>
    internal static WalkedLines ThreeEffects(int nests, bool isUntied = false) =>
        WalkedLines.Of(new LinesPlan { Lines = (nests + 11) / 12, Density = -0.1, Concealment = -0.008, Jitter = 1, Missed = 0.08, IsUntied = isUntied }, Seeded.Of(Seed, (ulong)nests));

    private void OfSize(int n, string folder)
    {
        var walked = ThreeEffects(n);
        BenchTables.Intervals(walked, Path.Combine(folder, FormattableString.Invariant($"intervals_{n}.csv")));
        var table = walked.Table("cover", "density", "concealment");
        Time("fixed_effects", n, () => EffectsFit.Of(table, Link.LogHazard).Value.Coefficients[1].Independent.Value!.Value);
        Time("grouped_laplace", n, () => CoverOf(table, 1));
        Time("grouped_quadrature", n, () => CoverOf(table, 9));
        foreach (var isUntied in (bool[])[false, true])
        {
            var kind = isUntied ? "untied" : "tied";
            var nests = isUntied ? ThreeEffects(n, isUntied: true) : walked;
            BenchTables.Bounds(nests, Path.Combine(folder, FormattableString.Invariant($"{kind}_{n}.csv")));
            var spans = nests.Spans();
            Time("curve_" + kind, n, () => Turnbull.CurveFrom(spans).Value.At(15).Low);
        }

        var rows = new LineResampling(walked.Spans());
        Time("bootstrap", n, () => rows.SdOfSurvival28(Resamples, Seed));
    }

    private static double CoverOf(ModelTable table, int nodes) => GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Nodes = nodes, Profile = false }).Value.Effects[1].Coefficient.Value!.Value;

    /// <summary>The share of seasons in which a difference between covers is found.</summary>
    private void Power(string folder)
    {
        var seasons = Enumerable.Range(0, Seasons).Select(s => WalkedLines.Of(new LinesPlan(), Seeded.Of(Seed, (ulong)s + 1))).ToArray();
        BenchTables.Seasons(seasons, Path.Combine(folder, FormattableString.Invariant($"seasons_{Seasons}.csv")));
        var tables = Array.ConvertAll(seasons, season => season.Table("cover"));
        Time("power_fixed", Seasons, () => Share(tables, table => EffectsFit.Of(table, Link.LogHazard).Value.Coefficients[1].ClusteredP));
        Time("power_mixed", Seasons, () => Share(tables, table => GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Nodes = 1, Profile = false }).Or(null)?.Effects[1].P));
    }

    private static double Share(ModelTable[] tables, Func<ModelTable, double?> p)
    {
        var found = new bool[tables.Length];
        Ordered.For(tables.Length, s => found[s] = p(tables[s]) < 0.05);
        return found.Count(is05 => is05) / (double)found.Length;
    }

    private void Time(string task, int n, Func<double> work)
    {
        if (!choice.IsAsked(task)) return;
        var value = work();
        for (var warm = Stopwatch.StartNew(); warm.Elapsed.TotalSeconds < 3;) work();
        var seconds = new double[Runs];
        for (var run = 0; run < Runs; run++)
        {
            var watch = Stopwatch.StartNew();
            work();
            seconds[run] = watch.Elapsed.TotalSeconds;
        }

        Array.Sort(seconds);
        own.Add((task, n), (seconds[Runs / 2], value));
    }
}
