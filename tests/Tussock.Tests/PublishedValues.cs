using System.Globalization;

namespace Tussock.Tests;

/// <summary>One value of <c>tests/checks/published-values</c> by its id and quantity.</summary>
public static class PublishedValues
{
    private static readonly Lazy<Dictionary<(string, string), double>> All = new(() =>
    {
        var values = new Dictionary<(string, string), double>();
        foreach (var line in File.ReadLines(Path.Combine(Checks.Folder("published-values"), "check_values.csv")).Skip(1))
        {
            var cells = Cells(line);
            if (double.TryParse(cells[3], NumberStyles.Float, CultureInfo.InvariantCulture, out var value)) values.TryAdd((cells[1], cells[2]), value);
        }

        return values;
    });

    /// <summary>The value at full precision.</summary>
    public static double Of(string id, string quantity) => All.Value[(id, quantity)];

    private static List<string> Cells(string line)
    {
        var cells = new List<string>();
        var (cell, quoted) = ("", false);
        foreach (var c in line)
        {
            if (c == '"') quoted = !quoted;
            else if (c == ',' && !quoted) (cell, _) = ("", Add(cells, cell));
            else cell += c;
        }

        cells.Add(cell.Trim());
        return cells;
    }

    private static bool Add(List<string> cells, string cell)
    {
        cells.Add(cell.Trim());
        return true;
    }
}
