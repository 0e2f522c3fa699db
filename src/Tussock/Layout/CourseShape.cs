using System.Collections.Immutable;

namespace Tussock.Layout;

/// <summary>How a line may run: its legs, each with the turn before it and its length in stretches from flag to flag.</summary>
internal sealed record CourseShape(LineForm Form, ImmutableArray<(int TurnDeg, int Stretches)> Legs)
{
    private static readonly int[] Sides = [90, -90];

    internal static CourseShape Straight(int stations) => new(LineForm.Straight, [(0, stations)]);

    /// <summary>Shapes with corners, in the order in which they are tried: two legs, from equal ones on; then rectangles, from the squarest on.</summary>
    internal static IEnumerable<CourseShape> WithCorners(int stations)
    {
        foreach (var first in new[] { stations / 2, stations / 3, stations - (stations / 3) }.Where(f => f > 0 && f < stations).Distinct())
            foreach (var turn in Sides) yield return new CourseShape(LineForm.Bent, [(0, first), (turn, stations - first)]);
        var half = (stations + 1) / 2;
        foreach (var (along, across) in Enumerable.Range(1, half / 2).Reverse().Select(across => (half - across, across)))
        {
            if (stations < 4) continue;
            foreach (var turn in Sides)
            {
                var last = stations - along - across - along;
                ImmutableArray<(int, int)> legs = [(0, along), (turn, across), (turn, along)];
                yield return new CourseShape(LineForm.Loop, last > 0 ? legs.Add((turn, last)) : legs);
            }
        }
    }

    /// <summary>Metres between the two corners that lie farthest apart.</summary>
    internal double ExtentM(double stretchM)
    {
        var corners = Corners(new Spot(0, 0), 0, stretchM);
        return corners.Max(c => corners.Max(d => Gap.ToPiece(c, d, d)));
    }

    /// <summary>The corners of the line, its two ends among them.</summary>
    internal Spot[] Corners(Spot start, int bearingDeg, double stretchM)
    {
        var corners = new Spot[Legs.Length + 1];
        corners[0] = start;
        for (var i = 0; i < Legs.Length; i++)
        {
            bearingDeg += Legs[i].TurnDeg;
            corners[i + 1] = corners[i].Along(bearingDeg, Legs[i].Stretches * stretchM);
        }

        return corners;
    }

    /// <summary>Where the walker turns.</summary>
    internal ImmutableArray<LineCorner> Turns(int bearingDeg)
    {
        var turns = ImmutableArray.CreateBuilder<LineCorner>();
        var flag = Legs[0].Stretches;
        foreach (var (turn, stretches) in Legs.Skip(1))
        {
            bearingDeg = (bearingDeg + turn + 360) % 360;
            turns.Add(new LineCorner(flag, bearingDeg));
            flag += stretches;
        }

        return turns.ToImmutable();
    }

    /// <summary>The flags, flag 0 being the start.</summary>
    internal IEnumerable<Spot> Flags(Spot start, int bearingDeg, double stretchM)
    {
        yield return start;
        foreach (var (turn, stretches) in Legs)
        {
            bearingDeg += turn;
            for (var i = 1; i <= stretches; i++) yield return start.Along(bearingDeg, i * stretchM);
            start = start.Along(bearingDeg, stretches * stretchM);
        }
    }
}
