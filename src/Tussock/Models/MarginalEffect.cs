namespace Tussock.Models;

/// <summary>What a change of an effect does to survival, averaged over nests as they are.</summary>
/// <param name="Before">Average survival with the first value.</param>
/// <param name="After">Average survival with the second value.</param>
/// <param name="Difference">After − before, in [−1, 1].</param>
public sealed record MarginalEffect(Estimate Before, Estimate After, Estimate Difference)
{
    /// <summary>How many more nests would survive if this column went from one value to another, all else as it is?</summary>
    /// <param name="effects">Effects with their covariance.</param>
    /// <param name="table">The table whose patterns are averaged over, each by its days: watched, and within an interval with a loss.</param>
    /// <param name="column">The column that changes; columns made from it (interactions) do not follow: use <see cref="Between"/> for those.</param>
    /// <param name="values">First and second value.</param>
    /// <param name="day">Day, &gt; 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Averages and their difference with standard errors by the delta method; null with a reason where the table says nothing about such nests.</returns>
    /// <exception cref="ArgumentException">There is no such column.</exception>
    /// <remarks>Survival over all the days with the effects of the pattern: for columns that change with days (fortnight) use <see cref="Between"/> with whole courses.</remarks>
    /// <source>Lane and Nelder 1982, Biometrics 38, 613–621 (predictions averaged over covariates as they are); from memory, to be confirmed. Delta method: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static MarginalEffect Of(FittedEffects effects, ModelTable table, string column, (double From, double To) values, double day, double level = 0.95)
    {
        var place = table.Columns.IndexOf(column);
        if (place < 0) throw new ArgumentException("no column " + column, nameof(column));
        var days = EffectColumns.Days(table);
        var nests = Enumerable.Range(0, table.Patterns).Select(p => (days[p], (IReadOnlyList<PatternDays>)[With(p, values.From)], (IReadOnlyList<PatternDays>)[With(p, values.To)])).ToArray();
        return Between(effects, nests, level);

        PatternDays With(int p, double value)
        {
            var x = table.Row(p).ToArray();
            x[place] = value;
            return new PatternDays(x, day, table.Offset[p]);
        }
    }

    /// <summary>How many more nests would survive if each took its second course of days in place of its first?</summary>
    /// <param name="effects">Effects with their covariance.</param>
    /// <param name="nests">Weight &gt; 0, first and second course of each nest; the pieces of a course add up to the day asked about.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Averages and their difference with standard errors by the delta method, limits on the plain scale cut to the range; null with a reason where the table says nothing about such nests.</returns>
    /// <source>Lane and Nelder 1982, Biometrics 38, 613–621 (predictions averaged over covariates as they are); from memory, to be confirmed. Delta method: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static MarginalEffect Between(FittedEffects effects, IReadOnlyList<(double Weight, IReadOnlyList<PatternDays> Before, IReadOnlyList<PatternDays> After)> nests, double level = 0.95)
    {
        var method = "average predicted survival, " + effects.Method;
        if (!nests.All(n => n.Before.Concat(n.After).All(piece => effects.Knows(piece.X))))
        {
            var none = Estimate.None(method, Phrase.Of("models.prediction_unknown")) with { Level = level };
            return new MarginalEffect(none, none, none);
        }

        var total = nests.Sum(n => n.Weight);
        var (before, beforeSlope) = Average(effects, nests.Select(n => (n.Weight / total, n.Before)));
        var (after, afterSlope) = Average(effects, nests.Select(n => (n.Weight / total, n.After)));
        double[] slope = [.. afterSlope.Zip(beforeSlope, (a, b) => a - b)];
        return new MarginalEffect(One(before, beforeSlope, 0), One(after, afterSlope, 0), One(after - before, slope, -1));

        Estimate One(double value, double[] by, double least)
        {
            if (effects.Variance(by) is not { } variance) return new Estimate { Value = value, Level = level, Method = method, Why = effects.Why };
            var reach = effects.Reach(level) * Math.Sqrt(variance);
            return new Estimate { Value = value, Se = Math.Sqrt(variance), Low = Math.Max(least, value - reach), High = Math.Min(1, value + reach), Level = level, Method = method };
        }
    }

    private static (double Value, double[] Slope) Average(FittedEffects effects, IEnumerable<(double Share, IReadOnlyList<PatternDays> Course)> nests)
    {
        var slope = new double[effects.Beta.Length];
        var value = 0.0;
        foreach (var (share, course) in nests)
        {
            var hazard = CumulativeHazard.Of(effects, course);
            value += share * Math.Exp(-hazard.H);
            for (var j = 0; j < slope.Length; j++) slope[j] += share * hazard.SurvivalSlope(j);
        }

        return (value, slope);
    }
}
