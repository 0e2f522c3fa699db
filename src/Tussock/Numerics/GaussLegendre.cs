using System.Collections.Immutable;

namespace Tussock.Numerics;

/// <summary>Gauss–Legendre quadrature on (−1, 1): exact for polynomials up to degree 2n − 1.</summary>
/// <param name="Nodes">Nodes, ascending, symmetric about 0.</param>
/// <param name="Weights">Weights, all positive; they add to 2.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record GaussLegendre(ImmutableArray<double> Nodes, ImmutableArray<double> Weights)
{
    /// <summary>The rule of a given size.</summary>
    /// <param name="n">Number of nodes, 1 to 200.</param>
    /// <returns>Nodes and weights to about 1e−15.</returns>
    /// <remarks>Newton's method on P_n from the asymptotic places of its zeros; derivative from P_n and P_(n−1). Cost: n² additions.</remarks>
    public static GaussLegendre Of(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(n, 200);
        double[] nodes = new double[n], weights = new double[n];
        for (var i = 0; i < (n + 1) / 2; i++)
        {
            var x = Math.Cos(Math.PI * (i + 0.75) / (n + 0.5));
            double slope = 1;
            for (var step = 0; step < 20; step++)
            {
                (var p, slope) = Polynomial(n, x);
                var change = p / slope;
                x -= change;
                if (Math.Abs(change) < 1e-16) break;
            }

            if (n % 2 == 1 && i == n / 2) x = 0;
            (_, slope) = Polynomial(n, x);
            (nodes[i], nodes[n - 1 - i]) = (-x, x);
            weights[i] = weights[n - 1 - i] = 2 / ((1 - (x * x)) * slope * slope);
        }

        return new GaussLegendre([.. nodes], [.. weights]);
    }

    /// <summary>P_n and its derivative at x in (−1, 1), by the three-term recurrence.</summary>
    private static (double Value, double Slope) Polynomial(int n, double x)
    {
        double before = 1, now = x;
        for (var k = 2; k <= n; k++) (before, now) = (now, ((((2 * k) - 1) * x * now) - ((k - 1) * before)) / k);
        return (now, n * ((x * now) - before) / ((x * x) - 1));
    }
}
