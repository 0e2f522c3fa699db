using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The log-likelihood of (β, σ₀, σ₁ …) with random intercepts of the table's groups and of further groupings, nested or crossed, by Laplace's approximation with observed curvature.</summary>
/// <remarks>
/// F(u) = Σ_g L_g(β, s_g) − |u|²/2 with the shift s_g = σ₀u_g + Σ_r σ_r·u_(level of g in r). At its mode A = F − ½ log det C, C as in <see cref="NestedSystem"/> with w_g = −S2_g.
/// The gradient is exact. With v_g = a_gᵀC⁻¹a_g and λ = C⁻¹·½Σ S3_g·v_g·a_g for the movement of the mode:
/// A_β = Σ V1_g + ½v_g·V3_g + (a_gᵀλ)·V2_g; A_σr = Σ (S1_g + ½v_g·S3_g + S2_g·a_gᵀλ)·u_r + S1_g·λ_r − w_g·(C⁻¹a_g)_r, subscript r for the entry of the level of g.
/// Second derivatives are differences of the exact gradient over four points (Richardson), with steps of 1e−3 on the scale of the link. Belongs to one thread at a time.
/// </remarks>
/// <source>Tierney &amp; Kadane 1986, Journal of the American Statistical Association 81, 82–86; Breslow &amp; Clayton 1993, the same 88, 9–25 (both from memory, to be confirmed). The derivatives are worked out here.</source>
/// <check>reference-seasons</check>
internal sealed class NestedLaplace : ILikelihood
{
    private const int PieceGroups = 100, MostSteps = 200;

    private const double LongestStep = 2, Tolerance = 1e-10, Step = 1e-3;

    private readonly ModelTable table;
    private readonly ImmutableArray<Grouping> above;
    private readonly GroupLikelihood likelihood;
    private readonly NestedSystem system;
    private readonly double[] scales, own, over, ownMove, overMove, shift, s1, s3, value;
    private readonly double[][] v;
    private readonly GroupDerivatives[] room;

    public NestedLaplace(ModelTable table, Link link, ImmutableArray<Grouping> above, double[] scales)
    {
        (this.table, this.above, this.scales) = (table, above, scales);
        likelihood = GroupLikelihood.Of(table, link);
        system = new NestedSystem(table.Groups, above);
        (own, over, ownMove, overMove) = (new double[table.Groups], new double[system.Upper], new double[table.Groups], new double[system.Upper]);
        (shift, s1, s3, value) = (new double[table.Groups], new double[table.Groups], new double[table.Groups], new double[table.Groups]);
        v = [.. Enumerable.Range(0, 3).Select(_ => new double[table.Groups * table.Width])];
        room = [.. Enumerable.Range(0, (table.Groups + PieceGroups - 1) / PieceGroups).Select(_ => new GroupDerivatives(table.Width))];
    }

    /// <inheritdoc/>
    public int Coefficients => table.Width;

    /// <inheritdoc/>
    public int Size => table.Width + 1 + above.Length;

    /// <inheritdoc/>
    public void At(ReadOnlySpan<double> parameters, Derivatives into)
    {
        var point = parameters.ToArray();
        double[] near = new double[Size], far = new double[Size], minus = new double[Size];
        into.Clear();
        for (var i = 0; i < Size; i++)
        {
            var step = Step / (i < Coefficients ? scales[i] : 1);
            Difference(point, i, step, near, minus);
            Difference(point, i, 2 * step, far, minus);
            for (var j = 0; j < Size; j++)
            {
                var second = (4 * near[j] - far[j]) / 3;
                into.Second[i * Size + j] += second / 2;
                into.Second[j * Size + i] += second / 2;
            }
        }

        into.Value = First(point, into.Gradient);
    }

    /// <summary>Value and exact gradient; not a number where no mode was found.</summary>
    public double First(double[] point, Span<double> gradient)
    {
        gradient.Clear();
        if (!FindMode(point)) return double.NaN;
        Each(g => Fill(g, room[g / PieceGroups]));
        if (!system.Factor(point.AsSpan(Coefficients))) return double.NaN;
        system.Invert();
        Gradient(point, gradient);
        var sum = -system.LogDeterminant / 2;
        foreach (var term in value) sum += term;
        foreach (var u in own) sum -= u * u / 2;
        foreach (var u in over) sum -= u * u / 2;
        return sum;
    }

    /// <inheritdoc/>
    public double[] StartingSpreads()
    {
        var starts = new double[above.Length + 1];
        starts[0] = Start(table.Groups, g => g);
        for (var r = 0; r < above.Length; r++) starts[r + 1] = Start(above[r].Levels, g => above[r].Level[g]);
        return starts;
    }

    /// <inheritdoc/>
    public (double Mode, double Sd)[] Modes(ReadOnlySpan<double> parameters)
    {
        var point = parameters.ToArray();
        First(point, new double[Size]);
        var sigma = point[Coefficients];
        return [.. Enumerable.Range(0, table.Groups).Select(g =>
        {
            double d = system.Diagonal[g], pull = sigma * system.Weight[g] / d;
            return (sigma * own[g], sigma * Math.Sqrt(1 / d + pull * pull * system.Quadratic(g)));
        })];
    }

