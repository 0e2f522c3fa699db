using System.Collections.Immutable;
using Tussock.Survival;

namespace Tussock.Years;

/// <summary>By how much survival differs between two years of one pasture or property, and how likely it is that it rose.</summary>
/// <param name="Difference">Later less earlier survival to the end of the trial, a share in [−1, 1], with its limits.</param>
/// <param name="ChanceRose">Chance that it rose, in (0, 1).</param>
/// <param name="SharedLines">Lines that were walked in both years and have nests of known fate in both.</param>
public sealed record SurvivalDifference(Estimate Difference, Answer<double> ChanceRose, int SharedLines)
{
    /// <summary>An error below this is none: the lines of the two years agree by rounding.</summary>
    private const double Least = 1e-6;

    private const string Method = "difference of survival, limits recovered from each year's, clusters by line, Satterthwaite t";

    /// <summary>Did survival change from one year to another?</summary>
    /// <param name="before">The earlier year.</param>
    /// <param name="after">The later year of the same pasture or property.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>The difference and the chance; reasons where a year has no survival.</returns>
    /// <remarks>
    /// Each year's limits are those of its counted share, with the degrees of freedom of the difference; lines walked in both years are pairs, by the
    /// correlation of their errors, of which never more is used than leaves the variance that the nests make by themselves. A year whose last checks came
    /// too late enters with the limits of its two-piece estimate. Edges: all or none survived (exact limits), one line (clustering not known, said).
    /// The chance draws differences that their error could make alone towards ½ (<see cref="ChanceOfRise"/>).
    /// </remarks>
    /// <source>Newcombe 1998, Stat. Med. 17, 873–890, method 10; Zou &amp; Donner 2008, Stat. Med. 27, 1693–1702 (from memory, to be confirmed); clusters and degrees of freedom: common practice, no source.</source>
    /// <check>published-values</check>
    public static SurvivalDifference Between(PastureYear before, PastureYear after, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        ShareRange.RequireLevel(level);
        var (first, last) = (ShareOfYear.Of(before), ShareOfYear.Of(after));
        var why = first.Why is { } w ? Phrase.Of("years.no_survival", ("year", before.Label), ("why", w)) : last.Why is { } v ? Phrase.Of("years.no_survival", ("year", after.Label), ("why", v)) : null;
        if (why is not null) return None(why, level);
        var errors = LineErrors.Of(first.Value.Influences, last.Value.Influences);
        var correlation = Usable(errors, (first.Value.Within + last.Value.Within) / 3);
        var (low, high) = RecoveredLimits.Difference(first.Value.Limits(errors.Degrees, level), last.Value.Limits(errors.Degrees, level), correlation);
        var shared = SharedOf(before, after);
        var d = new Estimate { Value = last.Value.Value - first.Value.Value, Low = Math.Max(-1, low), High = Math.Min(1, high), Level = level, Method = Method, Notes = Notes(before, after) };
        return new SurvivalDifference(d, Chance(first.Value, last.Value, errors.Degrees, correlation), shared);
    }

    /// <summary>No difference, and why.</summary>
    internal static SurvivalDifference None(Phrase why, double level = 0.95) => new(Estimate.None(Method, why) with { Level = level }, new NoAnswer(why), 0);

    /// <summary>Number of lines that were walked in both years and tell something in both.</summary>
    private static int SharedOf(PastureYear before, PastureYear after)
    {
        var earlier = before.Lines.Where(l => l is { Line: not null, Known: > 0 }).Select(l => l.Line!).ToHashSet(StringComparer.Ordinal);
        return after.Lines.Count(l => l is { Line: not null, Known: > 0 } && earlier.Contains(l.Line!));
    }

    private static double Usable(LineErrors errors, double within)
    {
        if (errors.Correlation <= 0) return errors.Correlation;
        var most = (errors.Before + errors.After - within) / (2 * Math.Sqrt(errors.Before * errors.After));
        return Math.Clamp(most, 0, errors.Correlation);
    }

    private static Answer<double> Chance(ShareOfYear before, ShareOfYear after, double degrees, double correlation)
    {
        double a = before.LogOddsSe, b = after.LogOddsSe;
        var se = Math.Sqrt(Math.Max(0, (a * a) + (b * b) - (2 * correlation * a * b)));
        return se < Least ? NoAnswer.Because("density.no_difference") : ChanceOfRise.Of(after.LogOdds - before.LogOdds, se, before.Influences.IsEmpty && after.Influences.IsEmpty ? 1e6 : degrees);
    }

    private static ImmutableArray<Phrase> Notes(PastureYear before, PastureYear after)
    {
        var notes = ImmutableArray.CreateBuilder<Phrase>();
        foreach (var year in (PastureYear[])[before, after])
        {
            if (year.IsByPieces) notes.Add(Phrase.Of("years.by_pieces", ("year", year.Label)));
            else if (year.LinesKnown == 1) notes.Add(Phrase.Of("years.one_line", ("year", year.Label)));
            else if (year.LinesKnown < 4) notes.Add(Phrase.Of("years.few_lines", ("year", year.Label), ("lines", year.LinesKnown)));
        }

        return notes.ToImmutable();
    }
}
