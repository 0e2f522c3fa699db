using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>Belt counts of an invented season: clumps scattered about the pasture's true density, which differs between lines and along them.</summary>
internal sealed class DemoBelts(Seeded chance)
{
    private const double LineSpread = 0.18;
    private const double SegmentSpread = 0.3;
    private static readonly double[] ClassShares = [0.68, 0.32];

    private readonly RowsOf rows = new(RecordKind.Belts, "transect", "segment", "steps", "step_m", "arm_span_m", "cover", "clumps", "counted_on", "observer", "pass", "side", "status", "reason");

    internal RecordTable Table(IReadOnlyList<DemoLine> lines)
    {
        foreach (var line in lines.Where(l => !l.IsPlanned))
        {
            var lineFactor = Factor(LineSpread);
            for (var segment = 1; segment <= line.Nests.Count; segment++) Count(line, segment, lineFactor * Factor(SegmentSpread));
        }

        return rows.Table();
    }

    private double Factor(double spread) => Math.Exp((spread * chance.NextNormal()) - (spread * spread / 2));

    private void Count(DemoLine line, int segment, double factor)
    {
        var isThicket = line.Name == "C2" && segment == 3;
        var isOneSided = line.Name == "E1" && segment == 2;
        var passes = line.Name == "M4" && segment == 1 ? 2 : 1;
        var acres = Measures.Area.Acres(DemoGround.StepsBetween * line.StepM * line.Walker.ArmSpanM * (isOneSided ? 0.5 : 1));
        for (var pass = 1; pass <= passes; pass++)
        {
            for (var cover = 0; cover < DemoLines.Covers.Length; cover++)
            {
                var clumps = Draw.Poisson(line.Pasture.ClumpsPerAcre * factor * ClassShares[cover] * acres, chance);
                rows.Add(("transect", line.Name), ("segment", Of(segment)), ("steps", Of(DemoGround.StepsBetween, 0)), ("step_m", Of(line.StepM, 2)), ("arm_span_m", Of(line.Walker.ArmSpanM, 2)),
                    ("cover", DemoLines.Covers[cover]), ("clumps", isThicket ? "" : Of(clumps)), ("counted_on", Of(line.SetOn)), ("observer", line.Walker.Name), ("pass", Of(pass)),
                    ("side", isOneSided ? "right" : "both"), ("status", isThicket ? "not_counted" : "counted"), ("reason", isThicket ? "thicket" : ""));
            }
        }
    }
}
