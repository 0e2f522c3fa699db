using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>How survival moved over the years of one pasture or property, or of a group of them.</summary>
/// <param name="Years">Years that enter.</param>
/// <param name="LogOddsAYear">Change of the log odds of survival a year, with limits.</param>
/// <param name="PointsAYear">The same as points of survival a year, about the middle of the years.</param>
/// <param name="YearSd">Standard deviation of years around the line, on the log odds.</param>
/// <param name="ChanceRising">Chance that survival is rising, in (0, 1).</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record YearTrend(int Years, Estimate LogOddsAYear, Estimate PointsAYear, double YearSd, double ChanceRising)
{
    /// <summary>Fewest years that a trend is asked of.</summary>
    public const int Fewest = 3;

    /// <summary>What do the years say of a trend?</summary>
    /// <param name="years">The years; those whose label is no number, or that have no survival, are left out.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>The trend; a reason with fewer than three years.</returns>
    /// <remarks>
    /// Log odds of each year (half a nest added to either side, errors by lines, never less than those of independent nests) against the year, years varying truly around the line
    /// (<see cref="RandomEffects"/>), limits on k − 2 degrees of freedom: with three years they are very wide, and so they should be.
    /// It misleads when what was done changed along with the years.
    /// </remarks>
    /// <source>Random-effects regression with known error variances: see RandomEffects. Smoothed log odds: Anscombe 1956 (from memory, to be confirmed).</source>
    /// <check>published-values</check>
    public static Answer<YearTrend> Of(IEnumerable<PastureYear> years, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(years);
        var used = new List<(double Year, double LogOdds, double Variance)>();
        foreach (var label in years.GroupBy(y => y.Label, StringComparer.Ordinal))
        {
            if (!double.TryParse(label.Key, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var number)) continue;
            var shares = label.Select(ShareOfYear.Of).Where(s => s.HasValue).Select(s => (s.Value.LogOdds, Variance: Math.Max(s.Value.LogOddsSe * s.Value.LogOddsSe, s.Value.LeastSe * s.Value.LeastSe))).ToArray();
            // Two seasons of one year are one draw of its weather: together they are one point.
            var weight = shares.Sum(s => 1 / s.Variance);
            if (shares.Length > 0) used.Add((number, shares.Sum(s => s.LogOdds / s.Variance) / weight, 1 / weight));
        }

        return Through(used, level);
    }

    /// <summary>The trend through log odds by year.</summary>
    internal static Answer<YearTrend> Through(IReadOnlyList<(double Year, double LogOdds, double Variance)> used, double level = 0.95)
    {
        if (used.Select(u => u.Year).Distinct().Count() < Fewest) return NoAnswer.Because("years.few_years", ("years", used.Select(u => u.Year).Distinct().Count()), ("fewest", Fewest));
        var middle = used.Average(u => u.Year);
        var fit = RandomEffects.Of([.. used.Select(u => u.LogOdds)], [.. used.Select(u => u.Variance)], [[.. used.Select(u => u.Year - middle)]], level);
        if (!fit.HasValue) return new NoAnswer(fit.Why);
        var slope = fit.Value.Limits(1, level);
        var share = Exponentials.Expit(fit.Value.Coefficients[0]);
        var points = share * (1 - share);
        var inPoints = slope with { Value = points * slope.Value, Low = points * slope.Low, High = points * slope.High, Se = points * slope.Se };
        return new YearTrend(used.Count, slope, inPoints, Math.Sqrt(fit.Value.Tau2), Tails.StudentBelow(slope.Value!.Value / slope.Se!.Value, fit.Value.Degrees));
    }
}
