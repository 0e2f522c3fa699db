using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Survival with one hazard up to the first planned check and another after it: of record wherever visits, not counts, give survival to the end of the trial.</summary>
public static class TwoPiece
{
    private const string Method = "two-piece hazard, cluster-robust log(-log), t(m - 1)";
    private const string DailyMethod = "two-piece hazard, profile likelihood, nests independent";

    /// <summary>How many nests survive to the end of the trial, when the loss may be quicker in one fortnight than in the other?</summary>
    /// <param name="nests">One row a nest, rows of a line together. Ends: lost in (a, b], or at camera time t, a density per day.</param>
    /// <param name="trial">First check c1 and length D, in days, 0 &lt; c1 &lt; D.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Hazards, S(c1), S(D) = exp(−c1·h1 − (D − c1)·h2), φ, test of equal hazards, clustered limits; what can't be had is null with why.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level or the trial is outside its range.</exception>
    /// <remarks>
    /// Maximum likelihood by Newton (the likelihood is concave in the hazards), edges first. Variance of log H(D): inverse observed information around
    /// the outer products of line scores × m/(m − 1). Edges: nothing lost; h2 at infinity; one hazard 0; one line; no visit; checks at day D alone (only
    /// the sum of the hazards known). The test of h1 = h2 takes nests as independent. Cost: one pass and a few over distinct spans.
    /// Misleads when the hazard changes quickly inside a fortnight and checks are late.
    /// </remarks>
    /// <source>Piecewise exponential survival from interval-censored times: common practice, no source; sandwich variance: Huber 1967, Proc. 5th Berkeley Symp. 1, 221–233 (from memory, to be confirmed)</source>
    /// <check>reference-seasons</check>
    public static TwoPieceFit Fit(NestSpans nests, Trial trial, double level = 0.95)
    {
        Require(trial, level);
        var likelihood = PieceLikelihood.From(nests, trial.FirstCheck);
        var top = TwoPieceMaximum.Of(likelihood);
        var fit = new TwoPieceFit { Shape = top.Shape, NestsUsed = likelihood.Watched, Lines = likelihood.Lines, Lost = likelihood.Lost, Diary = top.Diary, Survival28 = Estimate.None(Method, Phrase.Of("twopiece.no_visit")) };
        fit = WithHazards(fit, top, likelihood, trial);
        fit = WithTest(fit, top, likelihood);
        fit = WithLimits(fit, top, likelihood, nests, trial, level);
        return fit with { Survival28 = Survival(fit, level) };
    }

    /// <summary>What is the chance that a nest intact today is intact tomorrow, before and after the first check?</summary>
    /// <param name="nests">One row a nest, rows of a line together.</param>
    /// <param name="trial">First check c1 and length D, in days.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>exp(−h1) and exp(−h2) in [0, 1], with profile-likelihood limits that take nests as independent; null with why when a hazard is not known.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level or the trial is outside its range.</exception>
    /// <remarks>The other hazard is maximised anew along each profile. A limit at the edge is exactly 0 or 1. Cost: some twenty maximisations.</remarks>
    /// <source>Profile likelihood of a piecewise exponential: common practice, no source</source>
    /// <check>reference-seasons</check>
    public static ImmutableArray<Estimate> DailySurvivalByFortnight(NestSpans nests, Trial trial, double level = 0.95)
    {
        Require(trial, level);
        var likelihood = PieceLikelihood.From(nests, trial.FirstCheck);
        var top = TwoPieceMaximum.Of(likelihood);
        return [Daily(likelihood, top, true, level) with { Level = level }, Daily(likelihood, top, false, level) with { Level = level }];
    }

    private static Estimate Daily(PieceLikelihood likelihood, TwoPieceMaximum top, bool first, double level)
    {
        var h = first ? top.H1 : top.H2;
        if (top.Shape == TwoPieceShape.NotToldApart) return Estimate.None(DailyMethod, Phrase.Of("twopiece.not_told_apart"));
        if (top.Shape == TwoPieceShape.NoVisit) return Estimate.None(DailyMethod, Phrase.Of("twopiece.no_visit"));
        if (double.IsNaN(h) && top.Shape == TwoPieceShape.AtInfinity) return Estimate.None(DailyMethod, Phrase.Of("twopiece.not_told_apart"));
        if (double.IsNaN(h) || (!first && top.Shape == TwoPieceShape.NothingLost && likelihood.Survived.Second == 0)) return Estimate.None(DailyMethod, Phrase.Of("twopiece.second_not_watched"));
        var limits = ProfileLimits.Of(likelihood, first, h, top.LogLikelihood, level);
        return new Estimate { Value = Math.Exp(-h), Low = Math.Exp(-limits.High), High = Math.Exp(-limits.Low), Method = DailyMethod, Notes = [Phrase.Of("daily.independent")] };
    }

