using Tussock.Numerics;

namespace Tussock.Simulation;

/// <summary>Lets chance decide which nests of an invented season are lost, in which way and when.</summary>
internal static class DemoEnds
{
    internal static readonly DateOnly Rain = new(2026, 6, 9);

    /// <summary>The day cattle came into the pasture that has them: day 16 of its first lines.</summary>
    internal static readonly DateOnly CattleIn = new(2026, 5, 31);

    private const double LineSpread = 0.45;
    private const double LastEndDay = 26.4;

    internal static void Decide(IReadOnlyList<DemoLine> lines, Seeded chance)
    {
        foreach (var pasture in DemoPasture.All)
        {
            var nests = lines.Where(l => l.Pasture == pasture).SelectMany(l => l.Nests).Where(n => n.IsSet).ToArray();
            foreach (var (end, count) in Counts(pasture)) Take(pasture, nests, end, count, chance);
            foreach (var nest in nests.Where(n => n.End == DemoEnd.Eaten)) nest.Culprit = Culprit(pasture, chance);
            foreach (var nest in nests) nest.EndDay = EndDay(nest, chance);
            foreach (var nest in Draw.Without(nests, pasture.Cameras, chance)) nest.HasCamera = true;
            if (nests.FirstOrDefault(n => n is { End: DemoEnd.Whole, HasCamera: false, Number: 3 }) is { } hidden) hidden.IsHardToFind = pasture.NotFound > 0;
        }
    }

    private static (DemoEnd End, int Count)[] Counts(DemoPasture p) =>
        [(DemoEnd.Trampled, p.Trampled), (DemoEnd.Flooded, p.Flooded), (DemoEnd.Eaten, p.Eaten), (DemoEnd.Spoiled, p.Spoiled), (DemoEnd.NotFound, p.NotFound)];

    /// <summary>Draws nests one by one, without putting back, by weights that depend on line, cover and what became of the neighbours.</summary>
    private static void Take(DemoPasture pasture, DemoNest[] nests, DemoEnd end, int count, Seeded chance)
    {
        var lineDanger = nests.Select(n => n.Line).Distinct().ToDictionary(l => l, _ => Math.Exp(LineSpread * chance.NextNormal()));
        var weights = new double[nests.Length];
        for (var taken = 0; taken < count; taken++)
        {
            for (var i = 0; i < nests.Length; i++) weights[i] = Weight(pasture, nests, i, end, lineDanger[nests[i].Line]);
            nests[Draw.Weighted(weights, chance)].End = end;
        }
    }

    private static double Weight(DemoPasture pasture, DemoNest[] nests, int i, DemoEnd end, double lineDanger)
    {
        var nest = nests[i];
        if (nest.End != DemoEnd.Whole) return 0;
        if (!pasture.LostByLine.IsEmpty && Left(pasture, nest.Line) == 0) return 0;
        if (end is DemoEnd.Spoiled or DemoEnd.NotFound) return 1;
        if (end is DemoEnd.Trampled or DemoEnd.Flooded) return lineDanger;
        var besideEaten = Eaten(nests, i - 1, nest.Line) || Eaten(nests, i + 1, nest.Line);
        return lineDanger * (nest.Cover == DemoLines.Covers[0] ? pasture.GrassDanger : 1) * (besideEaten ? pasture.RunsAlongLine : 1);
    }

    private static bool Eaten(DemoNest[] nests, int i, DemoLine line) => i >= 0 && i < nests.Length && nests[i].Line == line && nests[i].End == DemoEnd.Eaten;

    private static int Left(DemoPasture pasture, DemoLine line) => pasture.LostByLine[line.Number - 1] - line.Nests.Count(n => n.IsLost);

    private static double EndDay(DemoNest nest, Seeded chance) => nest.End switch
    {
        DemoEnd.Eaten => EatenDay(nest, chance),
        DemoEnd.Trampled => TrampledFrom(nest) + ((LastEndDay - TrampledFrom(nest)) * chance.NextUniform()),
        DemoEnd.Flooded => Rain.DayNumber - nest.Line.SetOn.DayNumber + 0.4,
        DemoEnd.Spoiled => 5 + (7 * chance.NextUniform()),
        _ => 0,
    };

    /// <summary>On days 1 to 11 or 16 to 25, so that a check lies well before or after; by night, but for birds and snakes.</summary>
    private static double EatenDay(DemoNest nest, Seeded chance)
    {
        var night = chance.NextUniform() < 0.55 ? 1 + chance.NextBelow(11) : 16 + chance.NextBelow(10);
        var minute = nest.Culprit is "bird" or "snake" ? 540 + (540 * chance.NextUniform()) : 1260 + (480 * chance.NextUniform());
        var afterSetting = (minute - DemoNests.SetMinutes(nest)) / DemoText.MinutesADay;
        return night + afterSetting - Math.Floor(afterSetting);
    }

    private static double TrampledFrom(DemoNest nest) => nest.Line.Pasture.HasCattle ? CattleIn.DayNumber - nest.Line.SetOn.DayNumber + 0.3 : 1.5;

    private static readonly string[] Culprits = ["raccoon", "skunk", "coyote", "opossum", "bobcat", "snake", "feral_hog", "bird"];
    private static readonly double[] InOldField = [0.34, 0.34, 0.12, 0.08, 0.03, 0.05, 0.03, 0.01];
    private static readonly double[] Elsewhere = [0.25, 0.13, 0.22, 0.1, 0.08, 0.1, 0.08, 0.04];

    private static string Culprit(DemoPasture pasture, Seeded chance) => Culprits[Draw.Weighted(pasture.Name == "Old Field" ? InOldField : Elsewhere, chance)];
}
