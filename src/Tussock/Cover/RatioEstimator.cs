namespace Tussock.Cover;

/// <summary>How much of y comes with how much of x, when both differ from unit to unit: the ratio of totals and its survey variance.</summary>
/// <param name="Ratio">R = Σy/Σx.</param>
/// <param name="Se">Standard error of R; null with fewer than two units.</param>
/// <param name="Units">Number of units, m.</param>
public readonly record struct RatioEstimator(double Ratio, double? Se, int Units)
{
    /// <summary>The ratio of two totals over units.</summary>
    /// <param name="y">What is counted, one value a unit.</param>
    /// <param name="x">What it is counted on, the same units; the sum must be positive.</param>
    /// <returns>R in units of y a unit of x; se² = m/(m − 1)·Σ(y − R·x)²/(Σx)², null for m &lt; 2, 0 when all units have the same ratio.</returns>
    /// <exception cref="ArgumentException">Different lengths, or Σx ≤ 0.</exception>
    /// <remarks>No correction for a finite number of units: the lines walked are few among those that could have been. Biased by order 1/m; misleads when y does not grow with x. Cost O(m).</remarks>
    /// <source>Cochran 1977, Sampling Techniques, 3rd ed., pp. 150–164; Fewster et al. 2009, Biometrics 65:225–236 (estimator R2, formula from memory).</source>
    /// <check>published-values</check>
    public static RatioEstimator Of(ReadOnlySpan<double> y, ReadOnlySpan<double> x)
    {
        if (y.Length != x.Length) throw new ArgumentException("As many values of y as of x", nameof(y));
        double sumY = 0, sumX = 0, squares = 0;
        for (var i = 0; i < y.Length; i++) (sumY, sumX) = (sumY + y[i], sumX + x[i]);
        if (!(sumX > 0)) throw new ArgumentException("The sum of x must be positive", nameof(x));
        var m = y.Length;
        var ratio = sumY / sumX;
        for (var i = 0; i < m; i++) squares += (y[i] - ratio * x[i]) * (y[i] - ratio * x[i]);
        return new RatioEstimator(ratio, m < 2 ? null : Math.Sqrt(m / (m - 1.0) * squares) / sumX, m);
    }
}
