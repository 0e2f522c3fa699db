using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The hazard a day h(η) with its derivatives by the linear predictor.</summary>
/// <param name="H">h(η), per day, ≥ 0.</param>
/// <param name="First">h′.</param>
/// <param name="Second">h″.</param>
/// <param name="Third">h‴.</param>
/// <param name="Fourth">h⁗.</param>
/// <source>Shaffer 2004, Auk 121, 526–540 (daily logit), from memory, to be confirmed; proportional hazards: common practice, no source. The derivatives are worked out below.</source>
/// <check>published-values</check>
public readonly record struct DailyHazard(double H, double First, double Second, double Third, double Fourth)
{
    /// <summary>The hazard and its first four derivatives at η.</summary>
    /// <remarks>
    /// Log hazard: all are e^η. Daily logit with s = expit(η), q = 1 − s: h = log(1 + e^(−η)), h′ = −q, h″ = qs, h‴ = qs(q − s), h⁗ = qs((q − s)² − 2qs);
    /// s and q are each computed from the side on which they keep their digits.
    /// </remarks>
    public static DailyHazard At(Link link, double eta)
    {
        if (link == Link.LogHazard)
        {
            var e = Math.Exp(eta);
            return new DailyHazard(e, e, e, e, e);
        }

        double small = Math.Exp(-Math.Abs(eta)), sure = 1 / (1 + small), rare = small * sure;
        double h = Exponentials.Log1p(small) - Math.Min(eta, 0), q = eta > 0 ? rare : sure, s = eta > 0 ? sure : rare, qs = q * s, skew = q - s;
        return new DailyHazard(h, -q, qs, qs * skew, qs * (skew * skew - 2 * qs));
    }

    /// <summary>h(η) alone.</summary>
    public static double Of(Link link, double eta) =>
        link == Link.LogHazard ? Math.Exp(eta) : eta > 0 ? Exponentials.Log1p(Math.Exp(-eta)) : Exponentials.Log1p(Math.Exp(eta)) - eta;
}
