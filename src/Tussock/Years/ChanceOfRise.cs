using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>How likely it is that something rose, given how far it seems to have risen and how uncertain that is.</summary>
internal static class ChanceOfRise
{
    /// <summary>Spread of true differences that is thought usual before any data: half-normal(1.5) on the log odds.</summary>
    private const double UsualSpread = 1.5;

    private const int SpreadNodes = 24, MostSteps = 100_000;
    private const double FarthestSpread = 6, FarthestSteps = 8, FarthestErrors = 60, StepsASpread = 15, StepsAnError = 6;

    /// <summary>The chance that the true difference is above 0.</summary>
    /// <param name="difference">The difference found, on a scale without ends (log odds, log ratio).</param>
    /// <param name="se">Its standard error, &gt; 0.</param>
    /// <param name="degrees">Degrees of freedom of that error, ≥ 1.</param>
    /// <returns>A chance in (0, 1), ½ at a difference of 0.</returns>
    /// <remarks>
    /// The difference found is the true one δ plus se·t(degrees); δ ~ N(0, ω²), ω ~ half-normal(1.5): years of one pasture differ, but seldom by all
    /// that could be. A difference that its error could make alone is drawn towards ½ by that; one that is many errors wide is not.
    /// For each ω the share of δ above 0 is integrated by even steps. Cost: some ten thousand densities.
    /// </remarks>
    /// <source>Common practice, no source: posterior chance of a direction under a normal prior whose spread is not known.</source>
    /// <check>worked-by-hand</check>
    internal static double Of(double difference, double se, double degrees)
    {
        if (!(se > 0) || !double.IsFinite(difference)) throw new ArgumentOutOfRangeException(nameof(se));
        var rule = GaussLegendre.Of(SpreadNodes);
        double above = 0, all = 0;
        for (var s = 0; s < SpreadNodes; s++)
        {
            var omega = FarthestSpread * (rule.Nodes[s] + 1) / 2;
            var weight = rule.Weights[s] * Math.Exp(-omega * omega / (2 * UsualSpread * UsualSpread));
            var (up, down) = Halves(difference, se, degrees, omega);
            above += weight * up;
            all += weight * (up + down);
        }

        return all > 0 ? above / all : difference > 0 ? 1 : 0;
    }

    /// <summary>∫ t((d − δ)/se)·N(δ; 0, ω²) dδ over δ above 0 and below 0, in steps that are small beside both.</summary>
    private static (double Above, double Below) Halves(double difference, double se, double degrees, double omega)
    {
        double above = 0, below = 0;
        var end = Math.Min(FarthestSteps * omega, Math.Abs(difference) + (FarthestErrors * se));
        var steps = (int)Math.Min(MostSteps, Math.Ceiling(end / Math.Min(omega / StepsASpread, se / StepsAnError)));
        var step = end / steps;
        for (var i = 0; i < steps; i++)
        {
            // Middles of the steps: 0 itself belongs to neither side.
            var delta = (i + 0.5) * step;
            var prior = Math.Exp(-delta * delta / (2 * omega * omega)) / omega * step;
            above += prior * Density((difference - delta) / se, degrees);
            below += prior * Density((difference + delta) / se, degrees);
        }

        return (above, below);
    }

    /// <summary>Student's density without its constant.</summary>
    private static double Density(double t, double degrees) => Math.Pow(1 + (t * t / degrees), -(degrees + 1) / 2);
}
