using System.Collections.Concurrent;
using System.Globalization;
using Tussock.Models;

namespace Tussock.Tests.Models;

/// <summary>Model tables of the reference seasons and of open data sets, read by a reader of its own.</summary>
public static class ReferenceTables
{
    private static readonly ConcurrentDictionary<string, (ModelTable Table, double[] Mean, int[] Pasture)> Known = new(StringComparer.Ordinal);

    /// <summary>A reference season with intercept, cactus, clump density and concealment; groups are transects, camera times ignored.</summary>
    public static ModelTable Season(string set) => Known.GetOrAdd(set, Read).Table;

    /// <summary>Means of the four columns over visit intervals.</summary>
    public static double[] Mean(string set) => Known.GetOrAdd(set, Read).Mean;

    /// <summary>Pasture of each transect of a set.</summary>
    public static int[] Pastures(string set) => Known.GetOrAdd(set, Read).Pasture;

    /// <summary>Cattle of herds: rows 0/1 of one day, lost where ill.</summary>
    public static ModelTable Cbpp()
    {
        var maker = new ModelTableMaker(["(Intercept)", "period2", "period3", "period4"]);
        foreach (var herd in Rows("published-values", "data/cbpp.csv").GroupBy(r => r["herd"]))
        {
            maker.Group(herd.Key);
            foreach (var row in herd)
            {
                var p = maker.Pattern([1, Is(row, "period", "2"), Is(row, "period", "3"), Is(row, "period", "4")]);
                double ill = Number(row["incidence"]), all = Number(row["size"]);
                maker.Watched(p, all - ill);
                for (var i = 0; i < ill; i++) maker.LostWithin(p, 1);
                maker.Intervals += (int)all;
            }
        }

        return maker.Table();
    }

    /// <summary>Children with and without bacteria: rows of one day, "lost" where present.</summary>
    public static ModelTable Bacteria() => Days(
        ["(Intercept)", "trtdrug", "trtdrug+", "late"],
        Rows("published-values", "data/bacteria.csv").GroupBy(r => r["ID"]).Select(g => (g.Key, g.Select(r => (new[] { 1, Is(r, "trt", "drug"), Is(r, "trt", "drug+"), Number(r["week"]) > 2 ? 1 : 0 }, 1.0, r["y"] == "y")))));

    /// <summary>The two invented sets of two checks.</summary>
    public static ModelTable TwoChecks(string set) => Days(
        ["(Intercept)", "B"],
        Rows("published-values", $"data/{set}_intervals.csv").GroupBy(r => r["transect"]).Select(g => (g.Key, g.Select(r => (new[] { 1, Number(r["B"]) }, Number(r["days"]), r["survived"] == "0")))));

    private static ModelTable Days(string[] columns, IEnumerable<(string Name, IEnumerable<(double[] X, double Days, bool Lost)> Rows)> groups)
    {
        var maker = new ModelTableMaker([.. columns]);
        foreach (var (name, rows) in groups)
        {
            maker.Group(name);
            foreach (var (x, days, lost) in rows)
            {
                var p = maker.Pattern(x);
                if (lost) maker.LostWithin(p, days);
                else maker.Watched(p, days);
                maker.Intervals++;
            }
        }

        return maker.Table();
    }

    private static (ModelTable Table, double[] Mean, int[] Pasture) Read(string set)
    {
        var folder = Path.Combine(set, "season");
        var pastureOf = Rows("reference-seasons", Path.Combine(folder, "transects.csv")).ToDictionary(r => r["transect"], r => r["pasture"], StringComparer.Ordinal);
        var names = pastureOf.Values.Distinct().Order(StringComparer.Ordinal).ToList();
        var visits = Rows("reference-seasons", Path.Combine(folder, "visits.csv")).Where(v => v["finding"] != "not_relocated").ToLookup(v => (v["transect"], v["nest"]));
        var maker = new ModelTableMaker(["(Intercept)", "cactus", "clump_density", "concealment"]);
        var (mean, pastures) = (new double[4], new List<int>());
        foreach (var transect in Rows("reference-seasons", Path.Combine(folder, "nests.csv")).GroupBy(n => n["transect"]))
        {
            maker.Group(transect.Key);
            pastures.Add(names.IndexOf(pastureOf[transect.Key]));
            foreach (var nest in transect)
            {
                double[] x = [1, Is(nest, "cover", "cactus"), Number(nest["clump_density"]), Number(nest["concealment"])];
                var day = 0.0;
                foreach (var visit in visits[(nest["transect"], nest["nest"])].OrderBy(v => Number(v["day"])).Where(v => Number(v["day"]) > 0))
                {
                    var days = Number(visit["day"]) - day;
                    var p = maker.Pattern(x);
                    maker.Intervals++;
                    for (var i = 0; i < 4; i++) mean[i] += x[i];
                    day = Number(visit["day"]);
                    if (visit["finding"] == "intact")
                    {
                        maker.Watched(p, days);
                        continue;
                    }

                    maker.LostWithin(p, days);
                    break;
                }
            }
        }

        return (maker.Table(), [.. mean.Select(m => m / maker.Intervals)], [.. pastures]);
    }

    private static double Is(Dictionary<string, string> row, string column, string value) => row[column] == value ? 1 : 0;

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static List<Dictionary<string, string>> Rows(string source, string file)
    {
        var lines = Checks.Read(source, file).Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var names = Cells(lines[0]);
        return [.. lines.Skip(1).Select(l => Cells(l).Select((cell, i) => (cell, i)).ToDictionary(x => names[x.i], x => x.cell, StringComparer.Ordinal))];
    }

    private static string[] Cells(string line) => [.. line.Split(',').Select(c => c.Trim('"'))];
}
