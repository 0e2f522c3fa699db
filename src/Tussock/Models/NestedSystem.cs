using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>
/// The curvature C = I + Σ_g w_g·a_g·a_gᵀ of all random effects together, where a_g holds the standard deviations of the effects that shift group g, its own first.
/// </summary>
/// <remarks>
/// The table's groups make a diagonal block D_g = 1 + σ₀²w_g and are eliminated; what is left for the levels above is I + Σ_g (w_g/D_g)·b_g·b_gᵀ, dense, with b_g the part of a_g above.
/// With P its inverse and q_g = b_gᵀPb_g: a_gᵀC⁻¹a_g = σ₀²/D_g + q_g/D_g². Cost: linear in groups, cubic in levels above. Belongs to one thread at a time.
/// </remarks>
internal sealed class NestedSystem(int groups, ImmutableArray<Grouping> above)
{
    private readonly int[] first = Offsets(above);
    private readonly double[] upper = new double[Count(above) * Count(above)];
    private readonly double[] spreads = new double[above.Length + 1];

    /// <summary>Levels above, all groupings together.</summary>
    public int Upper { get; } = Count(above);

    /// <summary>D_g.</summary>
    public double[] Diagonal { get; } = new double[groups];

    /// <summary>w_g.</summary>
    public double[] Weight { get; } = new double[groups];

    /// <summary>log det C.</summary>
    public double LogDeterminant { get; private set; }

    /// <summary>P, full; filled by <see cref="Invert"/>.</summary>
    public double[] Inverse { get; private set; } = [];

    /// <summary>Index among the levels above of the level of group g in a grouping.</summary>
    public int Place(int grouping, int group) => first[grouping] + above[grouping].Level[group];

    /// <summary>Factors C for standard deviations and weights; false when it is not positive definite.</summary>
    public bool Factor(ReadOnlySpan<double> sds)
    {
        sds.CopyTo(spreads);
        Array.Clear(upper);
        LogDeterminant = 0;
        for (var q = 0; q < Upper; q++) upper[q * Upper + q] = 1;
        for (var g = 0; g < groups; g++)
        {
            Diagonal[g] = 1 + spreads[0] * spreads[0] * Weight[g];
            if (!(Diagonal[g] > 0)) return false;
            LogDeterminant += Math.Log(Diagonal[g]);
            var rest = Weight[g] / Diagonal[g];
            for (var r = 0; r < above.Length; r++)
                for (var t = 0; t < above.Length; t++) upper[Place(r, g) * Upper + Place(t, g)] += rest * spreads[r + 1] * spreads[t + 1];
        }

        if (!Cholesky.Factor(upper, Upper)) return false;
        for (var q = 0; q < Upper; q++) LogDeterminant += 2 * Math.Log(upper[q * Upper + q]);
        return true;
    }

    /// <summary>Makes <see cref="Inverse"/> from the factor.</summary>
    public void Invert() => Inverse = Cholesky.Inverse(upper, Upper);

    /// <summary>Solves C·x = r in place, r split into the table's groups and the levels above.</summary>
    public void Solve(double[] own, double[] over)
    {
        for (var g = 0; g < groups; g++)
        {
            var pull = spreads[0] * Weight[g] * own[g] / Diagonal[g];
            for (var r = 0; r < above.Length; r++) over[Place(r, g)] -= spreads[r + 1] * pull;
        }

        Cholesky.Solve(upper, Upper, over);
        for (var g = 0; g < groups; g++)
        {
            var pull = 0.0;
            for (var r = 0; r < above.Length; r++) pull += spreads[r + 1] * over[Place(r, g)];
            own[g] = (own[g] - spreads[0] * Weight[g] * pull) / Diagonal[g];
        }
    }

    /// <summary>(P·b_g) at the level of group g in a grouping.</summary>
    public double Along(int grouping, int group)
    {
        var sum = 0.0;
        for (var t = 0; t < above.Length; t++) sum += spreads[t + 1] * Inverse[Place(grouping, group) * Upper + Place(t, group)];
        return sum;
    }

    /// <summary>q_g = b_gᵀPb_g.</summary>
    public double Quadratic(int group)
    {
        var sum = 0.0;
        for (var r = 0; r < above.Length; r++) sum += spreads[r + 1] * Along(r, group);
        return sum;
    }

    private static int Count(ImmutableArray<Grouping> above) => above.Sum(a => a.Levels);

    private static int[] Offsets(ImmutableArray<Grouping> above) => [.. above.Select((_, r) => above.Take(r).Sum(a => a.Levels))];
}
