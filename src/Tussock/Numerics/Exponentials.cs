namespace Tussock.Numerics;

/// <summary>Exponentials and logarithms that keep their digits near 0, where the platform's own lose them.</summary>
/// <remarks>Kahan's correction: the rounding error of e^x (or 1 + x) is the same in numerator and denominator and cancels.</remarks>
public static class Exponentials
{
    /// <summary>e^x − 1, to a few units in the last place for every x; +∞ when e^x is too large.</summary>
    public static double Expm1(double x)
    {
        var u = Math.Exp(x);
        if (Math.Abs(x) > 0.5) return u - 1;
        return u == 1 ? x : (u - 1) * x / Math.Log(u);
    }

    /// <summary>log(1 + x) for x ≥ −1, to a few units in the last place.</summary>
    public static double Log1p(double x)
    {
        var u = 1 + x;
        if (Math.Abs(x) > 0.5) return Math.Log(u);
        return u == 1 ? x : Math.Log(u) * x / (u - 1);
    }

    /// <summary>The logit of p in (0, 1).</summary>
    public static double Logit(double p) => Math.Log(p) - Log1p(-p);

    /// <summary>The share in [0, 1] whose logit is <paramref name="x"/>.</summary>
    public static double Expit(double x) => x >= 0 ? 1 / (1 + Math.Exp(-x)) : Math.Exp(x) / (1 + Math.Exp(x));
}
