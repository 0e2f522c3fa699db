using System.Collections.Concurrent;
using System.Globalization;
using Tussock.Models;

namespace Tussock.Tests.Models;

/// <summary>Model tables of checks for fixed effects, read by a reader of its own: a group a transect, a column for each effect.</summary>
public static class NestTables
{
    private static readonly ConcurrentDictionary<(string Set, bool Cameras), ModelTable> Known = new();

    /// <summary>A reference season: intercept, cactus, clump density, concealment. Camera times are exact times where wanted.</summary>
    public static ModelTable Season(string set, bool cameras = false) => Known.GetOrAdd((set, cameras), key => Read(key.Set, key.Cameras));

    private static ModelTable Read(string set, bool cameras)
    {
        var folder = Path.Combine(set, cameras ? "season_with_cameras" : "season");
        var visits = Visits(folder);
        var times = cameras ? Rows("reference-seasons", Path.Combine(folder, "cameras.csv")).Where(c => c["took_eggs"] == "yes").ToLookup(c => (c["transect"], c["nest"])) : null;
        var nests = Rows("reference-seasons", Path.Combine(folder, "nests.csv"));
        string[] columns = [.. new[] { "(Intercept)", "cactus", "clump_density", "concealment" }.Where(c => c is "(Intercept)" or "cactus" || nests[0].ContainsKey(c))];
        var maker = new ModelTableMaker([.. columns]);
        foreach (var transect in nests.GroupBy(n => n["transect"]))
        {
            maker.Group(transect.Key);
            foreach (var nest in transect)
            {
                var own = visits[(nest["transect"], nest["nest"])].OrderBy(v => Number(v["day"])).ToArray();
                if (own.Length == 0) continue;
                maker.Nests++;
                double[] x = [.. columns.Select(c => c switch { "(Intercept)" => 1, "cactus" => nest["cover"] == "cactus" ? 1 : 0, _ => Number(nest[c]) })];
                Add(maker, maker.Pattern(x), own, times?[(nest["transect"], nest["nest"])].Select(c => Number(c["day"])).ToArray() ?? []);
            }
        }

        return maker.Table();
    }

    /// <summary>Means of the two covariates over nests that inform.</summary>
    public static (double Density, double Concealment) MeanOverNests(string set) => Mean(set, v => v.Length > 0 ? 1 : 0);

    /// <summary>Means of the two covariates over visit intervals.</summary>
    public static (double Density, double Concealment) MeanOverIntervals(string set) =>
        Mean(set, v => v.TakeWhile(visit => visit["finding"] == "intact").Count() + (v.Any(visit => visit["finding"] != "intact") ? 1 : 0));

    private static (double Density, double Concealment) Mean(string set, Func<Dictionary<string, string>[], int> weight)
    {
        var visits = Visits(Path.Combine(set, "season"));
        double sum = 0, density = 0, concealment = 0;
        foreach (var nest in Rows("reference-seasons", Path.Combine(set, "season", "nests.csv")))
        {
            var counts = weight([.. visits[(nest["transect"], nest["nest"])].OrderBy(v => Number(v["day"]))]);
            (sum, density, concealment) = (sum + counts, density + counts * Number(nest["clump_density"]), concealment + counts * Number(nest["concealment"]));
        }

        return (density / sum, concealment / sum);
    }

    private static ILookup<(string, string), Dictionary<string, string>> Visits(string folder) =>
        Rows("reference-seasons", Path.Combine(folder, "visits.csv")).Where(v => v["finding"] != "not_relocated" && Number(v["day"]) > 0).ToLookup(v => (v["transect"], v["nest"]));

    /// <summary>The two invented sets of two checks.</summary>
    public static ModelTable TwoChecks(string set, bool cover) => Of(
        cover ? ["(Intercept)", "B"] : ["(Intercept)"],
        Rows("published-values", $"data/{set}_intervals.csv").Select(r => new Interval(r["transect"], cover ? [1, Number(r["B"])] : [1], Number(r["days"]), r["survived"] == "0")));

    /// <summary>Patients with their times grouped in intervals, or exact.</summary>
    public static ModelTable Veterans(bool exact)
    {
        var maker = new ModelTableMaker(["(Intercept)", "karno", "age"]);
        foreach (var (row, i) in Rows("veteran-intervals", "data.csv").Select((r, i) => (r, i)))
        {
            maker.Group("patient " + (i + 1).ToString(CultureInfo.InvariantCulture));
            maker.Nests++;
            maker.Intervals++;
            var p = maker.Pattern([1, Number(row["karno"]), Number(row["age"])]);
            var (left, died) = (Number(row["left"]), row["right"].Length > 0);
            if (exact)
            {
                maker.Watched(p, Number(row["time"]));
                if (row["status"] == "1") maker.LostAt(p);
                continue;
            }

            if (left > 0) maker.Watched(p, left);
            if (died) maker.LostWithin(p, Number(row["right"]) - left);
        }

        return maker.Table();
    }

    /// <summary>A table of given intervals, grouped in the order in which groups first appear.</summary>
    public static ModelTable Of(string[] columns, IEnumerable<Interval> intervals)
    {
        var maker = new ModelTableMaker([.. columns]);
        foreach (var group in intervals.GroupBy(i => i.Group))
        {
            maker.Group(group.Key);
            foreach (var interval in group)
            {
                var p = maker.Pattern(interval.X, interval.Offset);
                if (interval.Lost) maker.LostWithin(p, interval.Days);
                else maker.Watched(p, interval.Days);
                maker.Intervals++;
                maker.Nests++;
            }
        }

        return maker.Table();
    }

    private static void Add(ModelTableMaker maker, int p, Dictionary<string, string>[] visits, double[] times)
    {
        var day = 0.0;
        foreach (var visit in visits)
        {
            var to = Number(visit["day"]);
            maker.Intervals++;
            if (visit["finding"] == "intact")
            {
                maker.Watched(p, to - day);
                day = to;
                continue;
            }

            var time = times.Where(t => t > day && t <= to).Order().DefaultIfEmpty(double.NaN).First();
            if (double.IsNaN(time)) maker.LostWithin(p, to - day);
            else
            {
                maker.Watched(p, time - day);
                maker.LostAt(p);
            }

            return;
        }
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static List<Dictionary<string, string>> Rows(string source, string file)
    {
        var lines = Checks.Read(source, file).Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var names = Cells(lines[0]);
        return [.. lines.Skip(1).Select(l => Cells(l).Select((cell, i) => (cell, i)).ToDictionary(x => names[x.i], x => x.cell, StringComparer.Ordinal))];
    }

    private static string[] Cells(string line) => [.. line.Split(',').Select(c => c.Trim('"'))];
}

/// <summary>One visit interval of an invented table.</summary>
public sealed record Interval(string Group, double[] X, double Days, bool Lost, double Offset = 0);
