using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Profile-likelihood limits of one standard deviation: where the log-likelihood, the other parameters at their best, has fallen by a given drop.</summary>
/// <remarks>
/// Newton steps on the root of twice the fall, which is nearly straight in σ, held within a bracket. The slope of the profile is that of the full log-likelihood.
/// </remarks>
internal sealed class SpreadProfile(ILikelihood likelihood, Maximum best, int at, double drop)
{
    private const int MostSteps = 40;

    private const double Tolerance = 1e-8, Largest = 20;

    private readonly MarginalMaximum search = new(likelihood);
    private readonly double[] point = (double[])best.Point.Clone();
    private readonly bool[] free = [.. best.Free.Select((f, i) => f && i != at)];

    /// <summary>Lower limit; 0 when the fall to 0 is less than the drop.</summary>
    public double Low(double? se, double valueAtZero)
    {
        var sigma = best.Point[at];
        if (sigma == 0 || best.Value - valueAtZero <= drop) return 0;
        Restart();
        return Root(0, sigma, sigma * Math.Exp(-Math.Min(2, Math.Sqrt(2 * drop) * (se ?? 0) / sigma))) ?? 0;
    }

    /// <summary>Upper limit; null when the log-likelihood never falls so far.</summary>
    public double? High(double? se)
    {
        var sigma = best.Point[at];
        Restart();
        return Root(double.PositiveInfinity, sigma, sigma == 0 ? 0.5 : sigma * Math.Exp(Math.Min(1.5, Math.Sqrt(2 * drop) * (se ?? 0) / sigma)));
    }

    private void Restart() => best.Point.CopyTo(point, 0);

    private double? Root(double outer, double inner, double start)
    {
        var sigma = start;
        for (var step = 0; step < MostSteps; step++)
        {
            var (fall, slope) = Fall(sigma);
            if (fall < drop) inner = sigma;
            else outer = sigma;
            double root = Math.Sqrt(2 * Math.Max(fall, 0)), off = Math.Sqrt(2 * drop) - root;
            var next = sigma + off * root / slope;
            if (double.IsInfinity(outer) && sigma >= Largest) return null;
            if (!Within(next, inner, outer)) next = double.IsInfinity(outer) ? Math.Min(2 * sigma, Largest) : (inner + outer) / 2;
            if (double.IsInfinity(outer)) next = Math.Min(next, Math.Min(2 * sigma, Largest));
            var moved = Math.Abs(next - sigma);
            sigma = next;
            if (moved < Tolerance * sigma) return sigma;
        }

        return sigma;
    }

    private static bool Within(double x, double inner, double outer) => x > Math.Min(inner, outer) && x < Math.Max(inner, outer);

    private (double Fall, double Slope) Fall(double sigma)
    {
        point[at] = sigma;
        search.Climb(point, (bool[])free.Clone(), zeroIsMaximum: false);
        return (best.Value - search.At.Value, -search.At.Gradient[at]);
    }
}