    private static TwoPieceFit WithHazards(TwoPieceFit fit, TwoPieceMaximum top, PieceLikelihood likelihood, Trial trial)
    {
        double c1 = trial.FirstCheck, rest = trial.Days - trial.FirstCheck;
        if (top.Shape == TwoPieceShape.NoVisit) return fit with { Why = Phrase.Of("twopiece.no_visit") };
        var apart = top.Shape != TwoPieceShape.NotToldApart;
        var sumKnown = apart || (likelihood.CommonRatio() is var (r1, r2) && Math.Abs(r1 * rest - r2 * c1) <= 1e-12 * (r1 * rest + r2 * c1));
        var found = top.Shape == TwoPieceShape.Found;
        return fit with
        {
            H1 = apart && double.IsFinite(top.H1) ? top.H1 : null,
            H2 = apart && double.IsFinite(top.H2) ? top.H2 : null,
            Why = WhyShape(top.Shape, c1),
            S14 = !apart || double.IsNaN(top.H1) ? null : Math.Exp(-c1 * top.H1),
            S28 = SurvivalToEnd(top, c1, rest, sumKnown),
            LogLikelihood = top.LogLikelihood,
            Phi = found ? c1 * top.H1 / (c1 * top.H1 + rest * top.H2) : c1 / trial.Days,
            PhiFrom = found ? Phrase.Of("twopiece.phi_fitted") : Phrase.Of("twopiece.phi_even", ("why", WhyShape(top.Shape, c1)!)),
        };
    }

    private static double? SurvivalToEnd(TwoPieceMaximum top, double c1, double rest, bool sumKnown) => top.Shape switch
    {
        TwoPieceShape.AtInfinity => 0,
        TwoPieceShape.SecondNotWatched => null,
        _ => sumKnown ? Math.Exp(-c1 * top.H1 - rest * top.H2) : null,
    };

    private static Phrase? WhyShape(TwoPieceShape shape, double c1) => shape switch
    {
        TwoPieceShape.NothingLost => Phrase.Of("twopiece.nothing_lost"),
        TwoPieceShape.SecondNotWatched => Phrase.Of("twopiece.not_watched_after", ("day", c1)),
        TwoPieceShape.AtInfinity => Phrase.Of("twopiece.at_infinity", ("day", c1)),
        TwoPieceShape.NotToldApart => Phrase.Of("twopiece.not_told_apart"),
        _ => null,
    };

    private static TwoPieceFit WithTest(TwoPieceFit fit, TwoPieceMaximum top, PieceLikelihood likelihood)
    {
        if (top.Shape != TwoPieceShape.Found) return fit with { WhyNoTest = fit.Why };
        var h = likelihood.Along((0, 0), (1, 1)).Q;
        var constant = likelihood.LogLikelihood(h, h);
        var ratio = Math.Max(0, 2 * (top.LogLikelihood - constant));
        return fit with { ConstantHazard = h, ConstantLogLikelihood = constant, LikelihoodRatio = ratio, LikelihoodRatioP = Tails.ChiSquareAbove(ratio, 1) };
    }

    private static TwoPieceFit WithLimits(TwoPieceFit fit, TwoPieceMaximum top, PieceLikelihood likelihood, NestSpans nests, Trial trial, double level)
    {
        var even = top.Shape == TwoPieceShape.NotToldApart && fit.S28 is not null;
        if (top.Shape != TwoPieceShape.Found && !even) return fit with { Limits = new NoAnswer(fit.Why!) };
        if (fit.Lines < 2) return fit with { Limits = NoAnswer.Because("twopiece.one_line") };
        var spread = new LineSpread(likelihood, nests, top, trial, level);
        var inside = !even && top.H1 > 0 && top.H2 > 0;
        var limits = inside ? spread.Both() : spread.Along(even ? (1, 1) : top.H1 > 0 ? (1, 0) : (0, 1));
        if (inside || even) return fit with { Limits = limits is { } known ? known : NoAnswer.Because("twopiece.lines_alike") };
        return fit with { Limits = NoAnswer.Because("twopiece.zero_hazard"), ZeroHazardHeld = limits };
    }

    private static Estimate Survival(TwoPieceFit fit, double level)
    {
        if (fit.S28 is not { } s) return Estimate.None(Method, fit.Why!) with { Level = level };
        var notes = ImmutableArray.CreateBuilder<Phrase>();
        if (fit.Limits.HasValue && fit.Lines < 4) notes.Add(Phrase.Of("counted.few_lines", ("lines", fit.Lines)));
        if (fit.ZeroHazardHeld is { } held) notes.Add(Phrase.Of("twopiece.zero_held", ("low", held.Low), ("high", held.High)));
        if (fit.Shape == TwoPieceShape.NotToldApart) notes.Add(fit.Why!);
        ClusteredLimits? limits = fit.Limits.HasValue ? fit.Limits.Value : null;
        return new Estimate { Value = s, Low = limits?.Low, High = limits?.High, Se = limits is { } l ? -s * Math.Log(s) * l.SeLogH28 : null, Level = level, Method = Method, Why = fit.Limits.Why, Notes = notes.ToImmutable() };
    }

    private static void Require(Trial trial, double level)
    {
        ShareRange.RequireLevel(level);
        if (!(trial.FirstCheck > 0 && trial.Days > trial.FirstCheck)) throw new ArgumentOutOfRangeException(nameof(trial), "0 < first check < days of the trial");
    }
}
