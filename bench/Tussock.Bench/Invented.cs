using System.Collections.Immutable;
using System.Globalization;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Bench;

/// <summary>Invented seasons of any size: lines of twelve nests, five lines a pasture, visits at day 14 and 28 or at odd days.</summary>
internal static class Invented
{
    private const int NestsALine = 50;
    private const int LinesAPasture = 5;
    private const string Description = """
        { "name": "bench", "season": { "name": "bench", "year": "2026", "trial_days": 28, "check_days": [14, 28],
          "cover_classes": [ { "name": "grass", "role": "grass" }, { "name": "cactus", "role": "other" } ],
          "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 } }, "resources": [] }
        """;

    internal static SeasonTables Tables(int nests, ulong seed)
    {
        var chance = Seeded.Of(seed);
        List<ImmutableArray<string>> pastures = [], transects = [], rows = [], visits = [], belts = [];
        for (var line = 0; line * NestsALine < nests; line++)
        {
            string pasture = Text(line / LinesAPasture), name = Text(line), property = "P" + Text(line / LinesAPasture % 10);
            if (line % LinesAPasture == 0) pastures.Add([property, pasture]);
            transects.Add([property, pasture, name, "2026-05-02"]);
            belts.Add([name, "1", "250", "1", "6", "grass", Text(chance.NextBelow(40))]);
            var rate = Rate(chance);
            for (var nest = 1; nest <= NestsALine && (line * NestsALine) + nest <= nests; nest++)
            {
                rows.Add([name, Text(nest), nest % 3 == 0 ? "cactus" : "grass"]);
                var lost = -Math.Log(1 - chance.NextUniform()) / rate;
                foreach (var day in (int[])[14, 28])
                {
                    visits.Add([name, Text(nest), Text(day), chance.NextUniform() < 0.02 ? "not_relocated" : lost > day ? "intact" : "depredated"]);
                    if (lost <= day) break;
                }
            }
        }

        return new SeasonTables(SeasonPackage.Parse(Description),
            [
                Table(RecordKind.Pastures, "property pasture", pastures),
                Table(RecordKind.Transects, "property pasture transect set_on", transects),
                Table(RecordKind.Nests, "transect nest cover", rows),
                Table(RecordKind.Visits, "transect nest day finding", visits),
                Table(RecordKind.Belts, "transect segment steps step_m arm_span_m cover clumps", belts),
            ],
            ImmutableSortedDictionary<string, string>.Empty);
    }

    internal static Season Season(int nests, ulong seed) => SeasonReading.Read(Tables(nests, seed), out _)!;

    /// <summary>Nests visited at days of their own, to a tenth of a day.</summary>
    internal static NestSpans Untied(int nests, ulong seed)
    {
        var spans = SeasonFates.Of(Season(nests, seed)).Spans;
        var chance = Seeded.Of(seed, 1);
        for (var row = 0; row < spans.Count; row++)
        {
            if (spans.LastIntact[row] > 0) spans.LastIntact[row] += Math.Round((4 * chance.NextUniform()) - 2, 1);
            if (!double.IsPositiveInfinity(spans.FirstLost[row])) spans.FirstLost[row] = Math.Max(spans.LastIntact[row] + 1, spans.FirstLost[row] + Math.Round((4 * chance.NextUniform()) - 2, 1));
        }

        return spans;
    }

    private static double Rate(Seeded chance) => Math.Exp(-0.4 + (0.5 * chance.NextNormal())) / 28;

    private static string Text(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static RecordTable Table(RecordKind kind, string columns, List<ImmutableArray<string>> rows) => new(kind, [.. columns.Split(' ')], [.. rows.Select((cells, i) => new RecordRow(i + 2, cells))]);
}
