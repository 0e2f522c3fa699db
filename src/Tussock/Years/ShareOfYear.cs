using System.Collections.Immutable;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Years;

/// <summary>Survival of a pasture or property in one year, in the form that two years are compared by.</summary>
internal sealed class ShareOfYear
{
    private readonly double variance;
    private readonly Estimate own;

    private ShareOfYear(Estimate own, double variance, ImmutableArray<(string? Line, double Influence)> influences, double within, double logOdds, double logOddsSe, double leastSe)
    {
        (this.own, this.variance, Influences, Within, LogOdds, LogOddsSe, LeastSe) = (own, variance, influences, within, logOdds, logOddsSe, leastSe);
    }

    /// <summary>Survival, in [0, 1].</summary>
    internal double Value => own.Value!.Value;

    /// <summary>What each line adds to the error of the share; empty where lines don't differ, or where there is one.</summary>
    internal ImmutableArray<(string? Line, double Influence)> Influences { get; }

    /// <summary>Variance that the nests of the lines make by themselves: what even a perfect pair of lines leaves.</summary>
    internal double Within { get; }

    /// <summary>Log odds of survival, finite also where all or none survived.</summary>
    internal double LogOdds { get; }

    /// <summary>Standard error of <see cref="LogOdds"/>.</summary>
    internal double LogOddsSe { get; }

    /// <summary>The standard error of as many independent nests: lines that agree by luck tell no more.</summary>
    internal double LeastSe { get; }

    /// <summary>Limits of the share when its error has these degrees of freedom; its own where lines don't differ.</summary>
    internal (double Value, double Low, double High) Limits(double degrees, double level)
    {
        if (Influences.IsEmpty) return (Value, own.Low ?? Value, own.High ?? Value);
        var half = Tails.StudentQuantile((1 + level) / 2, degrees) * Math.Sqrt(variance) / (Value * (1 - Value));
        var middle = Exponentials.Logit(Value);
        return (Value, Exponentials.Expit(middle - half), Exponentials.Expit(middle + half));
    }

    /// <summary>The survival of a year: counted, or by its two pieces where checks came too late.</summary>
    /// <returns>A reason where the year has no survival with limits.</returns>
    internal static Answer<ShareOfYear> Of(PastureYear year)
    {
        var survival = year.Survival;
        if (survival.Value is not { } p) return new NoAnswer(survival.Why ?? Phrase.Of("counted.no_nests"));
        if (year.IsByPieces) return ByPieces(survival);
        var lines = year.Lines.Where(l => l.Known > 0).ToArray();
        var counts = LineCounts.Of(lines.Select(l => (l.Survived, l.Known)));
        var (known, survived, alike) = (counts.Known, counts.Survived, counts.Lines < 2 || counts.Alike);
        var scale = Math.Sqrt(lines.Length / (lines.Length - 1.0));
        ImmutableArray<(string?, double)> influences = alike ? [] : [.. lines.Select(l => (l.Line, scale * (l.Survived - (p * l.Known)) / known))];
        var spread = alike ? 0 : counts.Variance;
        // Half a nest to either side: lines of which all or none survived, and of one nest, vary too.
        var within = lines.Sum(l => l.Known * (l.Survived + 0.5) * (l.Known - l.Survived + 0.5) / ((l.Known + 1.0) * (l.Known + 1.0))) / ((double)known * known);
        var times = alike ? 1 : spread * known / (p * (1 - p));
        return new ShareOfYear(survival, spread, influences, within, Smoothed.LogOdds(survived, known), Math.Sqrt(times * Smoothed.Variance(survived, known)), Math.Sqrt(Smoothed.Variance(survived, known)));
    }

    private static Answer<ShareOfYear> ByPieces(Estimate survival)
    {
        if (survival is not { Value: > 0 and < 1, Low: > 0, High: < 1 }) return new NoAnswer(survival.Why ?? Phrase.Of("years.no_limits"));
        var half = (Exponentials.Logit(survival.High.Value) - Exponentials.Logit(survival.Low.Value)) / 2;
        return new ShareOfYear(survival, 0, [], 0, Exponentials.Logit(survival.Value.Value), half / Tails.NormalQuantile(0.975), 0);
    }
}
