using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Makes a <see cref="GroupedFit"/>: searches on scaled columns of what separation leaves, and puts the answer on the scale of the table.</summary>
internal sealed class GroupedReport(EffectsFit plain, GroupedOptions options, ImmutableArray<Grouping>? above)
{
    private const int FewGroups = 6;

    private readonly int width = plain.Table.Width, size = plain.Table.Width + 1 + (above?.Length ?? 0);

    /// <summary>The fit, or why there is none.</summary>
    public Answer<GroupedFit> Fit()
    {
        var maximum = plain.Maximum;
        var fit = Fit(maximum.Columns, maximum.Ascent.Point, maximum.Unknown, precision: null);
        if (!fit.HasValue || !plain.IsSeparated) return fit;
        var bounded = Fit(maximum.First, EffectsMaximum.Start(maximum.First, plain.Link), maximum.Aliases, PriorFit.Precision(maximum.First));
        return fit.Value with { WithPrior = bounded.HasValue ? bounded.Value with { Warnings = [] } : null };
    }

    private Answer<GroupedFit> Fit(EffectColumns columns, double[] start, ImmutableArray<double[]> unknown, double[]? precision)
    {
        var table = ScaledTable.Of(columns);
        ILikelihood likelihood = above is { } further ? new NestedLaplace(table, plain.Link, further) : new MarginalLikelihood(table, plain.Link, options.Nodes);
        var prior = precision is null ? null : new LikelihoodWithPrior(likelihood, precision);
        ImmutableArray<GroupingLevels> groupings = [GroupingLevels.Of(table, options.GroupName), .. (above ?? []).Select(a => GroupingLevels.Of(table, a))];
        var search = new GroupedSearch(prior ?? likelihood, groupings, options, start);
        if (!double.IsFinite(search.Best.Value)) return NoAnswer.Because("grouped.nothing_found");
        if (search.IsEndless) return NoAnswer.Because("grouped.spread_without_end");
        var modes = likelihood.Modes(search.Best.Point);
        var value = search.Best.Value - (prior?.LogPrior(search.Best.Point) ?? 0);
        var covariance = Covariance(columns, search.Covariance);
        var between = BetweenLines.Of(columns, table, groupings[0].Informative);
        var typical = Typical(columns, search, unknown, covariance, precision is null ? "random intercepts, observed information" : "random intercepts, posterior mode, normal(0, 2.5) prior on scaled effects") with { Degrees = between.Degrees };
        var spreads = search.Spreads();
        var parameters = plain.Parameters + groupings.Length;
        return new GroupedFit
        {
            Table = plain.Table,
            Link = plain.Link,
            Options = options,
            Effects = [.. plain.Maximum.Chosen.Select(c => Effect(c, typical, between, precision is null))],
            Spreads = spreads,
            LogLikelihood = value,
            LogLikelihoodWithoutGroups = search.Without.Value - (prior?.LogPrior(search.Without.Point) ?? 0),
            Parameters = parameters,
            Aicc = InformationCriterion.Aicc(value, parameters, plain.Table.Intervals),
            Diary = search.Best.Diary,
            Warnings = Warnings(search, spreads, groupings),
            Typical = typical,
            Covariance = search.IsFlat ? [] : [.. covariance],
            Modes = [.. modes.Select((m, g) => new GroupedMode(plain.Table.GroupNames[g], m.Mode, m.Sd))],
            WithPrior = null,
        };
    }

    private FittedEffects Typical(EffectColumns columns, GroupedSearch search, ImmutableArray<double[]> unknown, double[] covariance, string method)
    {
        var (raw, beta, own) = (columns.Raw(search.Best.Point.AsSpan(0, columns.Width)), new double[width], new double[width * width]);
        for (var j = 0; j < raw.Length; j++) beta[columns.Kept[j]] = raw[j];
        for (var i = 0; i < width; i++) for (var j = 0; j < width; j++) own[i * width + j] = covariance[i * size + j];
        return new FittedEffects
        {
            Link = plain.Link, Columns = plain.Table.Columns, Beta = beta, Covariance = search.IsFlat ? null : own, Why = search.IsFlat ? Phrase.Of("models.flat") : null, Method = method, Unknown = unknown,
        };
    }

