using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The steps from a likelihood with random intercepts to a <see cref="GroupedFit"/>: without spread, with it, its test, its limits, and what must be said.</summary>
internal sealed class GroupedSearch(ModelTable table, Link link, GroupedOptions options, ILikelihood likelihood, ImmutableArray<GroupingLevels> groupings)
{
    /// <summary>Standard error of a whole standard deviation of an effect from which on the likelihood is taken to be flat.</summary>
    private const double Flat = 100;

    /// <summary>A gain of log-likelihood that is rounding.</summary>
    private const double Rounding = 1e-10;

    private readonly int width = table.Width;
    private readonly double[] scales = EffectScales.Of(table);
    private readonly ImmutableArray<Phrase>.Builder warnings = ImmutableArray.CreateBuilder<Phrase>();

    /// <summary>The fit, or why there is none.</summary>
    public Answer<GroupedFit> Fit()
    {
        var search = new MarginalMaximum(likelihood);
        var point = new double[likelihood.Size];
        EffectScales.Start(table, link).CopyTo(point, 0);
        search.Climb(point, Free(spreads: false), zeroIsMaximum: false);
        var without = new Maximum((double[])point.Clone(), search, Free(spreads: false));
        var best = WithSpread(search, without);
        if (best.Point.AsSpan(width).ContainsAnyInRange(0.99 * search.LargestSpread, double.MaxValue)) return NoAnswer.Because("grouped.spread_without_end");
        return Described(best, without);
    }

    private Maximum WithSpread(MarginalMaximum search, Maximum without)
    {
        var free = Free(spreads: true);
        if (!free.AsSpan(width).Contains(true)) return without;
        var point = (double[])without.Point.Clone();
        var start = likelihood.StartingSpreads();
        for (var s = 0; s < groupings.Length; s++) point[width + s] = free[width + s] ? start[s] : 0;
        var zeroIsMaximum = groupings.Length == 1 && without.Second[^1] <= 0;
        search.Climb(point, free, zeroIsMaximum);
        if (Released(search, point, free)) search.Climb(point, free, zeroIsMaximum: false);
        return search.At.Value > without.Value + Rounding && free.AsSpan(width).Contains(true) ? new Maximum(point, search, free) : without;
    }

    /// <summary>Frees spreads that were put to 0 although the log-likelihood rises from there.</summary>
    private bool Released(MarginalMaximum search, double[] point, bool[] free)
    {
        var any = false;
        for (var s = 0; s < groupings.Length; s++)
        {
            var at = width + s;
            if (groupings[s].Informative < 2 || free[at] || !(search.At.Second[at * likelihood.Size + at] > 1e-6)) continue;
            (point[at], free[at], any) = (0.1, true, true);
        }

        return any;
    }

    private bool[] Free(bool spreads) => [.. Enumerable.Repeat(true, width), .. groupings.Select(g => spreads && g.Informative > 1)];

    private GroupedFit Described(Maximum best, Maximum without)
    {
        var covariance = CurvatureFactor.Of(best.Derivatives(), MarginalMaximum.Indexes(best.Free)).Inverse(likelihood.Size);
        var endless = Enumerable.Range(0, width).Select(j => !(Math.Sqrt(covariance[j * likelihood.Size + j]) * scales[j] < Flat)).ToImmutableArray();
        var effects = Enumerable.Range(0, width).Select(j => Effect(j, best.Point[j], Math.Sqrt(covariance[j * likelihood.Size + j]), endless[j])).ToImmutableArray();
        var modes = likelihood.Modes(best.Point);
        var spreads = Enumerable.Range(0, groupings.Length).Select(s => Spread(s, best, without, covariance)).ToImmutableArray();
        if (!best.Diary.IsSound) warnings.Add(Phrase.Of("grouped.not_converged"));
        var parameters = likelihood.Size;
        return new GroupedFit
        {
            Link = link,
            Effects = effects,
            Spreads = spreads,
            LogLikelihood = best.Value,
            LogLikelihoodWithoutGroups = without.Value,
            Parameters = parameters,
            Aicc = Aicc(best.Value, parameters),
            Nodes = options.Nodes,
            Diary = best.Diary,
            Warnings = warnings.ToImmutable(),
            Covariance = [.. covariance],
            Modes = [.. modes.Select((m, g) => new GroupedMode(table.GroupNames[g], m.Mode, m.Sd))],
            Point = [.. best.Point],
            WithPrior = endless.Contains(true) ? Bounded() : null,
        };
    }

