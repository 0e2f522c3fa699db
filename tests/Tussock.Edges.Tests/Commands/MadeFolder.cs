using System.Globalization;

namespace Tussock.Edges.Tests.Commands;

/// <summary>A season folder that a test writes row by row.</summary>
internal sealed class MadeFolder
{
    private readonly List<string> pastures = ["property,pasture", "Two Windmills,South"];
    private readonly List<string> transects = ["property,pasture,transect,set_on"];
    private readonly List<string> nests = ["transect,nest,cover,status"];
    private readonly List<string> visits = ["transect,nest,day,finding"];
    private readonly List<string> belts = ["transect,segment,steps,step_m,arm_span_m,cover,clumps"];

    internal string Classes { get; init; } = """[{"name":"bunchgrass","role":"grass"},{"name":"cactus","role":"other"}]""";

    internal string Name { get; init; } = "made";

    internal MadeFolder Pasture(string name)
    {
        pastures.Add("Two Windmills," + name);
        return this;
    }

    /// <summary>A line of nests, each visited on day 28 with one of the findings (empty: not visited), and a belt of clumps (null: none).</summary>
    internal MadeFolder Line(string name, string[] findings, int? clumps = 12, string setOn = "2024-05-06", string status = "set", string pasture = "South")
    {
        transects.Add($"Two Windmills,{pasture},{name},{setOn}");
        for (var i = 0; i < findings.Length; i++)
        {
            var nest = (i + 1).ToString(CultureInfo.InvariantCulture);
            nests.Add($"{name},{nest},{(i % 2 == 0 || !Classes.Contains("cactus", StringComparison.Ordinal) ? "bunchgrass" : "cactus")},{status}");
            if (findings[i].Length > 0) visits.Add($"{name},{nest},28,{findings[i]}");
        }

        if (clumps is { } count) belts.Add(string.Create(CultureInfo.InvariantCulture, $"{name},1,50,0.8,1.8,bunchgrass,{count}"));
        return this;
    }

    /// <summary>Writes it.</summary>
    internal string Write(string folder)
    {
        Directory.CreateDirectory(folder);
        var files = new List<(string Name, List<string> Rows)> { ("pastures", pastures), ("transects", transects), ("nests", nests), ("visits", visits) };
        if (belts.Count > 1) files.Add(("belts", belts));
        foreach (var (name, rows) in files) File.WriteAllText(Path.Combine(folder, name + ".csv"), string.Join('\n', rows) + "\n");
        var resources = string.Join(',', files.Select(f => $$"""{"name":"{{f.Name}}","path":"{{f.Name}}.csv"}"""));
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), $$"""{"name":"{{Name}}","title":"Made","season":{"name":"{{Name}}","year":"2024","trial_days":28,"check_days":[14,28],"time_zone":"America/Chicago","cover_classes":{{Classes}}},"resources":[{{resources}}]}""");
        return folder;
    }
}
