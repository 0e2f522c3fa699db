using System.Collections.Immutable;

namespace Tussock.Numerics;

/// <summary>Gauss–Hermite quadrature against the standard normal density: Σ w·f(x) ≈ ∫ f(z)φ(z)dz, exact for polynomials up to degree 2n − 1.</summary>
/// <param name="Nodes">Nodes in standard deviations, ascending, symmetric about 0.</param>
/// <param name="Weights">Weights, all positive; they add to 1.</param>
/// <remarks>For the weight e^(−x²) divide the nodes by √2 and multiply the weights by √π. May be shared between threads.</remarks>
public sealed record GaussHermite(ImmutableArray<double> Nodes, ImmutableArray<double> Weights)
{
    /// <summary>The rule of a given size.</summary>
    /// <param name="n">Number of nodes, 1 to 100.</param>
    /// <returns>Nodes and weights to about 1e−14.</returns>
    /// <remarks>
    /// The zeros of the orthonormal Hermite polynomial h_n separate those of h_(n+1) (and lie within ±2√n), so each size brackets
    /// the next one and bisection with Newton steps can't miss any. Weight = 1/(n·h_(n−1)(x)²). Cost: n³ additions.
    /// </remarks>
    public static GaussHermite Of(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(n, 100);
        double[] zeros = [0];
        for (var size = 2; size <= n; size++) zeros = Separated(size, zeros);
        var weights = new double[n];
        for (var i = 0; i < n; i++)
        {
            var (_, before) = Orthonormal(n, zeros[i]);
            weights[i] = 1 / (n * before * before);
        }

        return new GaussHermite([.. zeros], [.. weights]);
    }

    private static double[] Separated(int size, double[] smaller)
    {
        var zeros = new double[size];
        var end = 2 * Math.Sqrt(size);
        for (var i = 0; i < size / 2; i++)
        {
            var x = Zero(size, i == 0 ? -end : smaller[i - 1], smaller[i]);
            (zeros[i], zeros[size - 1 - i]) = (x, -x);
        }

        return zeros;
    }

    private static double Zero(int n, double low, double high)
    {
        var rises = Orthonormal(n, high).Value > 0;
        var x = (low + high) / 2;
        for (var step = 0; step < 100; step++)
        {
            var (value, before) = Orthonormal(n, x);
            if (value > 0 == rises) high = x;
            else low = x;
            var next = x - (value / (Math.Sqrt(n) * before));
            if (!(next > low && next < high)) next = (low + high) / 2;
            if (Math.Abs(next - x) < 1e-15 * (1 + Math.Abs(x))) return next;
            x = next;
        }

        return x;
    }

    /// <summary>h_n and h_(n−1) at x, orthonormal under φ; the derivative of h_n is √n·h_(n−1).</summary>
    private static (double Value, double Before) Orthonormal(int n, double x)
    {
        double before = 0, now = 1;
        for (var k = 1; k <= n; k++) (before, now) = (now, ((x * now) - (Math.Sqrt(k - 1) * before)) / Math.Sqrt(k));
        return (now, before);
    }
}
