using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Store;
using Tussock.Years;

namespace Tussock.Bench;

/// <summary>Ranches over ten years: reading and computing everything anew, and what all of them say together.</summary>
internal static class NetworkTimings
{
    private const int Years = 10, LinesARanch = 10, NestsALine = 20;

    internal static void Run(int ranches, string? data)
    {
        var folder = Directory.CreateTempSubdirectory("tussock-bench-").FullName;
        try
        {
            Console.WriteLine("task,ranches,seconds");
            var file = DataFile.OpenToWrite(data ?? Path.Combine(folder, "network.db"));
            var chance = Seeded.Of(9);
            var own = Enumerable.Range(0, ranches).Select(_ => 0.4 * chance.NextNormal()).ToArray();
            Once("import", ranches, () =>
            {
                for (var y = 0; y < Years; y++) file.Import(new ImportRequest { Season = Season(ranches, 2016 + y, own, Seeded.Of(9, (ulong)y + 1)), By = "bench", Now = DateTimeOffset.UnixEpoch.AddYears(56) });
            });
            GC.Collect();
            ImmutableArray<PastureYear> years = [];
            Once("all seasons anew", ranches, () => years = [.. file.OfEach([.. file.Seasons().Select(s => s.Name)], tables => PastureYears.Of(SeasonReading.Read(tables, out _)!)).SelectMany(y => y)]);
            Once("one season anew", ranches, () => PastureYears.Of(SeasonReading.Read(file.Tables(file.Seasons()[0].Name), out _)!));
            Once("years side by side", ranches, () => LandYears.Of(years));
            Once("network", ranches, () => Network.Of(years));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"nests,{ranches},{years.Where(y => y.Pasture is null).Sum(y => y.Counts.Nests)}"));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"most memory MB,{ranches},{Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:F0}"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static SeasonTables Season(int ranches, int year, double[] own, Seeded chance)
    {
        var weather = 0.4 * chance.NextNormal();
        List<ImmutableArray<string>> pastures = [], transects = [], nests = [], visits = [], belts = [];
        for (var r = 0; r < ranches; r++)
        {
            string property = "Ranch " + Text(r + 1);
            pastures.Add([property, "all"]);
            for (var l = 1; l <= LinesARanch; l++)
            {
                string line = Text(r + 1) + "-" + Text(l);
                transects.Add([property, "all", line, line, Text(year) + "-05-02"]);
                belts.Add([line, "1", "50", "0.75", "1.8", "grass", Text(chance.NextBelow(12))]);
                var rate = Math.Exp(-0.4 + weather + own[r] + (0.5 * chance.NextNormal())) / 28;
                for (var n = 1; n <= NestsALine; n++)
                {
                    nests.Add([line, Text(n), n % 2 == 0 ? "cactus" : "grass"]);
                    var lost = -Math.Log(1 - chance.NextUniform()) / rate;
                    foreach (var day in (int[])[14, 28])
                    {
                        visits.Add([line, Text(n), Text(day), chance.NextUniform() < 0.02 ? "not_relocated" : lost > day ? "intact" : "depredated"]);
                        if (lost <= day) break;
                    }
                }
            }
        }

        return new SeasonTables(
            SeasonPackage.Parse($$"""
                { "name": "bench", "season": { "name": "summer {{year}}", "year": "{{year}}", "trial_days": 28, "check_days": [14, 28],
                  "cover_classes": [ { "name": "grass", "role": "grass" }, { "name": "cactus", "role": "other" } ],
                  "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 } }, "resources": [] }
                """),
            [
                Table(RecordKind.Pastures, "property pasture", pastures),
                Table(RecordKind.Transects, "property pasture transect line set_on", transects),
                Table(RecordKind.Nests, "transect nest cover", nests),
                Table(RecordKind.Visits, "transect nest day finding", visits),
                Table(RecordKind.Belts, "transect segment steps step_m arm_span_m cover clumps", belts),
            ],
            ImmutableSortedDictionary<string, string>.Empty);
    }

    private static string Text(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static RecordTable Table(RecordKind kind, string columns, List<ImmutableArray<string>> rows) => new(kind, [.. columns.Split(' ')], [.. rows.Select((cells, i) => new RecordRow(i + 2, cells))]);

    private static void Once(string task, int ranches, Action work)
    {
        var watch = Stopwatch.StartNew();
        work();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task},{ranches},{watch.Elapsed.TotalSeconds:F3}"));
    }
}
