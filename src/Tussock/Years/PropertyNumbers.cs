using Tussock.Measures;
using Tussock.Numerics;

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
            var lines = year.Lines.Where(l => l.Known > 0).ToArray();
            int known = lines.Sum(l => l.Known), survived = lines.Sum(l => l.Survived), m = lines.Length;
            if (m < 2 || survived == 0 || survived == known) continue;
            var p = (double)survived / known;
            var between = m / (m - 1.0) * lines.Sum(l => Math.Pow(l.Survived - (p * l.Known), 2)) / ((double)known * known);
            sum += (m - 1) * between * known / (p * (1 - p));
            weight += m - 1;
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
        double clumps = belts.Sum(b => b.Clumps), area = belts.Sum(b => b.AreaM2), m = belts.Length;
        if (m < 2 || !(clumps > 0)) return null;
        var squares = belts.Sum(b => Math.Pow(b.Clumps - (clumps / area * b.AreaM2), 2)) / (clumps * clumps);
        // Lines that agree by luck are no better than the clumps they count.
        return (Math.Log(Area.PerAcre(clumps / area)), Math.Max(m / (m - 1) * squares, 1 / clumps) + years.Max(y => y.WalkersError));
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
