using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The steps towards the maximum of a likelihood with random intercepts: without spread, with it, its test and its limits.</summary>
internal sealed class GroupedSearch
{
    /// <summary>A gain of log-likelihood that is rounding.</summary>
    private const double Rounding = 1e-10;

    private readonly GroupedOptions options;
    private readonly ILikelihood likelihood;
    private readonly ImmutableArray<GroupingLevels> groupings;
    private readonly int width;
    private readonly MarginalMaximum search;

    /// <summary>Searches from coefficients on scaled columns.</summary>
    /// <param name="likelihood">The likelihood.</param>
    /// <param name="groupings">Its groupings.</param>
    /// <param name="options">Level and limits.</param>
    /// <param name="start">Coefficients to start from.</param>
    public GroupedSearch(ILikelihood likelihood, ImmutableArray<GroupingLevels> groupings, GroupedOptions options, ReadOnlySpan<double> start)
    {
        (this.options, this.likelihood, this.groupings, width) = (options, likelihood, groupings, likelihood.Coefficients);
        search = new MarginalMaximum(likelihood);
        var point = new double[likelihood.Size];
        start.CopyTo(point);
        search.Climb(point, Free(spreads: false), zeroIsMaximum: false);
        Without = new Maximum((double[])point.Clone(), search, Free(spreads: false));
        Best = WithSpread();
        var factor = CurvatureFactor.Of(Best.Derivatives(), MarginalMaximum.Indexes(Best.Free));
        IsFlat = !factor.IsPositive;
        Covariance = factor.Inverse(likelihood.Size);
    }

    /// <summary>The maximum with all spreads 0.</summary>
    public Maximum Without { get; }

    /// <summary>The maximum.</summary>
    public Maximum Best { get; }

    /// <summary>Inverse of minus the second derivatives at the maximum.</summary>
    public double[] Covariance { get; }

    /// <summary>Whether the likelihood does not fall in some direction, so that there are no standard errors.</summary>
    public bool IsFlat { get; }

    /// <summary>Whether a spread has run away.</summary>
    public bool IsEndless => Best.Point.AsSpan(width).ContainsAnyInRange(0.99 * search.LargestSpread, double.MaxValue);

    /// <summary>Spreads with tests and limits.</summary>
    public ImmutableArray<GroupedSpread> Spreads() => [.. Enumerable.Range(0, groupings.Length).Select(Spread)];

    private Maximum WithSpread()
    {
        var free = Free(spreads: true);
        if (!free.AsSpan(width).Contains(true)) return Without;
        var point = (double[])Without.Point.Clone();
        var start = likelihood.StartingSpreads();
        for (var s = 0; s < groupings.Length; s++) point[width + s] = free[width + s] ? start[s] : 0;
        search.Climb(point, free, groupings.Length == 1 && Without.Second[^1] <= 0);
        if (Released(point, free)) search.Climb(point, free, zeroIsMaximum: false);
        return search.At.Value > Without.Value + Rounding && free.AsSpan(width).Contains(true) ? new Maximum(point, search, free) : Without;
    }

    /// <summary>Frees spreads that were put to 0 although the log-likelihood rises from there.</summary>
    private bool Released(double[] point, bool[] free)
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

    private GroupedSpread Spread(int index)
    {
        var (name, informative) = groupings[index];
        if (informative < 2) return new GroupedSpread(name, Estimate.None("none", Phrase.Of("grouped.one_group", ("grouping", name))), null, 0, 1);
        int at = width + index;
        var sigma = Best.Point[at];
        var zero = sigma == 0 ? Best.Value : groupings.Length == 1 ? Without.Value : WithoutOne(at);
        var ratio = Math.Max(0, 2 * (Best.Value - zero));
        double? se = sigma == 0 || IsFlat ? null : Math.Sqrt(Covariance[at * likelihood.Size + at]);
        return new GroupedSpread(name, Limits(at, zero, se), se / sigma, ratio, Tails.ChiSquareAbove(ratio, 1) / 2);
    }

    private double WithoutOne(int at)
    {
        var (point, free) = ((double[])Best.Point.Clone(), (bool[])Best.Free.Clone());
        (point[at], free[at]) = (0, false);
        search.Climb(point, free, zeroIsMaximum: false);
        return search.At.Value;
    }

    private Estimate Limits(int at, double zero, double? se)
    {
        var bare = new Estimate { Value = Best.Point[at], Se = se, Level = options.Level, Method = options.Profile ? "profile likelihood" : "Wald on the log scale" };
        var z = Tails.NormalQuantile((1 + options.Level) / 2);
        if (options.Profile)
        {
            var profile = new SpreadProfile(likelihood, Best, at, z * z / 2);
            var high = profile.High(se);
            return bare with { Low = profile.Low(se, zero), High = high, Why = high is null ? Phrase.Of("grouped.spread_unbounded") : null };
        }

        if (se is not { } error) return bare with { Why = Phrase.Of("grouped.no_limits_at_zero") };
        var factor = Math.Exp(z * error / Best.Point[at]);
        return double.IsFinite(factor) && factor > 0 ? bare with { Low = Best.Point[at] / factor, High = Best.Point[at] * factor } : bare with { Why = Phrase.Of("grouped.spread_unbounded") };
    }
}
