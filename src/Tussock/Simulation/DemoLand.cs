using Tussock.Land;
using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>Tables about the land of an invented season: pastures, lines, what happened, who walked.</summary>
internal static class DemoLand
{
    internal static RecordTable Pastures(DemoGround ground)
    {
        var rows = new RowsOf(RecordKind.Pastures, "property", "pasture", "area_ha", "management", "note");
        foreach (var p in DemoPasture.All)
        {
            rows.Add(("property", p.Property), ("pasture", p.Name), ("area_ha", Of(Measures.Area.Hectares(ground.AreaM2(p)), 1)), ("management", p.Management), ("note", p.Note));
        }

        return rows.Table();
    }

    /// <summary>The column "soil" is one that nobody knows: it has to come back as it is.</summary>
    internal static RecordTable Transects(IReadOnlyList<DemoLine> lines, Seeded chance)
    {
        var rows = new RowsOf(RecordKind.Transects, "property", "pasture", "transect", "set_on", "observer", "start_lat", "start_lon", "bearing_true_deg", "step_m", "steps_between",
            "line", "end_lat", "end_lon", "paced_by", "flags_out", "flags_in", "picked_up_on", "note", "soil");
        foreach (var line in lines)
        {
            var plane = DemoGround.Plane(line.Pasture.Property);
            var (start, end) = (Place(plane, line.Flag(0)), Place(plane, line.Flag(line.Nests.Count)));
            var soil = Draw.One<string>(["sandy loam", "clay loam", "sand"], chance);
            rows.Add(("property", line.Pasture.Property), ("pasture", line.Pasture.Name), ("transect", line.Name), ("set_on", line.IsPlanned ? "" : Of(line.SetOn)),
                ("observer", line.IsPlanned ? "" : line.Walker.Name), ("start_lat", Of(start.Latitude, 6)), ("start_lon", Of(start.Longitude, 6)), ("bearing_true_deg", Of(line.BearingDeg, 0)),
                ("step_m", Of(line.StepM, 2)), ("steps_between", Of(DemoGround.StepsBetween, 0)), ("line", line.Pasture.Name + " " + Of(line.Number)),
                ("end_lat", Of(end.Latitude, 6)), ("end_lon", Of(end.Longitude, 6)), ("paced_by", line.IsPlanned ? "" : line.Walker.Name),
                ("flags_out", line.IsPlanned ? "" : Of(line.Nests.Count + 1)), ("flags_in", line.IsPlanned ? "" : Of(line.Nests.Count + (line.Name == "C5" ? 0 : 1))),
                ("picked_up_on", line.IsPlanned ? "" : Of(line.SetOn.AddDays(line.Checks.Second))), ("note", line.IsPlanned ? "gate was locked, not set out" : ""), ("soil", soil));
        }

        return rows.Table();
    }

    internal static RecordTable Events()
    {
        var rows = new RowsOf(RecordKind.Events, "property", "pasture", "transect", "from", "to", "kind", "amount", "unit", "told_by", "note");
        rows.Add(("property", "Thirteen Gates"), ("pasture", "East Pasture"), ("from", Of(DemoEnds.CattleIn)), ("kind", "livestock_in"), ("amount", "30"), ("unit", "head"), ("told_by", "crew 1"));
        rows.Add(("property", "Thirteen Gates"), ("from", Of(new DateOnly(2026, 5, 22))), ("to", Of(new DateOnly(2026, 5, 22))), ("kind", "rain"), ("amount", "18"), ("unit", "mm"), ("told_by", "crew 2"));
        rows.Add(("property", "Thirteen Gates"), ("from", Of(DemoEnds.Rain)), ("to", Of(DemoEnds.Rain)), ("kind", "rain"), ("amount", "71"), ("unit", "mm"), ("told_by", "crew 2"), ("note", "road to the Old Field under water"));
        rows.Add(("property", "Two Windmills"), ("from", Of(DemoEnds.Rain)), ("to", Of(DemoEnds.Rain)), ("kind", "rain"), ("amount", "22"), ("unit", "mm"), ("told_by", "crew 1"));
        return rows.Table();
    }

    internal static RecordTable Crew(Seeded chance)
    {
        var rows = new RowsOf(RecordKind.Crew, "observer", "course_m", "steps", "arm_span_m", "walked_on", "ground");
        foreach (var walker in new[] { DemoWalker.One, DemoWalker.Two })
        {
            for (var walk = 0; walk < 3; walk++)
            {
                var steps = 100 / walker.StepM * (1 + (0.02 * chance.NextNormal()));
                rows.Add(("observer", walker.Name), ("course_m", "100"), ("steps", Of(steps, 0)), ("arm_span_m", Of(walker.ArmSpanM + (0.01 * (walk - 1)), 2)), ("walked_on", Of(new DateOnly(2026, 5, 9))), ("ground", walk == 0 ? "road" : "grass"));
            }
        }

        return rows.Table();
    }

    internal static Position Place(LocalPlane plane, (double EastM, double NorthM) at) => plane.Place(at.EastM, at.NorthM);
}
