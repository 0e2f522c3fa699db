using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Columns as a fit sees them: centred and scaled for its digits, without those that are combinations of others; and the way back to the raw scale.</summary>
/// <remarks>
/// Scaled column z = (x − centre)/scale over days watched; the first constant column is the intercept, and only with one is anything centred.
/// γ on scaled columns is β on raw ones: β_j = γ_j/scale_j, β_0 = γ_0/scale_0 − Σ γ_j·centre_j/(scale_j·scale_0).
/// </remarks>
internal sealed class EffectColumns
{
    /// <summary>Days that a pattern counts which no interval touches: it steers nothing.</summary>
    private const double Untouched = 1e-9;

    private readonly double[] days;

    private EffectColumns(ModelTable table, ImmutableArray<int> kept, int intercept, double[] centre, double[] scale, double[] scaled, double[] days) =>
        (Table, Kept, Intercept, Centre, Scale, Scaled, this.days) = (table, kept, intercept, centre, scale, scaled, days);

    /// <summary>The table.</summary>
    public ModelTable Table { get; }

    /// <summary>Columns of the table that take part, ascending.</summary>
    public ImmutableArray<int> Kept { get; }

    /// <summary>Place of the intercept among <see cref="Kept"/>; −1 without one.</summary>
    public int Intercept { get; }

    /// <summary>Centre of each kept column.</summary>
    public double[] Centre { get; }

    /// <summary>Scale of each kept column, &gt; 0.</summary>
    public double[] Scale { get; }

    /// <summary>Kept columns, scaled, column by column.</summary>
    public double[] Scaled { get; }

    /// <summary>Number of kept columns.</summary>
    public int Width => Kept.Length;

    /// <summary>Scales the given columns of a table.</summary>
    public static EffectColumns Of(ModelTable table, ImmutableArray<int> columns)
    {
        var counts = Days(table);
        var total = counts.Sum();
        int n = table.Patterns, k = columns.Length, intercept = -1;
        double[] centre = new double[k], scale = new double[k], scaled = new double[n * k];
        for (var j = 0; j < k; j++)
        {
            var column = scaled.AsSpan(j * n, n);
            for (var p = 0; p < n; p++) column[p] = table.X[p * table.Width + columns[j]];
            centre[j] = WeightedSums.Of(counts, column) / total;
            if (intercept < 0 && n > 0 && column[0] != 0 && !column.ContainsAnyExcept(column[0])) (intercept, centre[j], scale[j]) = (j, 0, column[0]);
        }

        for (var j = 0; j < k; j++)
        {
            var column = scaled.AsSpan(j * n, n);
            if (intercept < 0) centre[j] = 0;
            var spread = j == intercept ? scale[j] : Spread(counts, column, centre[j], total);
            scale[j] = spread == 0 ? 1 : spread;
            for (var p = 0; p < n; p++) column[p] = spread == 0 ? 0 : (column[p] - centre[j]) / spread;
        }

        return new EffectColumns(table, columns, intercept, centre, scale, scaled, counts);
    }

    /// <summary>Whether some interval touches a pattern.</summary>
    public bool Informs(int pattern) => days[pattern] > Untouched;

    /// <summary>How the columns depend on each other, in the order of <see cref="Kept"/>.</summary>
    public LinearDependence Dependence() => LinearDependence.Of(Gram(_ => true), Width);

    /// <summary>Inner products of the scaled columns over the patterns that count and inform.</summary>
    public double[] Gram(Func<int, bool> counts)
    {
        int n = Table.Patterns, k = Width;
        var weights = new double[n];
        for (var p = 0; p < n; p++) weights[p] = Informs(p) && counts(p) ? 1 : 0;
        var gram = new double[k * k];
        for (var i = 0; i < k; i++) for (var j = 0; j <= i; j++) gram[i * k + j] = gram[j * k + i] = WeightedSums.Of(weights, Scaled.AsSpan(i * n, n), Scaled.AsSpan(j * n, n));
        return gram;
    }

    /// <summary>Scaled effects to raw ones.</summary>
    public double[] Raw(ReadOnlySpan<double> scaled)
    {
        var raw = new double[Width];
        Raw(scaled, raw);
        return raw;
    }

    /// <summary>Scaled effects to raw ones, into an array of the caller.</summary>
    public void Raw(ReadOnlySpan<double> scaled, Span<double> raw)
    {
        for (var j = 0; j < Width; j++) raw[j] = scaled[j] / Scale[j];
        if (Intercept < 0) return;
        for (var j = 0; j < Width; j++) if (j != Intercept) raw[Intercept] -= raw[j] * Centre[j] / Scale[Intercept];
    }

    /// <summary>A linear form of raw effects as one of scaled effects.</summary>
    public double[] Form(ReadOnlySpan<double> raw)
    {
        var form = new double[Width];
        for (var j = 0; j < Width; j++)
            form[j] = j == Intercept || Intercept < 0 ? raw[j] / Scale[j] : (raw[j] - raw[Intercept] * Centre[j] / Scale[Intercept]) / Scale[j];
        return form;
    }

    /// <summary>Covariance of scaled effects to that of raw ones: T·V·Tᵀ.</summary>
    public double[] RawCovariance(double[] covariance)
    {
        var k = Width;
        var half = new double[k * k];
        var row = new double[k];
        for (var i = 0; i < k; i++) Raw(covariance.AsSpan(i * k, k)).CopyTo(half, i * k);
        var raw = new double[k * k];
        for (var j = 0; j < k; j++)
        {
            for (var i = 0; i < k; i++) row[i] = half[i * k + j];
            var turned = Raw(row);
            for (var i = 0; i < k; i++) raw[i * k + j] = turned[i];
        }

        for (var i = 0; i < k; i++) for (var j = 0; j < i; j++) raw[i * k + j] = raw[j * k + i] = (raw[i * k + j] + raw[j * k + i]) / 2;
        return raw;
    }

    /// <summary>Days of each pattern: watched, and within intervals of a loss; what no interval touches counts next to nothing.</summary>
    public static double[] Days(ModelTable table)
    {
        var sum = (double[])table.Watched.Clone();
        for (var loss = 0; loss < table.Losses; loss++)
            for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++) sum[table.PiecePattern[piece]] += table.LossWeight[loss] * table.PieceDays[piece];
        for (var p = 0; p < sum.Length; p++) if (!(sum[p] > 0)) sum[p] = table.Timed[p] > 0 ? table.Timed[p] : Untouched;
        return sum;
    }

    /// <summary>The spread of a column over days; 0 when it is constant but for rounding.</summary>
    private static double Spread(double[] days, ReadOnlySpan<double> column, double centre, double total)
    {
        double sum = 0, largest = 0;
        for (var p = 0; p < column.Length; p++)
        {
            var away = column[p] - centre;
            sum += days[p] * away * away;
            largest = Math.Max(largest, Math.Abs(column[p]));
        }

        var spread = Math.Sqrt(sum / total);
        return spread > 1e-13 * largest ? spread : 0;
    }
}
