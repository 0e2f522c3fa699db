using System.Collections.Immutable;
using System.Text;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Simulation;

/// <summary>The description of the built-in season.</summary>
internal static class DemoPackage
{
    private const string Settings = """
        {
          "name": "invented-2026",
          "year": "2026",
          "species": "northern bobwhite",
          "time_zone": "America/Chicago",
          "trial_days": 28,
          "check_days": [14, 28],
          "window_days": 3,
          "cover_classes": [ { "name": "bunchgrass", "role": "grass" }, { "name": "prickly pear", "role": "other" } ],
          "loss_rule": "any_egg",
          "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 },
          "clump_rule": { "min_height_cm": 25, "min_width_cm": 25, "living_only": true, "classes_that_count": ["bunchgrass", "prickly pear"] },
          "edge_rule": "rooted inside the belt",
          "search_rule_steps": 25,
          "renew_eggs": "all_intact",
          "egg_kind": "chicken",
          "egg_colour": "brown",
          "rain_since_october_mm": 352,
          "rain_normal_mm": 410,
          "comment": "An invented season, made by the program to show what a report looks like. Nothing in it happened."
        }
        """;

    internal static SeasonPackage Of(ulong seed, ImmutableArray<RecordTable> tables)
    {
        var text = new StringBuilder("{ \"name\": \"invented-2026\", \"title\": \"Thirteen Gates and Two Windmills, 2026 (invented)\", \"profile\": \"tabular-data-package\", \"made_from_seed\": ")
            .Append(seed.ToString(System.Globalization.CultureInfo.InvariantCulture)).Append(", \"season\": ").Append(Settings).Append(", \"resources\": [");
        text.AppendJoin(", ", tables.Select(Resource));
        return SeasonPackage.Parse(text.Append("] }").ToString());
    }

    internal static string Resource(RecordTable table) =>
        "{ \"name\": \"" + table.Kind.Name + "\", \"path\": \"" + table.Kind.File + "\", \"profile\": \"tabular-data-resource\", \"format\": \"csv\", \"mediatype\": \"text/csv\", \"encoding\": \"utf-8\", \"schema\": { \"fields\": ["
        + string.Join(", ", table.Columns.Select(c => "{ \"name\": \"" + c + "\", \"type\": \"" + Type(table.Kind.ColumnNamed(c)) + "\" }")) + "] } }";

    private static string Type(Column? column) => column?.Type switch
    {
        ColumnType.Count => "integer",
        ColumnType.Number or ColumnType.Amount or ColumnType.Latitude or ColumnType.Longitude => "number",
        ColumnType.Date => "date",
        _ => "string",
    };
}
