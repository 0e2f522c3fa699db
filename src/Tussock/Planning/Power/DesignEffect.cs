using Tussock.Numerics;
using Tussock.Simulation;

namespace Tussock.Planning.Power;

/// <summary>By how much nests that share a line say less than as many nests on their own.</summary>
public static class DesignEffect
{
    /// <summary>Steps of the trapezoidal rule over the luck of lines, which is exact to 1e−12 for smooth functions.</summary>
    private const int Steps = 160;

    private const double Reach = 8;

    /// <summary>Variance of a share with nests in lines, divided by that of as many independent nests.</summary>
    /// <param name="nests">Nests a line, k ≥ 1.</param>
    /// <param name="correlation">Correlation ρ of two nests of one line, in [0, 1].</param>
    /// <returns>1 + (k − 1)·ρ.</returns>
    /// <source>Donner, Birkett &amp; Buck 1981, American Journal of Epidemiology 114:906–914; Kish 1965, Survey Sampling (both from memory).</source>
    /// <check>published-values</check>
    public static double Of(double nests, double correlation) => 1 + ((nests - 1) * correlation);

    /// <summary>The same for lines of different length.</summary>
    /// <param name="nests">Nests of each line.</param>
    /// <param name="correlation">Correlation ρ of two nests of one line, in [0, 1].</param>
    /// <returns>1 + (Σk²/Σk − 1)·ρ.</returns>
    /// <source>Donner, Birkett &amp; Buck 1981, American Journal of Epidemiology 114:906–914 (from memory).</source>
    /// <check>published-values</check>
    public static double Of(ReadOnlySpan<int> nests, double correlation)
    {
        double sum = 0, squares = 0;
        foreach (var k in nests) (sum, squares) = (sum + k, squares + ((double)k * k));
        return Of(squares / sum, correlation);
    }

    /// <summary>How alike are two nests of one line, when lines differ in their hazard?</summary>
    /// <param name="survival">Survival π averaged over lines, in (0, 1).</param>
    /// <param name="lineSd">Standard deviation τ of lines on the log cumulative hazard, in [0, 3].</param>
    /// <returns>ρ = Var(S)/(π(1 − π)) in [0, 1), S = exp(−exp(β + τz)) over the normal luck z of lines.</returns>
    /// <source>Variance between clusters over total variance, textbook; integral by the trapezoidal rule: Trefethen &amp; Weideman 2014, SIAM Review 56, 385–458 (from memory, to be confirmed).</source>
    /// <check>line-correlation</check>
    public static double Correlation(double survival, double lineSd)
    {
        var (beta, _, sd, _) = new SeasonTruth { Survival = survival, LineSd = lineSd }.Hazards();
        double total = 0, first = 0, second = 0;
        for (var i = 0; i <= Steps; i++)
        {
            var z = Reach * ((2.0 * i / Steps) - 1);
            var (weight, s) = (Math.Exp(-z * z / 2), Math.Exp(-Math.Exp(beta + (sd * z))));
            (total, first, second) = (total + weight, first + (weight * s), second + (weight * s * s));
        }

        var mean = first / total;
        return Math.Max(0, (second / total) - (mean * mean)) / (mean * (1 - mean));
    }
}
