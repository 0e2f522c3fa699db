using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Evidence.Practice;
using Tussock.Fates;
using Tussock.Land;
using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>A drawn trial as the records of a season for practice: what a crew would have written down, and no more.</summary>
internal sealed class WalkedRecords(SimulatedNests nests, SeasonDesign design, Trial trial, Seeded chance)
{
    private const string Property = "Invented ranch", Pasture = "Practice ground", Walker = "crew 1";
    private const double LinesApartM = 300, Steps = 50, StepM = 0.75, ArmSpanM = 1.8, RemainsRead = 0.8;
    private const int LinesADay = 4, Eggs = 3, NameLetters = 8;
    private static readonly DateOnly From = new(2026, 5, 4);
    private static readonly LocalPlane Plane = new(new Position(27, -98));

    /// <summary>The tables.</summary>
    /// <param name="code">The season's sealed code: it stands in the description, and marks the season as one for practice.</param>
    /// <param name="hasBelts">Whether clumps were counted.</param>
    /// <param name="culprits">Chance that a loss is by each class of the invented place.</param>
    internal SeasonTables Tables(string code, bool hasBelts, ImmutableArray<double> culprits)
    {
        ImmutableArray<RecordTable> tables = [Pastures(), Transects(), Nests(), Visits(), Remains(culprits), .. hasBelts ? [Belts()] : ImmutableArray<RecordTable>.Empty];
        return new SeasonTables(SeasonPackage.Parse(Description(code, tables)), tables, ImmutableSortedDictionary<string, string>.Empty.WithComparers(StringComparer.Ordinal));
    }

    /// <summary>Name of a line, from 0.</summary>
    internal static string Line(int line) => "P" + Of(line + 1);

    private static DateOnly SetOn(int line) => From.AddDays(line / LinesADay);

    private string Description(string code, ImmutableArray<RecordTable> tables)
    {
        // Of the code only its hidden part, and of that enough to tell seasons apart: the name stands in every table.
        var name = "practice " + code[(code.LastIndexOf('-') + 1)..][..NameLetters];
        var checks = "[" + Of((int)trial.FirstCheck) + ", " + Of((int)trial.Days) + "]";
        return $$"""
            { "name": "{{name.Replace(' ', '-').ToLowerInvariant()}}", "title": "Invented, for practice ({{code}})", "profile": "tabular-data-package",
              "season": { "name": "{{name}}", "practice": {{JsonSerializer.Serialize(code)}}, "species": "northern bobwhite", "time_zone": "America/Chicago", "trial_days": {{Of((int)trial.Days)}}, "check_days": {{checks}}, "window_days": {{Of((int)trial.Window)}},
                "cover_classes": [ { "name": "{{DemoLines.Covers[0]}}", "role": "grass" }, { "name": "{{DemoLines.Covers[1]}}", "role": "other" } ], "loss_rule": "any_egg", "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 },
                "renew_eggs": "all_intact", "egg_kind": "chicken", "comment": "An invented season, for practice. Nothing in it happened." },
              "resources": [{{string.Join(", ", tables.Select(DemoPackage.Resource))}}] }
            """;
    }

    private static RecordTable Pastures()
    {
        var rows = new RowsOf(RecordKind.Pastures, "property", "pasture", "note");
        rows.Add(("property", Property), ("pasture", Pasture), ("note", "invented, for practice"));
        return rows.Table();
    }

    private RecordTable Transects()
    {
        var rows = new RowsOf(RecordKind.Transects, "property", "pasture", "transect", "set_on", "observer", "start_lat", "start_lon", "bearing_true_deg", "step_m", "steps_between");
        for (var line = 0; line < design.Lines; line++)
        {
            var start = Plane.Place(line * LinesApartM, 0);
            rows.Add(("property", Property), ("pasture", Pasture), ("transect", Line(line)), ("set_on", Of(SetOn(line))), ("observer", Walker), ("start_lat", Of(start.Latitude, 6)), ("start_lon", Of(start.Longitude, 6)),
                ("bearing_true_deg", "0"), ("step_m", Of(StepM, 2)), ("steps_between", Of(Steps, 0)));
        }

        return rows.Table();
    }

