using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>A season made of a few typed numbers: nests whole of nests set, a line each, and perhaps clumps a line. The tailgate answer uses the very same estimators.</summary>
public static class QuickSeason
{
    /// <summary>Name of the property, pasture and season of typed numbers.</summary>
    public const string Name = "quick";

    /// <summary>Makes the season.</summary>
    /// <param name="lines">For each line: nests whole at the end and nests set, 0 ≤ whole ≤ set, set ≥ 1.</param>
    /// <param name="clumps">Clumps counted on each belt; empty: no belts.</param>
    /// <param name="areaM2">Area of one belt in square metres.</param>
    /// <param name="settings">Trial days and benchmarks are taken from here.</param>
    public static Season Of(ImmutableArray<(int Whole, int Set)> lines, ImmutableArray<int> clumps, double areaM2, SeasonSettings settings)
    {
        var nests = new List<ImmutableArray<string>>();
        var visits = new List<ImmutableArray<string>>();
        var transects = new List<ImmutableArray<string>>();
        var belts = new List<ImmutableArray<string>>();
        for (var line = 0; line < Math.Max(lines.Length, clumps.Length); line++)
        {
            var name = Words.Numbers.Whole(line + 1);
            transects.Add([Name, Name, name, "2000-01-01"]);
            if (line < clumps.Length) belts.Add([name, "1", Number(areaM2), "1", "1", "any", Words.Numbers.Whole(clumps[line])]);
            for (var nest = 1; line < lines.Length && nest <= lines[line].Set; nest++)
            {
                nests.Add([name, Words.Numbers.Whole(nest), "any"]);
                visits.Add([name, Words.Numbers.Whole(nest), Words.Numbers.Whole(settings.TrialDays), nest <= lines[line].Whole ? "intact" : "depredated"]);
            }
        }

        var tables = new SeasonTables(
            new SeasonPackage([], [new JsonProperty("name", "\"" + Name + "\""), new JsonProperty("trial_days", Words.Numbers.Whole(settings.TrialDays)), new JsonProperty("judge", "\"pasture\""), new JsonProperty("benchmarks", Benchmarks(settings)), new JsonProperty("cover_classes", "[\"any\"]")], []),
            [
                Table(RecordKind.Pastures, "property pasture", [[Name, Name]]),
                Table(RecordKind.Transects, "property pasture transect set_on", transects),
                Table(RecordKind.Nests, "transect nest cover", nests),
                Table(RecordKind.Visits, "transect nest day finding", visits),
                Table(RecordKind.Belts, "transect segment steps step_m arm_span_m cover clumps", belts),
            ],
            ImmutableSortedDictionary<string, string>.Empty);
        return SeasonReading.Read(tables, out var problems) ?? throw new ArgumentException("Typed numbers make no season: " + problems[0].What.Key, nameof(lines));
    }

    private static string Benchmarks(SeasonSettings s) => "{\"survival\":" + Number(s.SurvivalBenchmark) + ",\"clumps_per_acre\":" + Number(s.ClumpsPerAcreBenchmark) + "}";

    private static string Number(double x) => x.ToString("R", System.Globalization.CultureInfo.InvariantCulture);

    private static RecordTable Table(RecordKind kind, string columns, List<ImmutableArray<string>> rows) =>
        new(kind, [.. columns.Split(' ')], [.. rows.Select((cells, i) => new RecordRow(i + 2, cells))]);
}
