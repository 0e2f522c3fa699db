using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>Survival if predators were the only cause of loss.</summary>
public static class PredationOnly
{
    private const string Method = "two-piece hazard of predation alone, cluster-robust log(-log), t(m - 1)";

    /// <summary>How many nests would survive to the end of the trial if only predation existed and causes were unrelated?</summary>
    /// <param name="nests">One row a nest, rows of a line together.</param>
    /// <param name="trial">First check c1 and length D, in days.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Survival in [0, 1] from the two-piece fit, with the note that says what it supposes; null with why as there.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level or the trial is outside its range.</exception>
    /// <remarks>A nest lost to anything else, or to a cause not recorded, leaves the risk set at its last intact visit. It is never an input of a verdict: causes are hardly unrelated.</remarks>
    /// <source>Competing risks taken as independent: common practice, no source</source>
    /// <check>reference-seasons</check>
    public static Estimate Of(NestSpans nests, Trial trial, double level = 0.95)
    {
        var estimate = TwoPiece.Fit(Spans(nests), trial, level).Survival28;
        return estimate with { Method = Method, Notes = estimate.Notes.Insert(0, Phrase.Of("causes.predation_only")) };
    }

    /// <summary>The same nests, those lost to another cause being watched to their last intact visit only.</summary>
    internal static NestSpans Spans(NestSpans nests)
    {
        var kept = nests.Where(_ => true);
        for (var row = 0; row < kept.Count; row++)
        {
            if (!kept.IsLost(row) || kept.Cause[row] == Cause.Depredated) continue;
            kept.FirstLost[row] = double.PositiveInfinity;
            kept.LostAt[row] = double.NaN;
        }

        return kept;
    }
}