    private RecordTable Nests()
    {
        var rows = new RowsOf(RecordKind.Nests, "transect", "nest", "cover", "set_on", "eggs", "egg_kind", "steps", "direction", "direction_sense", "north", "status");
        for (var row = 0; row < nests.Spans.Nest.Length; row++)
        {
            rows.Add([.. Key(row), ("cover", DemoLines.Covers[nests.Spans.Cover[row]]), ("set_on", Of(SetOn(nests.Spans.Line[row]))), ("eggs", Of(Eggs)), ("egg_kind", "chicken"), ("steps", Of(6 + chance.NextBelow(9))),
                ("direction", Draw.One<string>(["E", "W", "ENE", "WSW"], chance)), ("direction_sense", "flag_to_nest"), ("north", "true"), ("status", "set")]);
        }

        return rows.Table();
    }

    private RecordTable Visits()
    {
        var rows = new RowsOf(RecordKind.Visits, "transect", "nest", "visited_on", "observer", "finding", "eggs_intact", "eggs_missing", "eggs_refreshed", "purpose", "not_found_because");
        for (var row = 0; row < nests.Spans.Nest.Length; row++)
        {
            var late = nests.LateDays[nests.Spans.Line[row]];
            foreach (var day in new[] { (int)trial.FirstCheck + late, (int)trial.Days + late })
            {
                (string, string)[] head = [.. Key(row), ("visited_on", Of(SetOn(nests.Spans.Line[row]).AddDays(day))), ("observer", Walker), ("purpose", "check")];
                if (nests.Spans.FirstLost[row] == day) rows.Add([.. head, ("finding", "depredated"), ("eggs_intact", "0"), ("eggs_missing", Of(Eggs))]);
                else if (nests.Spans.LastIntact[row] >= day) rows.Add([.. head, ("finding", "intact"), ("eggs_intact", Of(Eggs)), ("eggs_refreshed", day < trial.Days ? "yes" : "no")]);
                else rows.Add([.. head, ("finding", "not_relocated"), ("not_found_because", "searched_all")]);
                if (nests.Spans.FirstLost[row] <= day) break;
            }
        }

        return rows.Table();
    }

    private RecordTable Remains(ImmutableArray<double> culprits)
    {
        var rows = new RowsOf(RecordKind.Remains, "transect", "nest", "visited_on", "sign", "value", "observer");
        for (var row = 0; row < nests.Spans.Nest.Length; row++)
        {
            var left = InventedNests.Standard.Draw(chance, culprits);
            var isRead = chance.NextUniform() < RemainsRead;
            if (!nests.Spans.IsLost(row) || !isRead) continue;
            foreach (var (sign, value) in left.Signs) rows.Add([.. Key(row), ("visited_on", Of(SetOn(nests.Spans.Line[row]).AddDays((int)nests.Spans.FirstLost[row]))), ("sign", sign), ("value", value), ("observer", Walker)]);
        }

        return rows.Table();
    }

    /// <summary>A line's clumps, each fallen on one of its segments by chance.</summary>
    private RecordTable Belts()
    {
        var rows = new RowsOf(RecordKind.Belts, "transect", "segment", "steps", "step_m", "arm_span_m", "cover", "clumps", "counted_on", "observer", "pass", "side", "status");
        for (var line = 0; line < design.Lines; line++)
        {
            var counts = new int[design.Nests];
            for (var clump = 0; clump < nests.Belts[line].Clumps; clump++) counts[chance.NextBelow(design.Nests)]++;
            for (var segment = 0; segment < design.Nests; segment++)
            {
                rows.Add(("transect", Line(line)), ("segment", Of(segment + 1)), ("steps", Of(Steps, 0)), ("step_m", Of(StepM, 2)), ("arm_span_m", Of(ArmSpanM, 2)), ("cover", DemoLines.Covers[0]), ("clumps", Of(counts[segment])),
                    ("counted_on", Of(SetOn(line))), ("observer", Walker), ("pass", "1"), ("side", "both"), ("status", "counted"));
            }
        }

        return rows.Table();
    }

    private (string, string)[] Key(int row) => [("transect", Line(nests.Spans.Line[row])), ("nest", Of(nests.Spans.Nest[row]))];
}