    private GroupedEffect Effect(int column, FittedEffects typical, BetweenLines between, bool isLimit)
    {
        var name = plain.Table.Columns[column];
        if (plain.Maximum.LeftOut.Contains(column) || (isLimit && plain.IsSeparated && SeparationInWords.Infinite(plain).Contains(column)))
            return new GroupedEffect(name, plain.Coefficients[plain.Maximum.Chosen.IndexOf(column)].Independent with { Method = typical.Method }, null, null);
        var value = typical.Beta[column];
        var degrees = between.Constant.Contains(column) ? between.Degrees : null;
        var bare = new Estimate { Value = value, Level = options.Level, Method = typical.Method + (degrees is null ? ", normal" : ", t(lines - effects constant within lines)"), Why = typical.Why };
        if (typical.Covariance is null) return new GroupedEffect(name, bare, null, null);
        double se = Math.Sqrt(typical.Covariance[column * width + column]), reach = (typical with { Degrees = degrees }).Reach(options.Level) * se, z = -Math.Abs(value / se);
        return new GroupedEffect(name, bare with { Se = se, Low = value - reach, High = value + reach }, value / se, 2 * (degrees is { } d ? Tails.StudentBelow(z, d) : Tails.NormalBelow(z)));
    }

    /// <summary>The covariance of scaled coefficients and spreads, on the table's columns.</summary>
    private double[] Covariance(EffectColumns columns, double[] scaled)
    {
        int k = columns.Width, all = k + size - width;
        var half = new double[size * all];
        for (var j = 0; j < all; j++) Place(columns, i => scaled[i * all + j], (i, value) => half[i * all + j] = value);
        var full = new double[size * size];
        for (var i = 0; i < size; i++) Place(columns, j => half[i * all + j], (j, value) => full[i * size + j] = value);
        for (var i = 0; i < size; i++) for (var j = 0; j < i; j++) full[i * size + j] = full[j * size + i] = (full[i * size + j] + full[j * size + i]) / 2;
        return full;
    }

    /// <summary>Turns one vector over (scaled coefficients, spreads) into one over (all columns, spreads).</summary>
    private void Place(EffectColumns columns, Func<int, double> from, Action<int, double> to)
    {
        var k = columns.Width;
        var raw = columns.Raw([.. Enumerable.Range(0, k).Select(from)]);
        for (var j = 0; j < k; j++) to(columns.Kept[j], raw[j]);
        for (var s = 0; s < size - width; s++) to(width + s, from(k + s));
    }

    private ImmutableArray<Phrase> Warnings(GroupedSearch search, ImmutableArray<GroupedSpread> spreads, ImmutableArray<GroupingLevels> groupings)
    {
        var warnings = ImmutableArray.CreateBuilder<Phrase>();
        warnings.AddRange(plain.Coefficients.Where(c => c.Independent.Value is null).Select(c => c.Independent.Why!).Distinct());
        for (var s = 0; s < spreads.Length; s++)
        {
            if (spreads[s].Sd.Value is null) warnings.Add(spreads[s].Sd.Why!);
            if (spreads[s].Sd.Value is 0) warnings.Add(Phrase.Of("grouped.at_zero", ("grouping", spreads[s].Name)));
            if (groupings[s].Informative is > 1 and < FewGroups) warnings.Add(Phrase.Of("grouped.few_groups", ("grouping", spreads[s].Name), ("groups", groupings[s].Informative)));
        }

        if (search.IsFlat) warnings.Add(Phrase.Of("models.flat"));
        if (!search.Best.Diary.IsSound) warnings.Add(Phrase.Of("models.not_converged", ("steps", search.Best.Diary.Steps)));
        return warnings.ToImmutable();
    }
}
