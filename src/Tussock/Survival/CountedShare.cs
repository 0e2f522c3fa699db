using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>The headline: the share of nests of known fate that survived to a day, with limits that know that nests of one line are alike.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record CountedShare
{
    private const string Clustered = "counted share, cluster-robust logit, t(m - 1)";
    private const string Exact = "counted share, Clopper-Pearson";
    private const string Score = "counted share, Wilson";
    private const double TooMany = 0.05;

    private CountedShare()
    {
    }

    /// <summary>All nests that were set, those never visited included.</summary>
    public required int Nests { get; init; }

    /// <summary>Nests of known fate that survived.</summary>
    public required int Survived { get; init; }

    /// <summary>Nests lost.</summary>
    public required int Lost { get; init; }

    /// <summary>Nests of unknown fate.</summary>
    public int Unknown => Nests - Survived - Lost;

    /// <summary>Nests of unknown fate because they were first found lost after the day and its window.</summary>
    public required int CheckedTooLate { get; init; }

    /// <summary>Lines with at least one nest of known fate, m.</summary>
    public required int Lines { get; init; }

    /// <summary>The share with its limits.</summary>
    public required Estimate Share { get; init; }

    /// <summary>Share of all nests if every nest of unknown fate was lost.</summary>
    public required Answer<double> IfUnknownLost { get; init; }

    /// <summary>Share of all nests if every nest of unknown fate survived.</summary>
    public required Answer<double> IfUnknownSurvived { get; init; }

    /// <summary>Number of independent nests that would tell as much: n/max(1, v/(p(1 − p)/n)).</summary>
    public required Answer<double> EffectiveNests { get; init; }

    /// <summary>Mean distance in days between the day and the visits near it that decided fates; null when no visit near it did.</summary>
    public double? Drift { get; init; }

    /// <summary>Why the two-piece estimate must stand beside this share; null when it need not.</summary>
    public Phrase? WhyTwoPieceBeside { get; init; }

    /// <summary>Whether the two-piece estimate must stand beside this share.</summary>
    public bool ShouldShowTwoPieceBeside => WhyTwoPieceBeside is not null;

    /// <summary>Which share of the nests survived to the day?</summary>
    /// <param name="nests">One row a nest, rows of a line together; fates as the fate rule gives them.</param>
    /// <param name="trial">Days of the trial and window w around them.</param>
    /// <param name="day">The first check or the end of the trial.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Counts, share in [0, 1] with limits, extremes, effective number of nests, drift of the deciding visits; what can't be had is null with why.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level is outside its range.</exception>
    /// <remarks>
    /// p = Σy/Σn, v = m/(m − 1)·Σ(y − p·n)²/(Σn)², limits expit(logit p ± t(m − 1)·√v/(p(1 − p))); target: the mean over lines that could have been walked.
    /// Edges: all lines alike (all survived, none survived) – Clopper–Pearson; one line – Wilson, clustering ignored; no fate known, or more than 5 % of nests
    /// found lost too late – null. Drift counts known fates whose deciding visit (last intact, or first found lost) lies within w of the day: a nest lost
    /// long before tells nothing about when the last check was made. Cost: one pass.
    /// </remarks>
    /// <source>Ratio of cluster totals with linearised variance: Cochran 1977, Sampling Techniques, 3rd ed., chapter 6 (from memory, to be confirmed); design effect: Kish 1965, Survey Sampling (from memory, to be confirmed)</source>
    /// <check>reference-seasons</check>
    public static CountedShare Of(NestSpans nests, Trial trial, TrialDay day, double level = 0.95)
    {
        ShareRange.RequireLevel(level);
        var fates = day == TrialDay.End ? nests.Day28 : nests.Day14;
        var on = day == TrialDay.End ? trial.Days : trial.FirstCheck;
        var counts = LineCounts.Of(nests, fates);
        var (tooLate, lastCheck) = LateChecks(nests, fates, on + trial.Window);
        var drift = MeanDrift(nests, fates, on, trial.Window);
        return new CountedShare
        {
            Nests = nests.Count,
            Survived = counts.Survived,
            Lost = counts.Known - counts.Survived,
            CheckedTooLate = tooLate,
            Lines = counts.Lines,
            Share = WhyNone(counts, nests.Count, tooLate, lastCheck, on) is { } why ? Estimate.None(Clustered, why) with { Level = level } : Estimated(counts, level),
            IfUnknownLost = nests.Count == 0 ? NoAnswer.Because("counted.no_nests") : (double)counts.Survived / nests.Count,
            IfUnknownSurvived = nests.Count == 0 ? NoAnswer.Because("counted.no_nests") : (double)(counts.Survived + nests.Count - counts.Known) / nests.Count,
            EffectiveNests = Effective(counts),
            Drift = drift,
            WhyTwoPieceBeside = Beside(drift, nests.Count - counts.Known, nests.Count, on),
        };
    }

    /// <summary>The share with its limits where only the counts of the lines are at hand: that of the nests behind them.</summary>
    /// <param name="lines">Survivors and nests of known fate, a row a line; at least one nest in all.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    internal static Estimate OfLines(IEnumerable<(int Survived, int Known)> lines, double level = 0.95) => Estimated(LineCounts.Of(lines), level);

    private static Phrase? WhyNone(LineCounts counts, int nests, int tooLate, double lastCheck, double on)
    {
        if (tooLate > TooMany * nests) return Phrase.Of("counted.checked_too_late", ("late", tooLate), ("nests", nests), ("on", on), ("day", lastCheck));
        if (nests == 0) return Phrase.Of("counted.no_nests");
        return counts.Known == 0 ? Phrase.Of("counted.no_fate_known", ("nests", nests), ("on", on)) : null;
    }

    private static Estimate Estimated(LineCounts counts, double level)
    {
        var p = counts.Share;
        if (counts.Lines == 1)
        {
            var (low, high) = Wilson.Limits(counts.Survived, counts.Known, level);
            return new Estimate { Value = p, Low = low, High = high, Level = level, Method = Score, Notes = [Phrase.Of("counted.one_line")] };
        }

        var notes = Beside(counts);
        if (counts.Alike)
        {
            var (low, high) = ClopperPearson.Limits(counts.Survived, counts.Known, level);
            return new Estimate { Value = p, Low = low, High = high, Level = level, Method = Exact, Notes = [Phrase.Of("counted.lines_alike"), .. notes] };
        }

        return OverLines(counts, notes, level);
    }

    private static Estimate OverLines(LineCounts counts, ImmutableArray<Phrase> notes, double level)
    {
        double p = counts.Share, v = counts.Variance;
        var half = Tails.StudentQuantile((1 + level) / 2, counts.Lines - 1) * Math.Sqrt(v) / (p * (1 - p));
        var middle = Exponentials.Logit(p);
        if (counts.Lines < 4) notes = notes.Insert(0, Phrase.Of("counted.few_lines", ("lines", counts.Lines)));
        if (v < p * (1 - p) / counts.Known)
        {
            var (low, high) = Wilson.Limits(counts.Survived, counts.Known, level);
            notes = notes.Add(Phrase.Of("counted.narrower_than_independent", ("low", low), ("high", high)));
        }

        return new Estimate { Value = p, Low = Exponentials.Expit(middle - half), High = Exponentials.Expit(middle + half), Se = Math.Sqrt(v), Level = level, Method = Clustered, Notes = notes };
    }

    private static ImmutableArray<Phrase> Beside(LineCounts counts)
    {
        if (!counts.DifferTwofold) return [];
        double mean = counts.MeanOfLines, gap = Math.Abs(mean - counts.Share);
        return gap > 0.03 ? [Phrase.Of("counted.mean_of_lines_differs", ("mean", mean), ("points", 100 * gap))] : [Phrase.Of("counted.mean_of_lines", ("mean", mean))];
    }

    private static Answer<double> Effective(LineCounts counts)
    {
        if (counts.Known == 0) return NoAnswer.Because("counted.no_fate_at_all");
        if (counts.Lines == 1) return NoAnswer.Because("counted.one_line_no_spread");
        if (counts.Survived == 0 || counts.Survived == counts.Known) return NoAnswer.Because("counted.one_fate_only");
        double p = counts.Share, n = counts.Known;
        return n / Math.Max(1, counts.Variance / (p * (1 - p) / n));
    }

    private static (int Nests, double LastCheck) LateChecks(NestSpans nests, FateAt[] fates, double end)
    {
        int late = 0;
        var last = 0.0;
        for (var row = 0; row < nests.Count; row++)
        {
            var b = nests.FirstLost[row];
            if (fates[row] != FateAt.Unknown || !double.IsFinite(b) || b <= end) continue;
            late++;
            last = Math.Max(last, b);
        }

        return (late, last);
    }

    private static double? MeanDrift(NestSpans nests, FateAt[] fates, double on, double window)
    {
        var sum = 0.0;
        var decided = 0;
        for (var row = 0; row < nests.Count; row++)
        {
            if (fates[row] == FateAt.Unknown || !double.IsNaN(nests.LostAt[row])) continue;
            var distance = Math.Abs((fates[row] == FateAt.Survived ? nests.LastIntact[row] : nests.FirstLost[row]) - on);
            if (distance > window) continue;
            sum += distance;
            decided++;
        }

        return decided == 0 ? null : sum / decided;
    }

    private static Phrase? Beside(double? drift, int unknown, int nests, double on)
    {
        var drifted = drift > 1;
        var many = unknown > TooMany * nests;
        if (drifted && many) return Phrase.Of("counted.drift_and_unknown", ("drift", drift!.Value), ("on", on), ("unknown", unknown), ("nests", nests));
        if (drifted) return Phrase.Of("counted.drift", ("drift", drift!.Value), ("on", on));
        return many ? Phrase.Of("counted.unknown", ("unknown", unknown), ("nests", nests)) : null;
    }
}
