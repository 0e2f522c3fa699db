using MathNet.Numerics.Distributions;

namespace Tussock.Numerics;

/// <summary>Quantiles and tails of the distributions that intervals need: one door to the numerical library.</summary>
public static class Tails
{
    /// <summary>Quantile of the standard normal distribution.</summary>
    public static double NormalQuantile(double p) => Normal.InvCDF(0, 1, p);

    /// <summary>Distribution function Φ of the standard normal distribution.</summary>
    public static double NormalBelow(double z) => Normal.CDF(0, 1, z);

    /// <summary>Quantile of Student's t with <paramref name="degrees"/> degrees of freedom.</summary>
    public static double StudentQuantile(double p, double degrees) => StudentT.InvCDF(0, 1, degrees, p);

    /// <summary>Distribution function of Student's t.</summary>
    public static double StudentBelow(double t, double degrees) => StudentT.CDF(0, 1, degrees, t);

    /// <summary>Upper tail of the chi-square distribution.</summary>
    public static double ChiSquareAbove(double x, double degrees) => x <= 0 ? 1 : MathNet.Numerics.SpecialFunctions.GammaUpperRegularized(degrees / 2, x / 2);

    /// <summary>Upper tail of Fisher's F distribution.</summary>
    public static double FisherAbove(double f, double numerator, double denominator) =>
        f <= 0 ? 1 : MathNet.Numerics.SpecialFunctions.BetaRegularized(denominator / 2, numerator / 2, denominator / (denominator + numerator * f));

    /// <summary>Quantile of the chi-square distribution.</summary>
    public static double ChiSquareQuantile(double p, double degrees) => ChiSquared.InvCDF(degrees, p);

    /// <summary>Chance of fewer than <paramref name="k"/> of <paramref name="n"/>, each with chance <paramref name="p"/>; 1 ≤ k ≤ n.</summary>
    public static double BinomialBelow(int k, int n, double p) => p <= 0 ? 1 : p >= 1 ? 0 : MathNet.Numerics.SpecialFunctions.BetaRegularized(n - k + 1, k, 1 - p);

    /// <summary>Logarithm of the gamma function at x &gt; 0.</summary>
    public static double LogGamma(double x) => MathNet.Numerics.SpecialFunctions.GammaLn(x);

    /// <summary>Quantile of the beta distribution; shape 0 is read as the point at 0 or 1.</summary>
    public static double BetaQuantile(double p, double a, double b) => a <= 0 ? 0 : b <= 0 ? 1 : Beta.InvCDF(a, b, p);
}
