namespace Tussock.Numerics;

/// <summary>log(1 − e^(−x)), the logarithm of the chance to be lost over a cumulative hazard x, without loss of digits.</summary>
public static class LogOneMinusExp
{
    private const double Small = 0.7;

    /// <summary>The logarithm at one point.</summary>
    /// <param name="x">Cumulative hazard, x &gt; 0; at 0 the answer is −∞.</param>
    /// <returns>A number ≤ 0, relative error below 2e−13, below 1e−15 up to 0.7 and beyond 7.</returns>
    /// <remarks>Up to 0.7: log x − x/2 + log(sinh(y)/y) with y = x/2, whose series in y² is alternating and short.</remarks>
    public static double At(double x) => x > Small ? Large(x) : Math.Log(x) + Rest(x);

    /// <summary>The same for x whose logarithm is known, which saves most of the time.</summary>
    /// <param name="x">Cumulative hazard, x &gt; 0.</param>
    /// <param name="log">log x.</param>
    public static double At(double x, double log) => x > Small ? Large(x) : log + Rest(x);

    private static double Large(double x)
    {
        var e = Math.Exp(-x);
        return e < 1e-3 ? -e * (1 + (e * ((1.0 / 2) + (e * ((1.0 / 3) + (e * ((1.0 / 4) + (e / 5)))))))) : Math.Log(1 - e);
    }

    private static double Rest(double x)
    {
        var q = x * x / 4;
        return (q * ((1.0 / 6) - (q * ((1.0 / 180) - (q * ((1.0 / 2835) - (q * ((1.0 / 37800) - (q * ((1.0 / 467775) - (q * (691.0 / 3831077250)))))))))))) - (x / 2);
    }
}
