using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>How likely it is that survival to the end of the trial, averaged over all lines that could have been walked, reaches a benchmark.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record BenchmarkChance
{
    private BenchmarkChance()
    {
    }

    /// <summary>Posterior chance that average survival is at least the benchmark, in [0, 1].</summary>
    public required double Chance { get; init; }

    /// <summary>The same chance under other priors, in the order of <see cref="ChancePrior.Others"/>.</summary>
    public required ImmutableArray<(string Prior, double Chance)> OtherPriors { get; init; }

    /// <summary>Average survival: posterior median, its 2.5 and 97.5 % points, posterior standard deviation.</summary>
    public required Estimate Day28 { get; init; }

    /// <summary>Posterior mean of average survival.</summary>
    public required double Mean { get; init; }

    /// <summary>Posterior mean of logit π.</summary>
    public required double MeanLogit { get; init; }

    /// <summary>Posterior standard deviation of logit π.</summary>
    public required double SdLogit { get; init; }

    /// <summary>Posterior mean of τ, the standard deviation of lines on the log cumulative hazard.</summary>
    public required double MeanSpread { get; init; }

    /// <summary>Lines with a watched nest.</summary>
    public required int Lines { get; init; }

    /// <summary>Watched nests.</summary>
    public required int Nests { get; init; }

    /// <summary>The benchmark, in (0, 1).</summary>
    public required double Benchmark { get; init; }

    /// <summary>The share φ of the hazard before the first check that was used.</summary>
    public required double Phi { get; init; }

    internal ChancePosterior Posterior { get; private init; } = null!;

    /// <summary>How likely is it that survival, averaged over lines, is at least the benchmark?</summary>
    /// <param name="nests">One row a nest, any season, pasture or cover class; unwatched nests say nothing.</param>
    /// <param name="phi">Share φ of the cumulative hazard before the first check, in [0, 1], from the two-piece fit of the same nests; c1/D when nothing was lost.</param>
    /// <param name="benchmark">Survival to the end of the trial, in (0, 1).</param>
    /// <param name="trial">Days of the trial.</param>
    /// <param name="oneLineIsEnough">Whether a group of one line may have a chance: yes for a season that has one line, no for a transect's own group.</param>
    /// <returns>The chance and the posterior; a reason when no nest was watched, when one line is not enough, or when a loss has chance 0 at this φ.</returns>
    /// <exception cref="ArgumentOutOfRangeException">φ or the benchmark is out of range.</exception>
    /// <remarks>
    /// Log cumulative hazard of line g to the end of the trial: β + τz_g, z_g standard normal, spread over the days by <see cref="HazardShape"/>.
    /// A nest intact at its last visit a has chance exp(−H(a)), one lost in (a, b] exp(−H(a)) − exp(−H(b)), one lost at camera time t the
    /// density h(t)·exp(−H(t)) per day. Prior: logit π ~ N(0, 1.5²) on the average π, so that the chance is ½ before data, and τ ~ half-normal(1).
    /// One grid of likelihoods serves all priors. Each group alone: nothing is borrowed from its neighbours.
    /// Edges: all survive or none survive (a chance near 1 or 0, limits inside (0, 1)); one line (τ is its prior, so the limits are wide);
    /// equal lines are evaluated once. Deterministic to the bit whatever the order of rows. Cost: about 1,000 points times lines.
    /// It misleads when φ differs between lines, and when nests not relocated were lost more often than others.
    /// </remarks>
    /// <source>Common practice, no source: hierarchical complementary log-log model, integrated numerically (Gauss–Legendre and trapezoidal rules: Trefethen &amp; Weideman 2014, SIAM Review 56, 385–458, from memory, to be confirmed).</source>
    /// <check>reference-seasons</check>
    public static Answer<BenchmarkChance> From(NestSpans nests, double phi, double benchmark, Trial trial, bool oneLineIsEnough = true)
    {
        if (!(phi is >= 0 and <= 1)) throw new ArgumentOutOfRangeException(nameof(phi));
        if (!(benchmark is > 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(benchmark));
        var read = LineLikelihoods.Of(nests, new HazardShape(phi, trial));
        if (!read.HasValue) return new NoAnswer(read.Why);
        var lines = read.Value.Lines;
        if (lines.Length == 1 && !oneLineIsEnough) return NoAnswer.Because("chance.one_line");
        var logit = Logit(benchmark);
        var posterior = ChancePosterior.Of(lines, logit);
        return Summarised(posterior, logit) with { Lines = lines.Length, Nests = read.Value.Nests, Benchmark = benchmark, Phi = phi };
    }

    /// <summary>The chance at the shape that the nests' own two-piece fit found; even hazards where it found none.</summary>
    internal static Answer<BenchmarkChance> AtOwnShape(NestSpans nests, TwoPieceFit fit, double benchmark, Trial trial) =>
        From(nests, fit.Phi ?? trial.FirstCheck / trial.Days, benchmark, trial);

    private static double Logit(double p) => Math.Log(p / (1 - p));

    private static double Expit(double x) => 1 / (1 + Math.Exp(-x));

    private static BenchmarkChance Summarised(ChancePosterior posterior, double benchmarkLogit)
    {
        var moments = Moments(posterior);
        var others = ImmutableArray.CreateBuilder<(string, double)>();
        for (var p = 1; p < ChancePrior.All.Length; p++) others.Add((ChancePrior.All[p].Name, Above(posterior, p, benchmarkLogit)));
        return new BenchmarkChance
        {
            Chance = Above(posterior, 0, benchmarkLogit),
            OtherPriors = others.ToImmutable(),
            Day28 = new Estimate
            {
                Value = Expit(Quantile(posterior, 0.5)),
                Low = Expit(Quantile(posterior, 0.025)),
                High = Expit(Quantile(posterior, 0.975)),
                Se = moments.Sd,
                Method = "posterior median of survival averaged over lines, 2.5 and 97.5 % points; prior logit N(0, 1.5^2), spread half-normal(1)",
            },
            Mean = moments.Mean,
            MeanLogit = moments.MeanLogit,
            SdLogit = moments.SdLogit,
            MeanSpread = moments.MeanSpread,
            Lines = 0,
            Nests = 0,
            Benchmark = 0,
            Phi = 0,
            Posterior = posterior,
        };
    }

    private static double Above(ChancePosterior posterior, int prior, double benchmarkLogit)
    {
        double above = 0, below = 0;
        foreach (var panel in posterior.Panels)
        {
            if (panel.Low >= benchmarkLogit) above += panel.Mass(prior);
            else below += panel.Mass(prior);
        }

        return above / (above + below);
    }

    private static double Quantile(ChancePosterior posterior, double share)
    {
        var left = share * posterior.Total(0);
        foreach (var panel in posterior.Panels)
        {
            var mass = panel.Mass(0);
            if (left <= mass) return panel.Quantile(left);
            left -= mass;
        }

        return posterior.Panels[^1].High;
    }

    private static (double Mean, double Sd, double MeanLogit, double SdLogit, double MeanSpread) Moments(ChancePosterior posterior)
    {
        double total = posterior.Total(0), mean = 0, logit = 0, spread = 0, variance = 0, logitVariance = 0;
        foreach (var panel in posterior.Panels)
        {
            for (var i = 0; i < panel.Logits.Length; i++)
            {
                mean += panel.Marginal[i] * Expit(panel.Logits[i]) / total;
                logit += panel.Marginal[i] * panel.Logits[i] / total;
                for (var t = 0; t < posterior.Spread.Spreads.Length; t++) spread += panel.Weights[i, t] * posterior.Spread.Spreads[t] / total;
            }
        }

        foreach (var panel in posterior.Panels)
        {
            for (var i = 0; i < panel.Logits.Length; i++)
            {
                variance += panel.Marginal[i] * Math.Pow(Expit(panel.Logits[i]) - mean, 2) / total;
                logitVariance += panel.Marginal[i] * Math.Pow(panel.Logits[i] - logit, 2) / total;
            }
        }

        return (mean, Math.Sqrt(variance), logit, Math.Sqrt(logitVariance), spread);
    }
}
