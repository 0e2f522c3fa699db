using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Where the two-piece likelihood has its maximum, and therefore what may be said.</summary>
public enum TwoPieceShape
{
    /// <summary>Both hazards are finite; one of them may be 0.</summary>
    Found,

    /// <summary>No nest has a visit after day 0 that tells anything.</summary>
    NoVisit,

    /// <summary>Nothing was lost: both hazards are 0.</summary>
    NothingLost,

    /// <summary>No nest was watched after the first check: the second hazard is not known.</summary>
    SecondNotWatched,

    /// <summary>Every nest that was not lost earlier was lost at its first visit after the first check: the second hazard is infinite.</summary>
    AtInfinity,

    /// <summary>Every visit spans both pieces in the same proportion: only the sum of the hazards is known.</summary>
    NotToldApart,
}

/// <summary>The pair of hazards at the maximum. A hazard may be +∞, or NaN when nothing is known of it; both stay inside the core.</summary>
internal readonly record struct TwoPieceMaximum(TwoPieceShape Shape, double H1, double H2, double LogLikelihood, NewtonDiary Diary)
{
    /// <summary>Finds the maximum: the cases at the edges first, then Newton inside.</summary>
    public static TwoPieceMaximum Of(PieceLikelihood likelihood)
    {
        if (likelihood.Watched == 0) return new(TwoPieceShape.NoVisit, double.NaN, double.NaN, 0, NewtonDiary.None);
        if (likelihood.Lost == 0) return new(TwoPieceShape.NothingLost, 0, 0, 0, NewtonDiary.None);
        if (likelihood.Survived.Second == 0) return WithoutSecondDays(likelihood);
        if (likelihood.CommonRatio() is not null)
        {
            var (even, diary) = likelihood.Along((0, 0), (1, 1));
            return new(TwoPieceShape.NotToldApart, even, even, likelihood.LogLikelihood(even, even), diary);
        }

        return OnEdge(likelihood, first: true) ?? OnEdge(likelihood, first: false) ?? Inside(likelihood);
    }

    private static TwoPieceMaximum WithoutSecondDays(PieceLikelihood likelihood)
    {
        var touches = likelihood.SomeLossTouchesSecond;
        var h2 = touches ? double.PositiveInfinity : 0;
        var (h1, diary) = likelihood.Along((0, h2), (1, 0));
        if (!touches) return new(TwoPieceShape.SecondNotWatched, h1, double.NaN, likelihood.LogLikelihood(h1, h2), diary);
        if (h1 > 0 || likelihood.Survived.First > 0) return new(TwoPieceShape.AtInfinity, h1, h2, likelihood.LogLikelihood(h1, h2), diary);

        // Every nest was lost in an interval from day 0 that ends after the cut: either hazard may be the infinite one.
        return new(TwoPieceShape.AtInfinity, double.NaN, double.NaN, 0, diary);
    }

    /// <summary>The maximum with one hazard 0, if the likelihood does not rise when that hazard leaves 0.</summary>
    private static TwoPieceMaximum? OnEdge(PieceLikelihood likelihood, bool first)
    {
        if (!likelihood.AllowsZero(first)) return null;
        var (h, diary) = likelihood.Along((0, 0), first ? (0, 1) : (1, 0));
        var (h1, h2) = first ? (0, h) : (h, 0d);
        var slopes = likelihood.At(h1, h2);
        return (first ? slopes.G1 : slopes.G2) > 0 ? null : new(TwoPieceShape.Found, h1, h2, likelihood.LogLikelihood(h1, h2), diary);
    }

    /// <summary>Newton in (h1, h2), in which the likelihood is concave, from the constant rate; a step is shortened until it stays inside and does not lose.</summary>
    private static TwoPieceMaximum Inside(PieceLikelihood likelihood)
    {
        var h1 = likelihood.Along((0, 0), (1, 1)).Q;
        var h2 = h1;
        var best = likelihood.LogLikelihood(h1, h2);
        for (var step = 1; step <= 200; step++)
        {
            var s = likelihood.At(h1, h2);
            var determinant = s.I11 * s.I22 - s.I12 * s.I12;
            double d1 = (s.I22 * s.G1 - s.I12 * s.G2) / determinant, d2 = (s.I11 * s.G2 - s.I12 * s.G1) / determinant;
            var length = Math.Min(1, 0.9 / Math.Max(-d1 / h1, -d2 / h2) is > 0 and var room ? room : 1);
            var next = likelihood.LogLikelihood(h1 + length * d1, h2 + length * d2);
            while (!(next >= best - 1e-12 * (1 + Math.Abs(best))) && length > 1e-12)
            {
                length /= 2;
                next = likelihood.LogLikelihood(h1 + length * d1, h2 + length * d2);
            }

            if (length <= 1e-12) return new(TwoPieceShape.Found, h1, h2, best, new NewtonDiary(step, 0, NewtonStop.NoBetterPoint));
            var change = length * Math.Max(Math.Abs(d1) / h1, Math.Abs(d2) / h2);
            (h1, h2, best) = (h1 + length * d1, h2 + length * d2, next);
            if (change < PieceLikelihood.Settled) return new(TwoPieceShape.Found, h1, h2, best, new NewtonDiary(step, change, NewtonStop.Converged));
        }

        return new(TwoPieceShape.Found, h1, h2, best, new NewtonDiary(200, 1, NewtonStop.StepLimit));
    }
}