    private double Start(int levels, Func<int, int> level)
    {
        var (score, information) = (new double[levels], new double[levels]);
        for (var g = 0; g < table.Groups; g++)
        {
            score[level(g)] += s1[g];
            information[level(g)] += system.Weight[g];
        }

        double excess = 0, squares = 1e-300;
        for (var q = 0; q < levels; q++) (excess, squares) = (excess + score[q] * score[q] - information[q], squares + information[q] * information[q]);
        return Math.Clamp(0.7 * Math.Sqrt(Math.Max(excess, 0) / squares), 0.2, 1);
    }

    private void Difference(double[] point, int i, double step, double[] into, double[] minus)
    {
        var kept = point[i];
        point[i] = kept + step;
        First(point, into);
        point[i] = kept - step;
        First(point, minus);
        point[i] = kept;
        for (var j = 0; j < into.Length; j++) into[j] = (into[j] - minus[j]) / (2 * step);
    }

    private void Each(Action<int> work)
    {
        void Piece(int piece)
        {
            for (var g = piece * PieceGroups; g < Math.Min(table.Groups, (piece + 1) * PieceGroups); g++) work(g);
        }

        if (room.Length == 1) Piece(0);
        else Ordered.For(room.Length, Piece);
    }

    /// <summary>Newton's method for all random effects at once, from where they were last.</summary>
    private bool FindMode(double[] point)
    {
        var sds = point.AsSpan(Coefficients).ToArray();
        Each(g => likelihood.Place(g, point.AsSpan(0, Coefficients)));
        for (var step = 0; step < MostSteps; step++)
        {
            Each(g =>
            {
                shift[g] = Shift(g, sds, own, over);
                (s1[g], var second) = likelihood.Slopes(g, shift[g]);
                system.Weight[g] = -second;
            });
            if (!system.Factor(sds)) return false;
            for (var q = 0; q < over.Length; q++) overMove[q] = -over[q];
            for (var g = 0; g < own.Length; g++)
            {
                ownMove[g] = sds[0] * s1[g] - own[g];
                for (var r = 0; r < above.Length; r++) overMove[system.Place(r, g)] += sds[r + 1] * s1[g];
            }

            system.Solve(ownMove, overMove);
            var largest = 0.0;
            for (var g = 0; g < own.Length; g++) largest = Math.Max(largest, Math.Abs(Shift(g, sds, ownMove, overMove)));
            if (!double.IsFinite(largest)) return Forget();
            var share = Math.Min(1, LongestStep / Math.Max(largest, 1e-300));
            var moved = 0.0;
            for (var g = 0; g < own.Length; g++) (own[g], moved) = (own[g] + share * ownMove[g], Math.Max(moved, Math.Abs(ownMove[g])));
            for (var q = 0; q < over.Length; q++) (over[q], moved) = (over[q] + share * overMove[q], Math.Max(moved, Math.Abs(overMove[q])));
            if (moved < Tolerance) return true;
        }

        return Forget();
    }

    private bool Forget()
    {
        Array.Clear(own);
        Array.Clear(over);
        return false;
    }

    private double Shift(int group, ReadOnlySpan<double> sds, double[] groups, double[] levels)
    {
        var sum = sds[0] * groups[group];
        for (var r = 0; r < above.Length; r++) sum += sds[r + 1] * levels[system.Place(r, group)];
        return sum;
    }

    private void Fill(int g, GroupDerivatives d)
    {
        likelihood.At(g, shift[g], d, higher: true);
        (value[g], s1[g], s3[g], system.Weight[g]) = (d.Value, d.S1, d.S3, -d.S2);
        d.V1.CopyTo(v[0], g * table.Width);
        d.V2.CopyTo(v[1], g * table.Width);
        d.V3.CopyTo(v[2], g * table.Width);
    }

    private void Gradient(double[] point, Span<double> gradient)
    {
        var (sds, width) = (point.AsSpan(Coefficients).ToArray(), table.Width);
        double[] spread = new double[table.Groups], quadratic = new double[table.Groups];
        Array.Clear(overMove);
        for (var g = 0; g < table.Groups; g++)
        {
            quadratic[g] = system.Quadratic(g) / (system.Diagonal[g] * system.Diagonal[g]);
            spread[g] = sds[0] * sds[0] / system.Diagonal[g] + quadratic[g];
            var pull = s3[g] * spread[g] / 2;
            ownMove[g] = sds[0] * pull;
            for (var r = 0; r < above.Length; r++) overMove[system.Place(r, g)] += sds[r + 1] * pull;
        }

        system.Solve(ownMove, overMove);
        for (var g = 0; g < table.Groups; g++)
        {
            double moves = Shift(g, sds, ownMove, overMove), weight = system.Weight[g], d = system.Diagonal[g];
            for (var i = 0; i < width; i++) gradient[i] += v[0][g * width + i] + spread[g] / 2 * v[2][g * width + i] + moves * v[1][g * width + i];
            var each = s1[g] + spread[g] * s3[g] / 2 - weight * moves;
            gradient[width] += each * own[g] + s1[g] * ownMove[g] - weight * (sds[0] / d - sds[0] * weight * quadratic[g]);
            for (var r = 0; r < above.Length; r++)
                gradient[width + 1 + r] += each * over[system.Place(r, g)] + s1[g] * overMove[system.Place(r, g)] - weight * system.Along(r, g) / d;
        }
    }
}
