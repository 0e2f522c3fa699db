using Tussock.Cover;
using Tussock.Measures;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Years;

/// <summary>What one property says in one year, or over all its years, on scales without ends and with error variances.</summary>
internal static class PropertyNumbers
{
    /// <summary>How many times the errors between lines are those of as many independent nests, over all years given: the weighted mean over years, at least 1.</summary>
    /// <remarks>One property's few lines tell its own error badly; what is common to all is known better, so that no property weighs much by luck.</remarks>
    /// <source>Design effect: Kish 1965, Survey Sampling (from memory, to be confirmed). One for all: common practice, no source.</source>
    internal static double DesignEffect(IEnumerable<PastureYear> years)
    {
        double sum = 0, weight = 0;
        foreach (var year in years.Where(y => !y.IsByPieces))
        {
            var counts = LineCounts.Of(year.Lines.Select(l => (l.Survived, l.Known)));
            if (counts.Lines < 2 || counts.Survived == 0 || counts.Survived == counts.Known) continue;
            sum += (counts.Lines - 1) * counts.Variance * counts.Known / (counts.Share * (1 - counts.Share));
            weight += counts.Lines - 1;
        }

        return weight > 0 ? Math.Max(1, sum / weight) : 1;
    }

    /// <summary>Log odds of survival over some years of one property; null without a nest of known fate.</summary>
    internal static (double Value, double Variance)? Survival(IEnumerable<PastureYear> years, double designEffect)
    {
        int survived = 0, known = 0;
        foreach (var year in years.Where(y => !y.IsByPieces))
        {
            survived += year.Lines.Sum(l => l.Survived);
            known += year.Lines.Sum(l => l.Known);
        }

        return known == 0 ? null : (Smoothed.LogOdds(survived, known), designEffect * Smoothed.Variance(survived, known));
    }

    /// <summary>Log of clumps an acre over some years of one property; null without a clump, or with one line.</summary>
    internal static (double Value, double Variance)? Density(IEnumerable<PastureYear> years)
    {
        var belts = years.SelectMany(y => y.Lines.Where(l => l.AreaM2 > 0).Select(l => (Key: l.Line ?? y.Label + ": " + l.Name, l.Clumps, l.AreaM2))).GroupBy(l => l.Key, StringComparer.Ordinal)
            .Select(g => (Clumps: g.Sum(l => l.Clumps), AreaM2: g.Sum(l => l.AreaM2))).ToArray();
        var clumps = belts.Sum(b => b.Clumps);
        if (belts.Length < 2 || !(clumps > 0)) return null;
        var ratio = RatioEstimator.Of([.. belts.Select(b => b.Clumps)], [.. belts.Select(b => b.AreaM2)]);
        // Lines that agree by luck are no better than the clumps they count.
        return (Math.Log(Area.PerAcre(ratio.Ratio)), Math.Max(Math.Pow(ratio.Se!.Value / ratio.Ratio, 2), 1 / clumps) + years.Max(y => y.WalkersError));
    }

    /// <summary>Log of a number with limits over some years of one property, each year by its own error; null where no year has it with limits.</summary>
    internal static (double Value, double Variance)? Logs(IEnumerable<Measured?> numbers)
    {
        double sum = 0, weight = 0;
        foreach (var number in numbers)
        {
            if (number is not { Value: > 0 and var value, Low: > 0 and { } low, High: { } high } || !(high > low)) continue;
            var se = Math.Log(high / low) / (2 * Tails.NormalQuantile(0.975));
            sum += Math.Log(value) / (se * se);
            weight += 1 / (se * se);
        }

        return weight > 0 ? (sum / weight, 1 / weight) : null;
    }
}
