using System.Collections.Immutable;

namespace Tussock.Numerics;

/// <summary>Which columns of a matrix are linear combinations of earlier ones, and of which.</summary>
/// <param name="Free">Columns that are independent of the earlier free ones, ascending.</param>
/// <param name="Tied">Columns that are combinations of the free ones before them, ascending.</param>
/// <param name="Weights">For each tied column its weights on the free columns: x_tied = Σ weight·x_free.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record LinearDependence(ImmutableArray<int> Free, ImmutableArray<int> Tied, ImmutableArray<ImmutableArray<double>> Weights)
{
    /// <summary>A column counts as tied when less than this share of its square is left after projection on the earlier ones.</summary>
    private const double LeftOver = 1e-12;

    /// <summary>The dependence in a matrix of inner products.</summary>
    /// <param name="gram">n × n inner products of the columns, row by row.</param>
    /// <param name="n">Number of columns.</param>
    /// <returns>Earlier columns are kept before later ones; a column of zeros is tied with weights 0.</returns>
    /// <remarks>Cholesky in the given order. Columns should be centred and scaled first: inner products see only half the digits.</remarks>
    public static LinearDependence Of(ReadOnlySpan<double> gram, int n)
    {
        var l = new double[n * n];
        List<int> free = [], tied = [];
        List<ImmutableArray<double>> weights = [];
        for (var j = 0; j < n; j++)
        {
            var left = gram[j * n + j];
            for (var f = 0; f < free.Count; f++)
            {
                var sum = gram[j * n + free[f]];
                for (var e = 0; e < f; e++) sum -= l[j * n + e] * l[free[f] * n + e];
                l[j * n + f] = sum / l[free[f] * n + f];
                left -= l[j * n + f] * l[j * n + f];
            }

            if (left > LeftOver * gram[j * n + j])
            {
                l[j * n + free.Count] = Math.Sqrt(left);
                free.Add(j);
            }
            else
            {
                tied.Add(j);
                weights.Add(Combination(l, n, free, j));
            }
        }

        for (var t = 0; t < tied.Count; t++) weights[t] = [.. weights[t], .. new double[free.Count - weights[t].Length]];
        return new LinearDependence([.. free], [.. tied], [.. weights]);
    }

    /// <summary>Back substitution: the row of the tied column holds L_free·w.</summary>
    private static ImmutableArray<double> Combination(double[] l, int n, List<int> free, int tied)
    {
        var w = new double[free.Count];
        for (var i = free.Count - 1; i >= 0; i--)
        {
            var sum = l[tied * n + i];
            for (var k = i + 1; k < free.Count; k++) sum -= l[free[k] * n + i] * w[k];
            w[i] = sum / l[free[i] * n + i];
        }

        return [.. w];
    }
}
