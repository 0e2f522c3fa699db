namespace Tussock.Numerics;

/// <summary>H/(e^H − 1), the odds of surviving a cumulative hazard H times H: 1 at H = 0, falling to 0. Smooth where the odds themselves are without end.</summary>
/// <remarks>
/// Up to 0.7 by the series Σ B_n·Hⁿ/n! (Bernoulli numbers), which converges within |H| &lt; 2π: no exponential and no logarithm, which is most of the time of a fit.
/// From a = H/(e^H − 1) follow e^H − 1 = H/a and 1 − e^(−H) = H/(a + H).
/// </remarks>
public static class SurvivingOdds
{
    private const double Small = 0.7, Large = 700;

    /// <summary>H/(e^H − 1) at H ≥ 0, relative error about 1e−16.</summary>
    public static double TimesHazard(double hazard)
    {
        if (hazard > Small) return hazard > Large ? 0 : hazard / (Math.Exp(hazard) - 1);
        var q = hazard * hazard;
        var series = (1.0 / 12) - (q * ((1.0 / 720) - (q * ((1.0 / 30240) - (q * ((1.0 / 1209600) - (q * ((1.0 / 47900160) - (q * ((691.0 / 1307674368000) - (q * ((1.0 / 74724249600) - (q * (3617.0 / 10670622842880000))))))))))))));
        return 1 - (hazard / 2) + (q * series);
    }
}
