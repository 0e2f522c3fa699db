using Tussock.Cover;
using Tussock.Numerics;

namespace Tussock.Verdicts;

/// <summary>How many more belts would probably settle on which side of the benchmark a clump density lies.</summary>
public static class MoreBelts
{
    /// <summary>Most lines that are thought of.</summary>
    public const int Most = 60;

    /// <summary>Chance of a clear call that is asked for.</summary>
    public const double Wanted = 0.8;

    /// <summary>Smallest number of further lines after which a clear call has a chance of .8 or more.</summary>
    /// <param name="density">The density so far, from at least two lines.</param>
    /// <param name="benchmarkPerAcre">Benchmark, clumps an acre, &gt; 0.</param>
    /// <param name="certainty">A certainty that a user asks for instead of the usual one; null: the usual one.</param>
    /// <returns>1 to 60 and never fewer than make four lines; a reason when 60 are not enough or nothing shows how lines differ.</returns>
    /// <remarks>
    /// Log density ~ N(A, s²) around the estimate, A from the benchmark, s the relative standard error; M more lines like these leave
    /// s_M² = s²·m/(m + M). Normal tails where the call itself uses Student's t: with few lines the number is a little too small.
    /// </remarks>
    /// <source>Predictive distribution of a normal mean under a flat prior, textbook; its use here: common practice, no source.</source>
    /// <check>worked-by-hand</check>
    public static Answer<int> Of(ClumpDensity density, double benchmarkPerAcre, double? certainty = null)
    {
        if (density.Lines < 2 || density.PerAcre is not { Value: > 0 and var d, Se: > 0 and var se }) return NoAnswer.Because("verdict.density.no_spread");
        var away = Math.Log(d / benchmarkPerAcre);
        for (var more = 1; more <= Most; more++)
        {
            if (Calls.CertaintyFor(density.Lines + more) is not { } usual) continue;
            if (ChanceOfCall(away, se / d, density.Lines, more, certainty ?? usual) >= Wanted) return more;
        }

        return NoAnswer.Because("verdict.density.too_near", ("lines", Most));
    }

    /// <summary>Chance that the call is clear after so many more lines.</summary>
    /// <param name="away">Log density less log benchmark.</param>
    /// <param name="s">Standard error of the log density from the lines so far, &gt; 0.</param>
    /// <param name="lines">Lines so far.</param>
    /// <param name="more">Further lines, ≥ 1.</param>
    /// <param name="certainty">Certainty asked for, in (0.5, 1).</param>
    internal static double ChanceOfCall(double away, double s, int lines, int more, double certainty)
    {
        var after = s * Math.Sqrt((double)lines / (lines + more));
        var moves = Math.Sqrt(s * s - after * after);
        var needed = Tails.NormalQuantile(certainty) * after;
        return Tails.NormalBelow((away - needed) / moves) + Tails.NormalBelow((-away - needed) / moves);
    }
}
