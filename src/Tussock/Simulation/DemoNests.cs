using Tussock.Land;
using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>The table of nests of an invented season: where they lie, and how the crew wrote it down.</summary>
internal static class DemoNests
{
    /// <summary>Degrees that a compass needle points east of true north there, about.</summary>
    private const double DeclinationEastDeg = 3.5;

    private const double GpsErrorM = 2.5;

    internal static RecordTable Table(IReadOnlyList<DemoLine> lines, Seeded chance)
    {
        var rows = new RowsOf(RecordKind.Nests, "transect", "nest", "cover", "set_on", "plant", "eggs", "egg_kind", "steps", "direction", "direction_sense", "north", "flag_lat", "flag_lon", "nest_lat", "nest_lon",
            "position_source", "gps_accuracy_m", "set_at", "note", "status", "class_due", "clump_choice", "side", "clump_height_cm", "clump_width_cm", "concealment");
        foreach (var nest in lines.SelectMany(l => l.Nests))
        {
            if (nest.Line.IsPlanned) rows.Add([.. Key(nest), ("cover", nest.Cover), ("class_due", nest.Cover)]);
            else if (!nest.HasClump) rows.Add([.. Key(nest), .. Flag(nest), ("set_on", Of(nest.Line.SetOn)), ("status", "no_clump"), ("class_due", nest.Cover), ("note", "nothing big enough within 25 steps")]);
            else rows.Add([.. Key(nest), .. Flag(nest), .. Set(nest, chance)]);
        }

        return rows.Table();
    }

    /// <summary>Minutes after midnight at which a nest is set.</summary>
    internal static double SetMinutes(DemoNest nest) => 450 + (110 * ((nest.Line.Number - 1) % 4)) + (10 * nest.Number);

    private static (string, string)[] Key(DemoNest nest) => [("transect", nest.Line.Name), ("nest", Of(nest.Number))];

    private static (string, string)[] Flag(DemoNest nest)
    {
        var flag = DemoLand.Place(DemoGround.Plane(nest.Line.Pasture.Property), nest.Line.Flag(nest.Number));
        return [("flag_lat", Of(flag.Latitude, 6)), ("flag_lon", Of(flag.Longitude, 6))];
    }

    private static (string, string)[] Set(DemoNest nest, Seeded chance)
    {
        var steps = 6 + chance.NextBelow(9);
        var onRight = chance.NextBelow(2) == 1;
        var across = nest.Line.BearingDeg + (onRight ? 90 : -90) + (45 * (chance.NextUniform() - 0.5));
        var magnetic = Math.Round((across - DeclinationEastDeg) / 22.5) * 22.5;
        var at = DemoLine.Along(nest.Line.Flag(nest.Number), magnetic + DeclinationEastDeg, steps * nest.Line.StepM);
        var place = DemoGround.Plane(nest.Line.Pasture.Property).Place(at.EastM + (GpsErrorM * chance.NextNormal()), at.NorthM + (GpsErrorM * chance.NextNormal()));
        var backwards = nest.Line.Walker == DemoWalker.Two && nest.Number % 3 == 0;
        return
        [
            ("cover", nest.Cover), ("set_on", Of(nest.Line.SetOn)), ("plant", Plant(nest, chance)), ("eggs", "3"), ("egg_kind", "chicken"), ("steps", Of(steps)),
            ("direction", Written(nest, new Direction((((magnetic + (backwards ? 180 : 0)) % 360) + 360) % 360, true).Point)), ("direction_sense", Sense(nest, backwards)), ("north", "magnetic"),
            ("nest_lat", Of(place.Latitude, 6)), ("nest_lon", Of(place.Longitude + Slip(nest), 6)), ("position_source", "gps"), ("gps_accuracy_m", Of(3 + chance.NextBelow(4))),
            ("set_at", nest.Line.Pasture.HasTimes ? Clock(SetMinutes(nest)) : ""), ("status", "set"), ("class_due", nest.Cover),
            ("clump_choice", Draw.One<string>(["nearest", "nearest", "nearest", "best_seen", "only_one"], chance)), ("side", onRight ? "right" : "left"),
            ("clump_height_cm", Of(40 + chance.NextBelow(50))), ("clump_width_cm", Of(30 + chance.NextBelow(60))), ("concealment", Of(2 + chance.NextBelow(4))),
        ];
    }

    private static string Plant(DemoNest nest, Seeded chance) => nest.Cover == DemoLines.Covers[0]
        ? Draw.One<string>(["little bluestem", "tanglehead", "buffelgrass"], chance)
        : "prickly pear";

    /// <summary>One slip of the pen: a point that no compass has.</summary>
    private static string Written(DemoNest nest, string point) => nest is { Line.Name: "N6", Number: 4 } ? "NEN" : point;

    /// <summary>Nobody wrote the sense on one line.</summary>
    private static string Sense(DemoNest nest, bool backwards) => nest.Line.Name == "C4" ? "" : backwards ? "nest_to_flag" : "flag_to_nest";

    /// <summary>One slip of the pen: a longitude typed 0.01° too far east.</summary>
    private static double Slip(DemoNest nest) => nest is { Line.Name: "M2", Number: 5 } ? 0.01 : 0;
}
