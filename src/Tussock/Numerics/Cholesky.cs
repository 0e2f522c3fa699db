namespace Tussock.Numerics;

/// <summary>Cholesky factors of small symmetric matrices, row by row in one array: A = L·Lᵀ.</summary>
/// <remarks>Meant for as many rows as a model has effects (some dozens at most). Nothing is allocated but the inverse.</remarks>
public static class Cholesky
{
    /// <summary>Puts L in the lower triangle of A, in place; the upper triangle is neither read nor written.</summary>
    /// <param name="a">n × n entries, row by row.</param>
    /// <param name="n">Number of rows, ≥ 0.</param>
    /// <returns>False when A is not positive definite to working precision (or holds NaN); the array is then spoiled.</returns>
    public static bool Factor(Span<double> a, int n)
    {
        for (var i = 0; i < n; i++)
        {
            var row = a.Slice(i * n, n);
            for (var j = 0; j <= i; j++)
            {
                var other = a.Slice(j * n, n);
                var sum = row[j];
                for (var k = 0; k < j; k++) sum -= row[k] * other[k];
                if (j < i) row[j] = sum / other[j];
                else if (sum > 1e-15 * row[i]) row[i] = Math.Sqrt(sum);
                else return false;
            }
        }

        return true;
    }

    /// <summary>Solves A·x = b in place, with L from <see cref="Factor"/>.</summary>
    public static void Solve(ReadOnlySpan<double> l, int n, Span<double> x)
    {
        for (var i = 0; i < n; i++)
        {
            var sum = x[i];
            for (var k = 0; k < i; k++) sum -= l[i * n + k] * x[k];
            x[i] = sum / l[i * n + i];
        }

        for (var i = n - 1; i >= 0; i--)
        {
            var sum = x[i];
            for (var k = i + 1; k < n; k++) sum -= l[k * n + i] * x[k];
            x[i] = sum / l[i * n + i];
        }
    }

    /// <summary>A⁻¹, full and exactly symmetric, with L from <see cref="Factor"/>.</summary>
    public static double[] Inverse(ReadOnlySpan<double> l, int n)
    {
        var inverse = new double[n * n];
        var column = new double[n];
        for (var j = 0; j < n; j++)
        {
            Array.Clear(column);
            column[j] = 1;
            Solve(l, n, column);
            for (var i = j; i < n; i++) inverse[i * n + j] = inverse[j * n + i] = column[i];
        }

        return inverse;
    }
}
