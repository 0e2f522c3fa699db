using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>The weighted least squares behind a synthesis, with the traces that restricted likelihood needs, at any τ².</summary>
internal sealed class WeightedFit(double[] y, double[] v, double[][] covariates)
{
    private readonly int p = covariates.Length + 1;

    /// <summary>A first guess of τ²: the spread around unweighted least squares less the mean error variance.</summary>
    internal double Moment
    {
        get
        {
            var even = new WeightedFit(y, [.. v.Select(_ => 1.0)], covariates).At(0);
            return even is null ? 0 : Math.Max(0, (even.Residual / (y.Length - p)) - v.Average());
        }
    }

    /// <summary>The fit with weights 1/(v + τ²); null where the columns depend on each other.</summary>
    internal Fit? At(double tau2)
    {
        double[] first = new double[p * p], second = new double[p * p], third = new double[p * p], beta = new double[p];
        double sum = 0, squares = 0, logs = 0;
        for (var i = 0; i < y.Length; i++)
        {
            var w = 1 / (v[i] + tau2);
            (sum, squares, logs) = (sum + w, squares + (w * w), logs + Math.Log(w));
            for (var a = 0; a < p; a++)
            {
                beta[a] += w * X(i, a) * y[i];
                for (var b = 0; b < p; b++)
                {
                    var xx = X(i, a) * X(i, b) * w;
                    first[(a * p) + b] += xx;
                    second[(a * p) + b] += xx * w;
                    third[(a * p) + b] += xx * w * w;
                }
            }
        }

        if (!Cholesky.Factor(first, p)) return null;
        var determinant = 0.0;
        for (var a = 0; a < p; a++) determinant += 2 * Math.Log(first[(a * p) + a]);
        Cholesky.Solve(first, p, beta);
        var inverse = Cholesky.Inverse(first, p);
        double residual = 0, squared = 0;
        for (var i = 0; i < y.Length; i++)
        {
            var r = y[i];
            for (var a = 0; a < p; a++) r -= X(i, a) * beta[a];
            var w = 1 / (v[i] + tau2);
            (residual, squared) = (residual + (w * r * r), squared + (w * w * r * r));
        }

        var product = Times(inverse, second);
        return new Fit(beta, inverse, residual, squared, sum - Trace(product), squares - (2 * Trace(Times(inverse, third))) + Trace(Times(product, product)), (logs - determinant - residual) / 2);
    }

    private double X(int row, int column) => column == 0 ? 1 : covariates[column - 1][row];

    private double[] Times(double[] a, double[] b)
    {
        var product = new double[p * p];
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j < p; j++)
            {
                for (var k = 0; k < p; k++) product[(i * p) + j] += a[(i * p) + k] * b[(k * p) + j];
            }
        }

        return product;
    }

    private double Trace(double[] a) => Enumerable.Range(0, p).Sum(i => a[(i * p) + i]);

    /// <summary>One fit.</summary>
    /// <param name="Beta">Coefficients.</param>
    /// <param name="Covariance">(X′WX)⁻¹, row by row.</param>
    /// <param name="Residual">Weighted residual square, y′Py.</param>
    /// <param name="SquaredP">y′PPy.</param>
    /// <param name="TraceP">tr P.</param>
    /// <param name="TracePP">tr PP.</param>
    /// <param name="LogLikelihood">Restricted log-likelihood without constants.</param>
    internal sealed record Fit(double[] Beta, double[] Covariance, double Residual, double SquaredP, double TraceP, double TracePP, double LogLikelihood);
}
