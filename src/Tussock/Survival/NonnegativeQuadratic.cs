namespace Tussock.Survival;

/// <summary>The model ½xᵀHx − bᵀx whose H is a sum over rows of weight × (row)(row)ᵀ, each row being 1 on a run of places and 0 elsewhere.</summary>
internal readonly ref struct RunQuadratic(ReadOnlySpan<int> low, ReadOnlySpan<int> high, ReadOnlySpan<double> weight, ReadOnlySpan<double> lean)
{
    /// <summary>First place of each row.</summary>
    public ReadOnlySpan<int> Low { get; } = low;

    /// <summary>Place after the last one of each row.</summary>
    public ReadOnlySpan<int> High { get; } = high;

    /// <summary>Weight of each row, above 0.</summary>
    public ReadOnlySpan<double> Weight { get; } = weight;

    /// <summary>b, by place.</summary>
    public ReadOnlySpan<double> Lean { get; } = lean;

    /// <summary>Number of places.</summary>
    public int Size => Lean.Length;
}

/// <summary>Minimises a <see cref="RunQuadratic"/> over x ≥ 0 by an active set: solve on the free places, drop those that come out at or below 0, repeat.</summary>
/// <remarks>
/// Dropping all of them at once nearly always ends below the starting point; where it doesn't, the walk is done again with the
/// rule that never climbs: go towards the solution only as far as the first place that reaches 0, and drop that (Lawson &amp; Hanson 1974, from memory).
/// Few places: triangular factors. Many (camera times): conjugate gradients, whose products cost rows + places.
/// </remarks>
internal sealed class NonnegativeQuadratic
{
    private const int Dense = 160;
    private readonly RunFactors factors = new();
    private readonly RunConjugateGradients gradients = new();
    private int[] free = [];
    private double[] walk = [];

    /// <summary>Finds the minimum.</summary>
    /// <param name="model">The model; its value at <paramref name="from"/> is −½ because the lean there sums to 1.</param>
    /// <param name="from">Where the walk begins, 0 or more in each place.</param>
    /// <param name="x">Receives the minimum.</param>
    /// <param name="tolerance">Relative accuracy asked of conjugate gradients.</param>
    internal void Minimise(RunQuadratic model, ReadOnlySpan<double> from, Span<double> x, double tolerance)
    {
        if (free.Length < model.Size) (free, walk) = (new int[2 * model.Size], new double[2 * model.Size]);
        var dense = model.Size <= Dense;
        if (dense) factors.Prepare(model);
        else gradients.Prepare(model, tolerance);
        from.CopyTo(x);
        Descend(model, from, x, dense, careful: false);
        double leaning = 0;
        for (var s = 0; s < x.Length; s++) leaning += model.Lean[s] * x[s];
        if (leaning > 1) return;
        from.CopyTo(x);
        Descend(model, from, x, dense, careful: true);
    }

    private void Descend(RunQuadratic model, ReadOnlySpan<double> from, Span<double> x, bool dense, bool careful)
    {
        var y = walk.AsSpan(0, model.Size);
        from.CopyTo(y);
        var count = model.Size;
        for (var s = 0; s < count; s++) free[s] = s;
        while (count > 0)
        {
            if (dense) factors.Solve(model, free.AsSpan(0, count), x);
            else gradients.Solve(model, free.AsSpan(0, count), x);
            var kept = careful ? Approach(count, x, y) : Keep(count, x);
            if (kept == count) return;
            count = kept;
        }
    }

    private int Keep(int count, ReadOnlySpan<double> x)
    {
        var kept = 0;
        for (var f = 0; f < count; f++) if (x[free[f]] > 0) free[kept++] = free[f];
        return kept;
    }

    private int Approach(int count, ReadOnlySpan<double> x, Span<double> y)
    {
        var length = 1.0;
        for (var f = 0; f < count; f++)
        {
            var s = free[f];
            if (x[s] <= 0) length = Math.Min(length, y[s] / (y[s] - x[s] + double.Epsilon));
        }

        var kept = 0;
        for (var f = 0; f < count; f++)
        {
            var s = free[f];
            var stopped = x[s] <= 0 && y[s] <= length * (y[s] - x[s]) * (1 + 1e-12);
            y[s] = stopped ? 0 : y[s] + (length * (x[s] - y[s]));
            if (!stopped) free[kept++] = s;
        }

        return kept;
    }
}
