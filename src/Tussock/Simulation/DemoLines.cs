using Tussock.Numerics;

namespace Tussock.Simulation;

/// <summary>Sets out the lines of an invented season.</summary>
internal static class DemoLines
{
    internal static readonly string[] Covers = ["bunchgrass", "prickly pear"];

    internal static List<DemoLine> SetOut(Seeded chance)
    {
        var lines = new List<DemoLine>();
        foreach (var pasture in DemoPasture.All)
        {
            var count = pasture.Lines + pasture.PlannedLines;
            var cells = DemoGround.Cells(count, chance);
            var own = Enumerable.Range(1, count).Select(number => Line(pasture, number, cells[number - 1], chance)).ToList();
            var stations = own.Where(l => !l.IsPlanned).SelectMany(l => l.Nests);
            foreach (var station in Draw.Without(stations, pasture.NoClump, chance)) station.HasClump = false;
            lines.AddRange(own);
        }

        return lines;
    }

    private static DemoLine Line(DemoPasture pasture, int number, int cell, Seeded chance)
    {
        var walker = number % 2 == 1 ? DemoWalker.One : DemoWalker.Two;
        var (start, bearing) = DemoGround.Line(pasture, cell, pasture.NestsPerLine * DemoGround.StepsBetween * walker.StepM, chance);
        var line = new DemoLine(pasture, number, number > pasture.Lines)
        {
            SetOn = pasture.HasTimes ? pasture.SetFrom.AddDays((number - 1) / 4) : pasture.SetFrom,
            Walker = walker,
            Start = start,
            BearingDeg = bearing,
            Checks = Checks(pasture, number, chance),
        };
        var first = chance.NextBelow(2);
        for (var nest = 1; nest <= pasture.NestsPerLine; nest++) line.Nests.Add(new DemoNest(line, nest, Covers[(nest + first) % 2]));
        return line;
    }

    /// <summary>Near days 14 and 28; one line's first check is missed, and two lines' last check is two days late.</summary>
    private static (int First, int Second) Checks(DemoPasture pasture, int number, Seeded chance)
    {
        if (!pasture.HasTimes) return (14, 28);
        var first = 13 + chance.NextBelow(3);
        var second = 27 + chance.NextBelow(3);
        return (pasture.Name, number) switch
        {
            ("North Draw", 3) => (0, second),
            ("Old Field", 8 or 9) => (first, 30),
            _ => (first, second),
        };
    }
}
