using System.Globalization;
using Tussock.Models;

namespace Tussock.Tests.Models;

/// <summary>Pastures of the reference seasons and model tables of open data sets, read by a reader of its own.</summary>
public static class ReferenceTables
{
    /// <summary>Pasture of each group of a reference season's table.</summary>
    public static int[] Pastures(string set)
    {
        var pastureOf = Rows("reference-seasons", Path.Combine(set, "season", "transects.csv")).ToDictionary(r => r["transect"], r => r["pasture"], StringComparer.Ordinal);
        var names = pastureOf.Values.Distinct().Order(StringComparer.Ordinal).ToList();
        return [.. NestTables.Season(set).GroupNames.Select(g => names.IndexOf(pastureOf[g]))];
    }

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
