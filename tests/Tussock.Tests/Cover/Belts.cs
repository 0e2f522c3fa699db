using System.Globalization;
using Tussock.Cover;

namespace Tussock.Tests.Cover;

/// <summary>Belt rows made by hand, and those of the reference seasons.</summary>
internal static class Belts
{
    /// <summary>One counted row of full width.</summary>
    public static SegmentCount Row(int line, int segment, double clumps, int cover = 0, double areaM2 = 100) => new()
    {
        Line = line, Transect = line, Pasture = 0, Segment = segment, Cover = cover, Clumps = clumps, Steps = areaM2, StepM = 1, WidthM = 1,
    };

    /// <summary>Units of counted rows.</summary>
    public static BeltUnit[] Units(params SegmentCount[] rows) => [.. PassesMerged.Of(rows)];

    /// <summary>Units of a reference season, with names of pastures and properties by transect.</summary>
    public static (BeltUnit[] Units, string[] Pasture, string[] Property) Season(string name)
    {
        var folder = Path.Combine(Checks.Folder("reference-seasons"), name, "season");
        var transects = Rows(Path.Combine(folder, "transects.csv"));
        var index = transects.Select((t, i) => (t["transect"], i)).ToDictionary(t => t.Item1, t => t.i, StringComparer.Ordinal);
        var covers = new List<string>();
        var rows = Rows(Path.Combine(folder, "belts.csv")).Select(r =>
        {
            if (!covers.Contains(r["cover"])) covers.Add(r["cover"]);
            return new SegmentCount
            {
                Line = index[r["transect"]], Transect = index[r["transect"]], Pasture = 0, Segment = int.Parse(r["segment"], CultureInfo.InvariantCulture), Cover = covers.IndexOf(r["cover"]),
                Clumps = Number(r["clumps"]), Steps = Number(r["steps"]), StepM = Number(r["step_m"]), WidthM = Number(r["arm_span_m"]),
            };
        }).ToArray();
        return (Units(rows), [.. transects.Select(t => t["pasture"])], [.. transects.Select(t => t["property"])]);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static List<Dictionary<string, string>> Rows(string file)
    {
        var lines = File.ReadAllLines(file);
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Select(l => header.Zip(l.Split(',')).ToDictionary(p => p.First, p => p.Second, StringComparer.Ordinal))];
    }
}
