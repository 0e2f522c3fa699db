using MathNet.Numerics.LinearAlgebra;

namespace Tussock.Years;

/// <summary>The restricted likelihood of y = a + b·year + u(property) + w(year) + z + e, with u and w crossed, without ever writing the whole matrix.</summary>
/// <remarks>Blocks of a property are inverted as a diagonal plus a constant; what all years share comes in as a matrix of as many rows as there are years.</remarks>
internal sealed class CrossedModel
{
    private readonly (int Year, double Y, double V)[][] blocks;
    private readonly double[] years;

    /// <param name="rows">Property, year, estimate and error variance.</param>
    /// <param name="known">The years, ascending, each once.</param>
    internal CrossedModel(IReadOnlyList<(int Property, int Year, double Value, double Variance)> rows, int[] known)
    {
        var middle = rows.Average(r => (double)r.Year);
        years = [.. known.Select(y => y - middle)];
        blocks = [.. rows.GroupBy(r => r.Property).OrderBy(g => g.Key).Select(g => g.Select(r => (Array.BinarySearch(known, r.Year), r.Value, r.Variance)).ToArray())];
    }

    /// <summary>Number of properties.</summary>
    internal int Properties => blocks.Length;

    /// <summary>Whether there are several properties, so that what they have to themselves can be told from what years do.</summary>
    internal bool HasProperties => blocks.Length > 1;

    /// <summary>The likelihood and the fixed effects at given variances.</summary>
    internal (double LogLikelihood, double Intercept, double Slope, double SlopeSe) At((double Property, double Year, double Own) variance)
    {
        // Columns: intercept, year, estimate, then an indicator for each year.
        var width = 3 + years.Length;
        var cross = Matrix<double>.Build.Dense(width, width);
        var logs = 0.0;
        foreach (var block in blocks) logs += Add(cross, block, variance.Property, variance.Own);
        var shared = Matrix<double>.Build.DenseIdentity(years.Length) + (cross.SubMatrix(3, years.Length, 3, years.Length) * variance.Year);
        var factor = shared.LU();
        logs += Math.Log(Math.Abs(factor.Determinant));
        var left = cross.SubMatrix(0, 3, 3, years.Length);
        var reduced = cross.SubMatrix(0, 3, 0, 3) - (left * factor.Solve(left.Transpose()) * variance.Year);
        double a = reduced[0, 0], b = reduced[0, 1], d = reduced[1, 1], determinant = (a * d) - (b * b);
        double intercept = ((d * reduced[0, 2]) - (b * reduced[1, 2])) / determinant, slope = ((a * reduced[1, 2]) - (b * reduced[0, 2])) / determinant;
        var residual = reduced[2, 2] - (intercept * reduced[0, 2]) - (slope * reduced[1, 2]);
        return (-(logs + Math.Log(determinant) + residual) / 2, intercept, slope, Math.Sqrt(a / determinant));
    }

    /// <summary>Adds a property's part of [X y Z]′B⁻¹[X y Z] and gives the log determinant of its block.</summary>
    private double Add(Matrix<double> cross, (int Year, double Y, double V)[] block, double property, double own)
    {
        double weight = 0, logs = 0;
        var sums = new double[3 + years.Length];
        foreach (var (year, y, v) in block)
        {
            var w = 1 / (v + own);
            (weight, logs) = (weight + w, logs - Math.Log(w));
            ReadOnlySpan<(int Column, double Value)> columns = [(0, 1), (1, years[year]), (2, y), (3 + year, 1)];
            foreach (var (i, x) in columns)
            {
                sums[i] += w * x;
                foreach (var (j, z) in columns) cross[i, j] += w * x * z;
            }
        }

        var scale = property / (1 + (property * weight));
        for (var i = 0; i < sums.Length; i++)
        {
            if (sums[i] == 0) continue;
            for (var j = 0; j < sums.Length; j++) cross[i, j] -= scale * sums[i] * sums[j];
        }

        return logs + Math.Log(1 + (property * weight));
    }
}