    private GroupedEffect Effect(int column, double value, double se, bool endless)
    {
        var name = table.Columns[column];
        if (endless)
        {
            var why = Phrase.Of("grouped.effect_without_end", ("effect", name));
            warnings.Add(why);
            return new GroupedEffect(name, Estimate.None(Method("Wald"), why), null, null);
        }

        var reach = Tails.NormalQuantile((1 + options.Level) / 2) * se;
        var estimate = new Estimate { Value = value, Se = se, Low = value - reach, High = value + reach, Level = options.Level, Method = Method("Wald") };
        return new GroupedEffect(name, estimate, value / se, 2 * Tails.NormalBelow(-Math.Abs(value / se)));
    }

    private GroupedSpread Spread(int index, Maximum best, Maximum without, double[] covariance)
    {
        var grouping = groupings[index];
        if (grouping.Informative < 2)
        {
            var why = Phrase.Of("grouped.one_group", ("grouping", grouping.Name));
            warnings.Add(why);
            return new GroupedSpread(grouping.Name, Estimate.None(Method("none"), why), null, 0, 1);
        }

        int at = width + index;
        var sigma = best.Point[at];
        if (sigma == 0) warnings.Add(Phrase.Of("grouped.at_zero", ("grouping", grouping.Name)));
        var zero = sigma == 0 ? best.Value : groupings.Length == 1 ? without.Value : WithoutOne(at, best);
        var ratio = Math.Max(0, 2 * (best.Value - zero));
        double? se = sigma == 0 ? null : Math.Sqrt(covariance[at * likelihood.Size + at]);
        return new GroupedSpread(grouping.Name, Limits(at, best, zero, se), se / sigma, ratio, Tails.ChiSquareAbove(ratio, 1) / 2);
    }

    private double WithoutOne(int at, Maximum best)
    {
        var (point, free) = ((double[])best.Point.Clone(), (bool[])best.Free.Clone());
        (point[at], free[at]) = (0, false);
        var search = new MarginalMaximum(likelihood);
        search.Climb(point, free, zeroIsMaximum: false);
        return search.At.Value;
    }

    private Estimate Limits(int at, Maximum best, double zero, double? se)
    {
        var sigma = best.Point[at];
        var z = Tails.NormalQuantile((1 + options.Level) / 2);
        if (options.Profile)
        {
            var profile = new SpreadProfile(likelihood, best, at, z * z / 2);
            var high = profile.High(se);
            return new Estimate
            {
                Value = sigma, Se = se, Low = profile.Low(se, zero), High = high, Level = options.Level, Method = Method("profile likelihood"),
                Why = high is null ? Phrase.Of("grouped.spread_unbounded") : null,
            };
        }

        return se is null
            ? new Estimate { Value = 0, Level = options.Level, Method = Method("no limits"), Why = Phrase.Of("grouped.no_limits_at_zero") }
            : new Estimate { Value = sigma, Se = se, Low = sigma * Math.Exp(-z * se.Value / sigma), High = sigma * Math.Exp(z * se.Value / sigma), Level = options.Level, Method = Method("Wald on the log scale") };
    }

    private string Method(string limits) => options.Nodes == 1 ? $"random intercept, Laplace, {limits}" : $"random intercept, adaptive Gauss-Hermite, {limits}";

    private Answer<double> Aicc(double value, int k)
    {
        var n = table.Intervals;
        return n > k + 1 ? -2 * value + 2.0 * k + 2.0 * k * (k + 1) / (n - k - 1) : NoAnswer.Because("grouped.too_few_intervals", ("intervals", n), ("parameters", k));
    }

    /// <summary>The fit under the prior, without a prior of its own.</summary>
    private GroupedFit? Bounded()
    {
        if (likelihood is LikelihoodWithPrior) return null;
        var prior = new LikelihoodWithPrior(likelihood, scales);
        var fit = new GroupedSearch(table, link, options, prior, groupings).Fit();
        return fit.HasValue ? fit.Value with { LogLikelihood = fit.Value.LogLikelihood - prior.LogPrior(fit.Value.Point.AsSpan()) } : null;
    }
}
