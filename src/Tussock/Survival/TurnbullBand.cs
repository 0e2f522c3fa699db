using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>How far the survival curve might have come out otherwise, had other lines been walked.</summary>
public static class TurnbullBand
{
    /// <summary>Number of resamples of lines.</summary>
    public const int Resamples = 999;

    private const string Method = "nonparametric curve; 999 resamples of lines, log(-log S), t(m - 1)";

    /// <summary>Mass at or below this is none: a resample's S that near to 0 or 1 is 0 or 1.</summary>
    private const double NoMass = 1e-11;

    /// <summary>A standard error of log(−log S) at or below this is rounding: all resamples came out alike.</summary>
    private const double NoSpread = 1e-10;

    /// <summary>With what doubt does the curve stand at the given days, when lines differ from each other?</summary>
    /// <param name="nests">n nests, sorted by line; days since set-out. Lines with a watched nest are the units, m of them.</param>
    /// <param name="days">Days since set-out, 0 or more, any order.</param>
    /// <param name="seed">Seed of the resampling; the same seed gives the same band, whatever the number of threads.</param>
    /// <returns>
    /// One point a day in the order given: survival in [0, 1] and its 95 % limits, or the reason. Without a value where no nest was watched or the
    /// day lies inside an innermost interval (the reason gives both bounds); without limits with one line, where the curve itself is at 0 or 1,
    /// where any resample is, and where all resamples came out alike. Two very unlike lines have limits of 0 and 1.
    /// </returns>
    /// <remarks>
    /// Pointwise: standard error of log(−log S) over resamples × √(m/(m − 1)), t(m − 1) around the curve; not percentiles, and not a band that holds the whole
    /// curve at once. In a resample, places that its own nests no longer part share their mass evenly, where expectation–maximisation from equal masses
    /// ends; a day inside a place of no mass in the curve counts half of what a resample puts there. Cost: 999 fits, on all cores.
    /// </remarks>
    /// <source>Efron &amp; Tibshirani 1993, An Introduction to the Bootstrap, ch. 6 (resampling of units), from memory, to be confirmed; scale and √(m/(m − 1)): common practice, no source.</source>
    /// <check>curve-band</check>
    public static ImmutableArray<BandPoint> Around(NestSpans nests, IReadOnlyList<double> days, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(nests);
        ArgumentNullException.ThrowIfNull(days);
        var places = InnermostIntervals.Of(nests);
        if (places.Weight.Length == 0) return [.. days.Select(day => new BandPoint(day, Estimate.None(Method, Phrase.Of("curve.nothing_watched"))))];
        var curve = Turnbull.Fit(places, out var masses);
        var lines = LineRows.Of(nests, places);
        var errors = lines.Count > 1 ? Errors(places, lines, masses, days, seed) : new double?[days.Count];
        return [.. days.Select((day, d) => new BandPoint(day, Point(curve, day, errors[d], lines.Count)))];
    }

    private static Estimate Point(SurvivalCurve curve, double day, double? error, int lines)
    {
        var s = curve.At(day);
        if (curve.Right[^1] is null && day > curve.Left[^1]) return Estimate.None(Method, Phrase.Of("curve.after_last_visit", ("day", day)));
        if (!s.IsDefined) return Estimate.None(Method, Phrase.Of("curve.inside", ("day", day), ("low", s.Low), ("high", s.High)));
        var known = new Estimate { Value = s.Low, Method = Method };
        if (s.Low is 0 or 1) return known with { Why = Phrase.Of(s.Low == 0 ? "curve.none_left" : "curve.none_lost", ("day", day)) };
        if (lines == 1) return known with { Why = Phrase.Of("curve.one_line") };
        if (error is not { } se) return known with { Why = Phrase.Of("curve.resample_at_end", ("day", day)) };
        if (se <= NoSpread) return known with { Why = Phrase.Of("curve.lines_alike") };
        var (middle, reach) = (Math.Log(-Math.Log(s.Low)), Tails.StudentQuantile(0.975, lines - 1) * se);
        return known with
        {
            Low = Math.Exp(-Math.Exp(middle + reach)),
            High = Math.Exp(-Math.Exp(middle - reach)),
            Se = -s.Low * Math.Log(s.Low) * se,
        };
    }

    /// <summary>Standard error of log(−log S) at each day; null where any resample has S = 0 or 1.</summary>
    private static double?[] Errors(InnermostIntervals places, LineRows lines, double[] masses, IReadOnlyList<double> days, ulong seed)
    {
        var at = Positions(places, days);
        var values = new double[Resamples, days.Count];
        Ordered.WithRoom(Resamples, () => new Resample(places, lines, masses), (r, resample) =>
        {
            resample.Draw(Seeded.Of(seed, (ulong)r + 1));
            for (var d = 0; d < at.Length; d++) values[r, d] = resample.LostBy(at[d]);
        });
        return [.. Enumerable.Range(0, days.Count).Select(d => Error(values, d, lines.Count))];
    }

    private static double? Error(double[,] lost, int d, int lines)
    {
        double sum = 0, squares = 0;
        for (var r = 0; r < Resamples; r++)
        {
            if (lost[r, d] <= NoMass || lost[r, d] >= 1 - NoMass) return null;
            sum += lost[r, d] = Math.Log(-double.LogP1(-lost[r, d]));
        }

        for (var r = 0; r < Resamples; r++) squares += Math.Pow(lost[r, d] - (sum / Resamples), 2);
        return Math.Sqrt(squares / (Resamples - 1) * lines / (lines - 1));
    }

    /// <summary>For each day how many places lie wholly before it, and half a place where it lies inside one.</summary>
    private static double[] Positions(InnermostIntervals places, IReadOnlyList<double> days) => [.. days.Select(day =>
        places.Right.Count(right => right <= day) + (places.Left.Where((left, j) => left < day && day < places.Right[j]).Any() ? 0.5 : 0))];

    /// <summary>One worker's resamples, one after another.</summary>
    private sealed class Resample(InnermostIntervals places, LineRows lines, double[] masses)
    {
        private readonly ConstrainedNewton fit = new(places.From, places.To, places.Left.Length);
        private readonly double[] weights = new double[places.Weight.Length];

        internal void Draw(Seeded chance)
        {
            Array.Clear(weights);
            for (var g = 0; g < lines.Count; g++) lines.AddTo(weights, chance.NextBelow(lines.Count));
            fit.Maximise(weights, masses);
        }

        internal double LostBy(double position)
        {
            double lost = 0;
            for (var u = 0; u < fit.GroupMass.Length && fit.GroupFirst[u] < position; u++)
            {
                lost += fit.GroupMass[u] * Math.Min(1, (position - fit.GroupFirst[u]) / (fit.GroupAfter[u] - fit.GroupFirst[u]));
            }

            return lost;
        }
    }
}

/// <summary>The curve at one day with its limits.</summary>
/// <param name="Day">Days since set-out.</param>
/// <param name="Survival">Survival beyond the day, in [0, 1], with 95 % limits, or the reason why there are none.</param>
public sealed record BandPoint(double Day, Estimate Survival);
