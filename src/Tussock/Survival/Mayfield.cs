using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Daily survival from exposure days.</summary>
public static class Mayfield
{
    private const string Method = "exposure days, logit limits, nest-days independent";

    /// <summary>What is the daily survival, if a nest lost between two visits was exposed for half of the days between them?</summary>
    /// <param name="nests">One row a nest: exposed to a, and for (b − a)/2 days more when lost in (a, b]; to t when a camera timed the loss.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>1 − losses/exposure in [0, 1]; see <see cref="FromExposure"/> for what is missing when.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level is outside its range.</exception>
    /// <remarks>Biased when visits are far apart; stands beside the likelihood estimate in the technical report only.</remarks>
    /// <source>Mayfield 1961, Wilson Bull. 73, 255–261; Mayfield 1975, Wilson Bull. 87, 456–466</source>
    /// <check>published-values</check>
    public static Estimate Of(NestSpans nests, double level = 0.95)
    {
        var (losses, days) = Exposure(nests);
        return FromExposure(losses, days, level);
    }

    /// <summary>Losses and exposure days of nests, a lost interval counting half.</summary>
    /// <source>Mayfield 1975, Wilson Bull. 87, 456–466</source>
    /// <check>published-values</check>
    public static (int Losses, double Days) Exposure(NestSpans nests)
    {
        var losses = 0;
        var days = 0.0;
        for (var row = 0; row < nests.Count; row++)
        {
            double a = nests.LastIntact[row], t = nests.LostAt[row];
            var lost = nests.IsLost(row);
            if (lost) losses++;
            days += !double.IsNaN(t) ? t : lost ? a + (nests.FirstLost[row] - a) / 2 : a;
        }

        return (losses, days);
    }

    /// <summary>Daily survival from losses and exposure days.</summary>
    /// <param name="losses">Nests lost, ≥ 0.</param>
    /// <param name="days">Exposure in nest-days, ≥ 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>1 − L/E with se √(s(1 − s)/E) and logit limits. No exposure, or more losses than days: null with why. Nothing lost, or every day a loss: no limits.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A count is negative, or the level is outside its range.</exception>
    /// <remarks>Nest-days are taken as independent.</remarks>
    /// <source>Johnson 1979, Auk 96, 651–661; Hensler and Nichols 1981, Wilson Bull. 93, 42–53</source>
    /// <check>published-values</check>
    public static Estimate FromExposure(int losses, double days, double level = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(losses);
        ArgumentOutOfRangeException.ThrowIfNegative(days);
        ShareRange.RequireLevel(level);
        if (days == 0) return Estimate.None(Method, Phrase.Of("daily.no_exposure")) with { Level = level };
        if (losses > days) return Estimate.None(Method, Phrase.Of("daily.more_losses_than_days")) with { Level = level };
        double s = 1 - losses / days, se = Math.Sqrt(s * (1 - s) / days);
        var point = new Estimate { Value = s, Level = level, Method = Method };
        if (se == 0) return point with { Why = Phrase.Of(losses == 0 ? "daily.nothing_lost" : "daily.every_day_a_loss") };
        var half = Tails.NormalQuantile((1 + level) / 2) * se / (s * (1 - s));
        var middle = Exponentials.Logit(s);
        return point with { Low = Exponentials.Expit(middle - half), High = Exponentials.Expit(middle + half), Se = se };
    }
}
