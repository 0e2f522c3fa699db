using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Limits of one hazard where its profile log-likelihood has fallen by half a χ²(1) quantile.</summary>
/// <remarks>The profile is concave, so Newton from a point outside climbs to the limit without passing it.</remarks>
internal static class ProfileLimits
{
    /// <summary>Limits of the first or second hazard; the lower may be 0, the upper +∞.</summary>
    public static (double Low, double High) Of(PieceLikelihood likelihood, bool first, double top, double logLikelihood, double level)
    {
        var fall = new Fall(likelihood, first, logLikelihood - Tails.ChiSquareQuantile(level, 1) / 2);
        var days = first ? likelihood.Survived.First : likelihood.Survived.Second;
        return (Lower(fall, top), days == 0 ? double.PositiveInfinity : Upper(fall, top, days));
    }

    private static double Lower(Fall fall, double top)
    {
        if (top == 0 || fall.At(0).Value >= 0) return 0;
        var h = double.IsFinite(top) ? top / 2 : 1;
        while (fall.At(h).Value >= 0) h /= 2;
        return fall.Climb(h);
    }

    private static double Upper(Fall fall, double top, double days)
    {
        var h = top > 0 ? top * 2 : 1 / days;
        while (fall.At(h).Value >= 0) h *= 2;
        return fall.Climb(h);
    }

    /// <summary>Profile log-likelihood above the line that cuts it, and its slope.</summary>
    private readonly struct Fall(PieceLikelihood likelihood, bool first, double line)
    {
        public (double Value, double Slope) At(double h)
        {
            var (start, direction) = first ? ((h, 0.0), (0.0, 1.0)) : ((0.0, h), (1.0, 0.0));
            var other = likelihood.Along(start, direction).Q;
            var (h1, h2) = first ? (h, other) : (other, h);
            var slopes = likelihood.At(h1, h2);
            return (likelihood.LogLikelihood(h1, h2) - line, first ? slopes.G1 : slopes.G2);
        }

        public double Climb(double h)
        {
            for (var step = 0; step < 200; step++)
            {
                var (value, slope) = At(h);
                var next = h - value / slope;
                var change = Math.Abs(next - h);
                h = next;
                if (change <= PieceLikelihood.Settled * h) break;
            }

            return h;
        }
    }
}
