using System.Numerics;

namespace Tussock.Survival;

/// <summary>Solves a <see cref="RunQuadratic"/> on its free places by triangular (Cholesky) factors.</summary>
internal sealed class RunFactors
{
    private double[] matrix = [], factor = [], right = [];

    /// <summary>Builds H: weights gathered by first and last place, then summed over all runs that hold both places of a pair.</summary>
    internal void Prepare(RunQuadratic model)
    {
        var n = model.Size;
        if (matrix.Length < n * n) (matrix, factor, right) = (new double[4 * n * n], new double[4 * n * n], new double[2 * n]);
        Array.Clear(matrix, 0, n * n);
        for (var i = 0; i < model.Low.Length; i++)
        {
            if (model.High[i] > model.Low[i]) matrix[(model.Low[i] * n) + model.High[i] - 1] += model.Weight[i];
        }

        for (var j = 0; j < n; j++)
        {
            double beyond = 0;
            for (var l = n - 1; l >= j; l--)
            {
                beyond += matrix[(j * n) + l];
                matrix[(j * n) + l] = beyond + (j > 0 ? matrix[((j - 1) * n) + l] : 0);
            }
        }
    }

    /// <summary>The minimum over the free places (ascending), 0 elsewhere.</summary>
    internal void Solve(RunQuadratic model, ReadOnlySpan<int> free, Span<double> x)
    {
        var (n, p) = (model.Size, free.Length);
        x.Clear();
        for (var r = 0; r < p; r++)
        {
            var row = factor.AsSpan(r * p, p);
            for (var c = 0; c <= r; c++)
            {
                var other = factor.AsSpan(c * p, c);
                var sum = matrix[(free[c] * n) + free[r]] - Dot(row[..c], other);
                // A pivot lost in rounding belongs to a place that its neighbours already explain: it takes no part.
                if (c < r) row[c] = sum * factor[(c * p) + c];
                else row[c] = sum > 1e-14 * matrix[(free[r] * n) + free[r]] ? 1 / Math.Sqrt(sum) : 0;
            }

            right[r] = (model.Lean[free[r]] - Dot(row[..r], right.AsSpan(0, r))) * row[r];
        }

        for (var r = p - 1; r >= 0; r--)
        {
            var value = right[r] *= factor[(r * p) + r];
            x[free[r]] = value;
            for (var c = 0; c < r; c++) right[c] -= factor[(r * p) + c] * value;
        }
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var (sum, i) = (Vector<double>.Zero, 0);
        for (; i <= a.Length - Vector<double>.Count; i += Vector<double>.Count) sum += new Vector<double>(a[i..]) * new Vector<double>(b[i..]);
        var rest = Vector.Sum(sum);
        for (; i < a.Length; i++) rest += a[i] * b[i];
        return rest;
    }
}
