using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Edges.Tests.Serving;

/// <summary>An invented season as large as one likes, with places, belts and remains: what a desk has to bear.</summary>
internal static class ManyNests
{
    private const int LinesAPasture = 50;
    private const int SegmentsAPart = 4;

    /// <summary>Lines of simulated nests in pastures of fifty lines; two visits a nest, boundaries, flags, nests and belts.</summary>
    internal static SeasonTables Of(string name, int lines, int nestsALine, ulong seed)
    {
        var chance = Seeded.Of(seed);
        List<ImmutableArray<string>> pastures = [], transects = [], nests = [], visits = [], remains = [], belts = [];
        var boundaries = new List<string>();
        for (var line = 0; line < lines; line++)
        {
            var (pasture, inPasture) = (line / LinesAPasture, line % LinesAPasture);
            string property = "Invented ranch " + N(pasture % 6 + 1), grazed = "Pasture " + N(pasture + 1), transect = "T" + N(line + 1);
            var (south, west) = (31.0 + (pasture * 0.06), -100.0);
            if (inPasture == 0)
            {
                pastures.Add([property, grazed, "800"]);
                boundaries.Add(Boundary(property, grazed, south, west));
            }

            transects.Add([property, grazed, transect, "2026-05-06", "crew 1", D(south + 0.002), D(west + 0.001 + (inPasture * 0.0011)), "0"]);
            var rate = Math.Exp(-0.4 + (0.5 * chance.NextNormal())) / 28;
            for (var nest = 1; nest <= nestsALine; nest++)
            {
                double latitude = south + 0.002 + (nest * 0.0009), longitude = west + 0.001 + (inPasture * 0.0011);
                nests.Add([transect, N(nest), nest % 3 == 0 ? "prickly pear" : "bunchgrass", "3", "10", "NNE", "flag_to_nest", "magnetic", D(latitude), D(longitude), D(latitude + 0.00007), D(longitude + 0.00003), "gps", "4", ""]);
                var lost = -Math.Log(1 - chance.NextUniform()) / rate;
                visits.Add([transect, N(nest), "2026-05-20", Finding(lost <= 14, chance), "crew 1", ""]);
                visits.Add([transect, N(nest), "2026-06-03", Finding(lost <= 28, chance), "crew 2", ""]);
                if (lost <= 14 && nest % 4 == 0) remains.Add([transect, N(nest), "2026-05-20", "shell", "crushed"]);
                if (nest % SegmentsAPart == 0) belts.Add([transect, N(nest), "50", "0.8", "1.7", "bunchgrass", N(chance.NextBelow(9))]);
            }
        }

        return new SeasonTables(Package(name),
            [
                Table(RecordKind.Pastures, "property pasture area_ha", pastures),
                Table(RecordKind.Transects, "property pasture transect set_on observer start_lat start_lon bearing_true_deg", transects),
                Table(RecordKind.Nests, "transect nest cover eggs steps direction direction_sense north flag_lat flag_lon nest_lat nest_lon position_source gps_accuracy_m note", nests),
                Table(RecordKind.Visits, "transect nest visited_on finding observer note", visits),
                Table(RecordKind.Remains, "transect nest visited_on sign value", remains),
                Table(RecordKind.Belts, "transect segment steps step_m arm_span_m cover clumps", belts),
            ],
            ImmutableSortedDictionary<string, string>.Empty.Add("pastures.geojson", """{"type":"FeatureCollection","features":[""" + string.Join(',', boundaries) + "]}"));
    }

    private static SeasonPackage Package(string name) => SeasonPackage.Parse($$"""
        { "title": "Invented, large", "season": { "name": "{{name}}", "year": "2026", "time_zone": "America/Chicago", "trial_days": 28, "check_days": [14, 28], "loss_rule": "any_egg",
          "cover_classes": [ { "name": "bunchgrass", "role": "grass" }, { "name": "prickly pear", "role": "other" } ], "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 } }, "resources": [] }
        """);

    private static string Finding(bool isLost, Seeded chance) => chance.NextUniform() < 0.02 ? "not_relocated" : isLost ? "depredated" : "intact";

    private static string Boundary(string property, string pasture, double south, double west)
    {
        var ring = string.Join(',', new[] { (0.0, 0.0), (0.0, 0.06), (0.05, 0.06), (0.05, 0.0), (0.0, 0.0) }.Select(c => "[" + D(west + c.Item2) + "," + D(south + c.Item1) + "]"));
        return new StringBuilder().Append("{\"type\":\"Feature\",\"properties\":{\"property\":\"").Append(property).Append("\",\"pasture\":\"").Append(pasture).Append("\"},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[").Append(ring).Append("]]}}").ToString();
    }

    private static RecordTable Table(RecordKind kind, string columns, List<ImmutableArray<string>> rows) => new(kind, [.. columns.Split(' ')], [.. rows.Select((cells, i) => new RecordRow(i + 2, cells))]);

    private static string N(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static string D(double degrees) => degrees.ToString("F6", CultureInfo.InvariantCulture);
}
