using System.Collections.Immutable;

namespace Tussock.Survival;

/// <summary>A nonparametric survival curve: the innermost intervals that hold mass, and how the fit ended.</summary>
/// <remarks>
/// Intervals are (left, right], left-open and right-closed, in ascending order; an exact time is the point [t, t].
/// S is constant between them and not defined inside one. Masses are above 0 and sum to 1. May be shared between threads.
/// </remarks>
public sealed class SurvivalCurve
{
    /// <summary>Left ends, days since set-out.</summary>
    public required ImmutableArray<double> Left { get; init; }

    /// <summary>Right ends, days since set-out; null means after the last visit.</summary>
    public required ImmutableArray<double?> Right { get; init; }

    /// <summary>Share of all nests lost in each interval, in (0, 1].</summary>
    public required ImmutableArray<double> Mass { get; init; }

    /// <summary>Number of nests that the curve rests on; nests never watched are not among them.</summary>
    public required int Nests { get; init; }

    /// <summary>Log-likelihood at the maximum: sum over nests of the log of the mass inside what is known about each.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>How the fit went.</summary>
    public required CurveDiary Diary { get; init; }

    /// <summary>Survival beyond a day: a value, or both bounds where the day lies inside an interval that holds mass.</summary>
    /// <param name="day">Days since set-out, 0 or more.</param>
    /// <returns>Bounds in [0, 1], equal where the curve is defined.</returns>
    public CurveValue At(double day)
    {
        double lost = 0, open = 0;
        for (var j = 0; j < Mass.Length && (Left[j] < day || Right[j] <= day); j++)
        {
            if (Right[j] <= day) lost += Mass[j];
            else open += Mass[j];
        }

        var high = Math.Clamp(1 - lost, 0, 1);
        return AllLost(day) ? new CurveValue(0, 0) : new CurveValue(open == 0 ? high : Math.Clamp(high - open, 0, 1), high);
    }

    // The masses sum to 1 only to the last bit, and a curve that has come down must read exactly 0.
    private bool AllLost(double day) => Right[^1] is { } last && last <= day;
}

/// <summary>Survival at one day: bounds that are equal where the curve is defined.</summary>
/// <param name="Low">Survival if the whole mass around the day lies before it, in [0, 1].</param>
/// <param name="High">Survival if the whole mass around the day lies after it, in [0, 1].</param>
public readonly record struct CurveValue(double Low, double High)
{
    /// <summary>Whether the curve is defined at the day.</summary>
    public bool IsDefined => Low == High;
}

/// <summary>How the fit of a curve went and why it stopped.</summary>
/// <param name="Steps">Newton steps taken.</param>
/// <param name="Residual">Kuhn–Tucker residual at the end: greatest reduced gradient − 1 over all innermost intervals; at most 0 but for rounding at the maximum.</param>
/// <param name="LastStep">Greatest change of a mass in the last step.</param>
/// <param name="Stopped">Why it stopped.</param>
public sealed record CurveDiary(int Steps, double Residual, double LastStep, CurveStop Stopped)
{
    /// <summary>Whether the maximum was reached.</summary>
    public bool Converged => Stopped == CurveStop.KuhnTucker;
}

/// <summary>Why the fit of a curve stopped.</summary>
public enum CurveStop
{
    /// <summary>The Kuhn–Tucker condition holds: the maximum.</summary>
    KuhnTucker,

    /// <summary>No step raised the likelihood any further before the condition held.</summary>
    NoFurtherAscent,

    /// <summary>The number of steps ran out.</summary>
    StepsRanOut,
}
