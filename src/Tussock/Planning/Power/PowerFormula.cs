using Tussock.Measures;
using Tussock.Numerics;
using Tussock.Simulation;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>What formulas say about a design, beside what invented seasons say.</summary>
/// <param name="Correlation">Correlation ρ of two nests of one line.</param>
/// <param name="DesignEffect">1 + (k − 1)·ρ.</param>
/// <param name="EffectiveNests">Nests that would tell as much if each were on its own.</param>
/// <param name="SdShare">Standard deviation of the counted share.</param>
/// <param name="Width">Width of the headline interval at that standard deviation; null with one line.</param>
/// <param name="SurvivalLikely">Chance that survival is called at or above its benchmark.</param>
/// <param name="SurvivalUnlikely">Chance that it is called below.</param>
/// <param name="DensityLikely">Chance that density is called at or above its benchmark.</param>
/// <param name="DensityUnlikely">Chance that it is called below.</param>
public sealed record PowerFormula(
    double Correlation, double DesignEffect, double EffectiveNests, double SdShare, double? Width, double SurvivalLikely, double SurvivalUnlikely, double DensityLikely, double DensityUnlikely)
{
    /// <summary>Chance of a call on survival.</summary>
    public double SurvivalCalled => SurvivalLikely + SurvivalUnlikely;

    /// <summary>Chance of both calls, which rest on separate counts.</summary>
    public double BothCalled => SurvivalCalled * (DensityLikely + DensityUnlikely);

    /// <summary>Chance of a clear answer: both calls where density was asked, else that on survival.</summary>
    public double Clear(bool hasDensity) => hasDensity ? BothCalled : SurvivalCalled;

    /// <summary>What do formulas say about a design?</summary>
    /// <param name="question">Truth and benchmarks.</param>
    /// <param name="design">Lines that are judged together and nests on each.</param>
    /// <returns>All numbers; calls are 0 with fewer than four lines, which are never called.</returns>
    /// <remarks>
    /// sd of the share: √(deff·π(1 − π)/n), exact when every fate is known. Width: limits expit(logit π ± t(.975, m − 1)·sd/(π(1 − π))).
    /// Calls: the share on the logit scale, or the log density, is taken as normal with a standard error estimated from m lines, so that the chance of a call is
    /// that of a noncentral t beyond t(c, m − 1). Density: (sd/D)² = (cv² + 1/clumps a line)/m. Nests that can't be found and late checks are not in it,
    /// nor the prior of the chance, which holds back a little when lines are few. Seen gaps to simulation stand on the page of the method.
    /// </remarks>
    /// <source>Design effect: Donner, Birkett &amp; Buck 1981, American Journal of Epidemiology 114:906–914 (from memory); power of a t test by the noncentral t, textbook; its use for calls: common practice, no source.</source>
    /// <check>published-values</check>
    public static PowerFormula Of(PowerQuestion question, SeasonDesign design)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(design);
        double p = question.Truth.Survival, pq = p * (1 - p), n = (double)design.Lines * design.Nests, m = design.Lines;
        var rho = Power.DesignEffect.Correlation(p, question.Truth.LineSd);
        var effect = Power.DesignEffect.Of(design.Nests, rho);
        var sd = Math.Sqrt(effect * pq / n);
        var logitSd = sd / pq;
        var perLine = question.Truth.PerAcre * Area.Acres(design.SegmentM2 * design.Nests);
        var relative = Math.Sqrt(((question.Truth.DensityCv * question.Truth.DensityCv) + (1 / perLine)) / m);
        var survival = Calls(Logit(p) - Logit(question.SurvivalBenchmark), logitSd, design.Lines, question.Certainty);
        var density = Calls(Math.Log(question.Truth.PerAcre / question.DensityBenchmark), relative, design.Lines, question.Certainty);
        return new PowerFormula(rho, effect, n / effect, sd, WidthAt(p, logitSd, m), survival.Likely, survival.Unlikely, density.Likely, density.Unlikely);
    }

    private static double Logit(double p) => Math.Log(p / (1 - p));

    private static double Expit(double x) => 1 / (1 + Math.Exp(-x));

    private static double? WidthAt(double p, double logitSd, double m)
    {
        if (m < 2) return null;
        var reach = Tails.StudentQuantile(0.975, m - 1) * logitSd;
        return Expit(Logit(p) + reach) - Expit(Logit(p) - reach);
    }

    private static (double Likely, double Unlikely) Calls(double away, double sd, int lines, double? certainty)
    {
        if (Verdicts.Calls.CertaintyFor(lines) is not { } usual) return (0, 0);
        var limit = Tails.StudentQuantile(certainty ?? usual, lines - 1);
        return (NoncentralStudent.Above(limit, lines - 1, away / sd), NoncentralStudent.Above(limit, lines - 1, -away / sd));
    }
}
