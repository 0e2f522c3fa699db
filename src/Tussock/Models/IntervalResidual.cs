using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Losses seen in some visit intervals beside those that the fit expects there: a cell of a <see cref="GroupedDeviance"/>.</summary>
/// <param name="Name">Line, or number of the risk class from the lowest.</param>
/// <param name="Intervals">Intervals counted together.</param>
/// <param name="Observed">Those that ended in a loss.</param>
/// <param name="Expected">Sum of the fitted chances 1 − e^(−H) to end in one.</param>
/// <param name="Standardised">(Observed − expected)/√Σp(1 − p), about standard normal in a part that the fit describes; null where nothing could have come otherwise.</param>
public sealed record IntervalResidual(string Name, int Intervals, int Observed, double Expected, double? Standardised)
{
    /// <summary>Where do losses differ from the fit?</summary>
    /// <param name="rows">Visit intervals; camera times are not used.</param>
    /// <param name="fit">The fit of their table.</param>
    /// <param name="by">What is counted together: lines, or classes of the fitted chance of loss of whole intervals.</param>
    /// <param name="riskClasses">Classes with about equal numbers of expected losses, at least 2; fewer where many intervals are alike.</param>
    /// <returns>One a line in its order, or one a class from the lowest risk to the highest; none that holds no interval.</returns>
    /// <remarks>
    /// A whole interval stands in one class, also where its effects change between visits; the classes of <see cref="LossResidual.ByRisk"/> hold days, and are no match for such effects.
    /// Not corrected for the effects having been fitted to the same rows, which makes the values a little too small.
    /// </remarks>
    /// <source>Hosmer and Lemeshow 1980, Communications in Statistics A9, 1043–1069 (classes of fitted risk); from memory, to be confirmed. Pearson residuals of lines: common practice, no source.</source>
    /// <check>interval-residuals</check>
    public static ImmutableArray<IntervalResidual> Of(VisitRows rows, EffectsFit fit, DevianceCells by, int riskClasses = 10)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(riskClasses, 2);
        var season = new InventedSeasons(rows, fit, new DevianceOptions { RiskClasses = riskClasses });
        var (chances, cellOf) = (season.OwnChances, season.OwnCells(by));
        var cells = by == DevianceCells.Group ? fit.Table.Groups : cellOf.Length == 0 ? 0 : cellOf.Max() + 1;
        double[] expected = new double[cells], variance = new double[cells];
        int[] observed = new int[cells], number = new int[cells];
        for (var row = 0; row < cellOf.Length; row++)
        {
            var (cell, chance) = (cellOf[row], chances[row]);
            number[cell]++;
            if (rows.Lost[row]) observed[cell]++;
            expected[cell] += chance;
            variance[cell] += chance * (1 - chance);
        }

        string Name(int cell) => by == DevianceCells.Group ? fit.Table.GroupNames[cell] : Words.Numbers.Whole(cell + 1);
        return [.. Enumerable.Range(0, cells).Where(c => number[c] > 0).Select(c => new IntervalResidual(Name(c), number[c], observed[c], expected[c], variance[c] > 1e-9 ? (observed[c] - expected[c]) / Math.Sqrt(variance[c]) : null))];
    }
}
