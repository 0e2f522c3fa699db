using System.Collections.Immutable;
using MathNet.Numerics.Statistics;

namespace Tussock.Years;

/// <summary>One quantity over several properties: its mean, how far properties differ truly, and where a new one would lie.</summary>
/// <param name="Properties">Properties that enter.</param>
/// <param name="LeftOut">Properties that have no such number.</param>
/// <param name="Mean">Mean over properties on the quantity's own scale, with limits; null with why where too few enter.</param>
/// <param name="NewProperty">Between which a further property of this kind would lie.</param>
/// <param name="Sd">Standard deviation of true values between properties, on the log odds or the logarithm; null without a mean.</param>
/// <param name="I2">Share of the variance that is true difference, in [0, 1]; null without a mean.</param>
/// <param name="Quartiles">Lower quartile, median and upper quartile of the properties' own estimates; null with fewer than five.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record Synthesis(int Properties, int LeftOut, Estimate Mean, (double Low, double High)? NewProperty, double? Sd, double? I2, (double Lower, double Middle, double Upper)? Quartiles)
{
    /// <summary>Fewest properties of which a spread may be shown: with fewer, each could be told.</summary>
    public const int FewestForSpread = 5;

    /// <summary>Puts the estimates of several properties together.</summary>
    /// <param name="estimates">Estimate and error variance on a scale without ends, one a property.</param>
    /// <param name="leftOut">Properties without a number.</param>
    /// <param name="back">From that scale to the quantity's own.</param>
    /// <param name="method">What the mean is called.</param>
    internal static Synthesis Of(IReadOnlyList<(double Value, double Variance)> estimates, int leftOut, Func<double, double> back, string method)
    {
        var quartiles = QuartilesOf(estimates, back);
        var fit = RandomEffects.Of([.. estimates.Select(e => e.Value)], [.. estimates.Select(e => e.Variance)]);
        if (!fit.HasValue) return new Synthesis(estimates.Count, leftOut, Estimate.None(method, fit.Why), null, null, null, quartiles);
        var mean = fit.Value.Limits(0);
        var own = new Estimate { Value = back(mean.Value!.Value), Low = back(mean.Low!.Value), High = back(mean.High!.Value), Method = method + "; " + mean.Method, Notes = leftOut > 0 ? [Phrase.Of("years.left_out", ("properties", leftOut))] : [] };
        return new Synthesis(estimates.Count, leftOut, own, fit.Value.Prediction() is { } p ? (back(p.Low), back(p.High)) : null, Math.Sqrt(fit.Value.Tau2), fit.Value.I2, quartiles);
    }

    private static (double, double, double)? QuartilesOf(IReadOnlyList<(double Value, double Variance)> estimates, Func<double, double> back)
    {
        if (estimates.Count < FewestForSpread) return null;
        var sorted = estimates.Select(e => back(e.Value)).Order().ToArray();
        return (SortedArrayStatistics.Quantile(sorted, 0.25), SortedArrayStatistics.Quantile(sorted, 0.5), SortedArrayStatistics.Quantile(sorted, 0.75));
    }
}
