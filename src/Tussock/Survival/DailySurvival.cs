using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Daily survival as one constant rate.</summary>
public static class DailySurvival
{
    private const string Method = "constant daily rate, profile likelihood, nests independent";

    /// <summary>What is the chance that a nest intact today is intact tomorrow, if every day is alike?</summary>
    /// <param name="nests">One row a nest. Ends: intact to a, lost in (a, b], or at camera time t, a density per day. Any order of rows.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>s in [0, 1] with profile-likelihood limits (nests taken as independent, said in a note); null with why without a visit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level is outside its range.</exception>
    /// <remarks>
    /// Newton on the score, which is convex in the hazard. Edges: nothing lost gives 1 with high = 1; every watched nest lost before an intact visit gives
    /// 0 with low = 0. Its power of 28 misleads when loss is uneven over the trial.
    /// </remarks>
    /// <source>Mayfield 1961, Wilson Bull. 73, 255–261; Mayfield 1975, Wilson Bull. 87, 456–466; Johnson 1979, Auk 96, 651–661 (likelihood from visit intervals)</source>
    /// <check>reference-seasons</check>
    public static Estimate Of(NestSpans nests, double level = 0.95)
    {
        ShareRange.RequireLevel(level);
        var likelihood = PieceLikelihood.From(nests, double.PositiveInfinity);
        if (likelihood.Watched == 0) return Estimate.None(Method, Phrase.Of("daily.no_visit")) with { Level = level };
        var (h, _) = likelihood.Along((0, 0), (1, 0));
        var top = likelihood.LogLikelihood(h, 0);
        var (low, high) = ProfileLimits.Of(likelihood, first: true, h, top, level);
        return new Estimate
        {
            Value = Math.Exp(-h),
            Low = Math.Exp(-high),
            High = Math.Exp(-low),
            Se = h > 0 && double.IsFinite(h) ? Math.Exp(-h) / Math.Sqrt(likelihood.At(h, 0).I11) : null,
            Level = level,
            Method = Method,
            Notes = [Phrase.Of("daily.independent")],
        };
    }

    /// <summary>How many nests would survive the given days if loss were even over them?</summary>
    /// <param name="daily">A daily survival with its limits.</param>
    /// <param name="days">Days, ≥ 0.</param>
    /// <returns>Value and limits to the power of <paramref name="days"/>, with a note that says what it supposes. Feeds nothing else.</returns>
    /// <remarks>With S(14) = .50 and true S(28) = .50 it says .444. The standard error is carried by the delta method.</remarks>
    /// <source>Mayfield 1961, Wilson Bull. 73, 255–261; delta method: Hensler and Nichols 1981, Wilson Bull. 93, 42–53</source>
    /// <check>published-values</check>
    public static Estimate IfEvenOver(Estimate daily, double days) => daily with
    {
        Value = Power(daily.Value, days),
        Low = Power(daily.Low, days),
        High = Power(daily.High, days),
        Se = daily.Value is { } s && daily.Se is { } se ? days * Math.Pow(s, days - 1) * se : null,
        Notes = daily.Notes.Add(Phrase.Of("daily.if_even", ("days", days))),
    };

    private static double? Power(double? s, double days) => s is { } known ? Math.Pow(known, days) : null;
}
