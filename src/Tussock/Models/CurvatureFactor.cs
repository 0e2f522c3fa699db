using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The Cholesky factor of minus the second derivatives by the free parameters, made positive where it is not.</summary>
/// <remarks>
/// Rows and columns are scaled to a diagonal of 1, so that units of effects do not matter. A diagonal of the wrong sign is turned;
/// what is then still not positive gets a ridge, tenfold larger until it is. Cost: n³/6 multiplications.
/// </remarks>
internal sealed class CurvatureFactor
{
    private const double FirstRidge = 1e-8, LastRidge = 1e8;

    private readonly int[] free;
    private readonly double[] scale, factor;

    private CurvatureFactor(int[] free)
    {
        this.free = free;
        scale = new double[free.Length];
        factor = new double[free.Length * free.Length];
    }

    /// <summary>Whether the matrix was positive as it stood.</summary>
    public bool IsPositive { get; private set; }

    /// <summary>Factors minus the second derivatives.</summary>
    public static CurvatureFactor Of(Derivatives at, int[] free)
    {
        var made = new CurvatureFactor(free) { IsPositive = true };
        for (var i = 0; i < free.Length; i++)
        {
            var own = -at.Second[free[i] * at.Size + free[i]];
            if (own <= 0) made.IsPositive = false;
            made.scale[i] = own == 0 ? 1 : 1 / Math.Sqrt(Math.Abs(own));
        }

        for (var ridge = 0.0; !made.Factor(at, ridge) && ridge < LastRidge; ridge = ridge == 0 ? FirstRidge : 10 * ridge) made.IsPositive = false;
        return made;
    }

    /// <summary>The step that Newton's method takes from a gradient; 0 for parameters that are not free.</summary>
    public void Solve(ReadOnlySpan<double> gradient, Span<double> step)
    {
        Span<double> y = stackalloc double[free.Length];
        for (var i = 0; i < y.Length; i++) y[i] = gradient[free[i]] * scale[i];
        Cholesky.Solve(factor, y.Length, y);
        step.Clear();
        for (var i = 0; i < y.Length; i++) step[free[i]] = y[i] * scale[i];
    }

    /// <summary>The inverse, of the full size, with 0 for parameters that are not free.</summary>
    public double[] Inverse(int size)
    {
        var inverse = new double[size * size];
        var (unit, column) = (new double[size], new double[size]);
        foreach (var j in free)
        {
            Array.Clear(unit);
            unit[j] = 1;
            Solve(unit, column);
            for (var i = 0; i < size; i++) inverse[i * size + j] = column[i];
        }

        for (var i = 0; i < size; i++)
            for (var j = 0; j < i; j++) inverse[i * size + j] = inverse[j * size + i] = (inverse[i * size + j] + inverse[j * size + i]) / 2;
        return inverse;
    }

    private bool Factor(Derivatives at, double ridge)
    {
        var n = free.Length;
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < i; j++) factor[i * n + j] = -at.Second[free[i] * at.Size + free[j]] * scale[i] * scale[j];
            factor[i * n + i] = Math.Abs(at.Second[free[i] * at.Size + free[i]]) * scale[i] * scale[i] + ridge;
        }

        return Cholesky.Factor(factor, n);
    }
}
