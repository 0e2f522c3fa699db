using System.Collections.Immutable;
using Tussock.Simulation;

namespace Tussock.Planning.Power;

/// <summary>What else is asked besides the design itself; each takes seasons of its own.</summary>
public sealed record PowerExtras
{
    /// <summary>The lines needed for a clear answer.</summary>
    public bool Needed { get; init; }

    /// <summary>Designs of about as many nests.</summary>
    public bool Designs { get; init; }

    /// <summary>Operating characteristics.</summary>
    public bool Curves { get; init; }

    /// <summary>A ratio of two covers that is to be seen, &gt; 0.</summary>
    public double CoverRatio { get; init; } = 2;

    /// <summary>Survival of another pasture that is to be told from this one; null: not asked.</summary>
    public double? Against { get; init; }
}

/// <summary>A design of about as many nests.</summary>
/// <param name="Rates">What invented seasons say.</param>
/// <param name="Formula">What formulas say.</param>
public sealed record DesignCompared(CallRates Rates, PowerFormula Formula);

/// <summary>Nests that tell two pastures apart, by formula.</summary>
/// <param name="Other">Survival of the other pasture.</param>
/// <param name="Independent">Nests a pasture if each were on its own, for a chance of 0.8.</param>
/// <param name="Nests">Nests a pasture on lines: times the design effect.</param>
/// <param name="Lines">Lines a pasture.</param>
public sealed record TwoPastures(double Other, double Independent, double Nests, int Lines);

/// <summary>The whole answer about a design, computed in one place.</summary>
/// <remarks>Same question, same bits, whatever the number of threads. May be shared between threads.</remarks>
public sealed record PowerAnswer
{
    /// <summary>Most seasons at each further truth or design: it is known within 1.6 points.</summary>
    public const int MostFurther = 1000;

    /// <summary>The question.</summary>
    public required PowerQuestion Question { get; init; }

    /// <summary>What was asked besides.</summary>
    public required PowerExtras Extras { get; init; }

    /// <summary>What invented seasons say.</summary>
    public required CallRates Rates { get; init; }

    /// <summary>What formulas say.</summary>
    public required PowerFormula Formula { get; init; }

    /// <summary>Lines needed by formula; null when 60 are not enough.</summary>
    public required int? NeededByFormula { get; init; }

    /// <summary>Lines needed by simulation; null when it was not asked.</summary>
    public required Answer<NeededLines>? Needed { get; init; }

    /// <summary>Designs of about as many nests; empty when not asked.</summary>
    public required ImmutableArray<DesignCompared> Designs { get; init; }

    /// <summary>Operating characteristics; null when not asked.</summary>
    public required OperatingCurve? Curves { get; init; }

    /// <summary>Chance to see a ratio of two covers.</summary>
    public required Answer<CoverRatioChance> Cover { get; init; }

    /// <summary>Cameras needed to know culprits' shares.</summary>
    public required Answer<NeededCameras> Cameras { get; init; }

    /// <summary>Nests that tell two pastures apart; null when not asked.</summary>
    public required TwoPastures? Pastures { get; init; }

    /// <summary>Answers the question.</summary>
    /// <param name="question">A question with nothing wrong in it.</param>
    /// <param name="extras">What else is asked.</param>
    /// <param name="progress">Told the share done, from any thread; may be null.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <exception cref="ArgumentException">Something is wrong with the question.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <source>Operating characteristics by simulation of the whole trial, formulas beside it: each part names its own.</source>
    /// <check>published-values</check>
    public static PowerAnswer Of(PowerQuestion question, PowerExtras extras, Action<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(extras);
        if (!question.Wrong().IsEmpty) throw new ArgumentException("The question is wrong: " + question.Wrong()[0].Key, nameof(question));
        var (judged, further) = (question.Judged, Math.Min(question.Seasons, MostFurther));
        var others = extras.Designs ? NeededLines.SameNests(judged) : [];
        var all = question.Seasons + (further * ((extras.Curves ? OperatingCurve.Survivals.Length : 0) + others.Count + (extras.Needed ? NeededLines.MostTries : 0)));
        var count = 0;
        Action done = () => progress?.Invoke(Math.Min(1, (double)Interlocked.Increment(ref count) / all));
        return new PowerAnswer
        {
            Question = question,
            Extras = extras,
            Rates = CallRates.Of(question, judged, question.Seasons, done, cancel),
            Formula = PowerFormula.Of(question, judged),
            NeededByFormula = NeededLines.LinesByFormula(question),
            Needed = extras.Needed ? NeededLines.Of(question, further, done, cancel) : (Answer<NeededLines>?)null,
            Designs = [.. others.Select(d => new DesignCompared(CallRates.Of(question, d, further, done, cancel), PowerFormula.Of(question, d)))],
            Curves = extras.Curves ? OperatingCurve.Of(question, judged, further, done, cancel) : null,
            Cover = CoverRatioChance.Of(question, judged, extras.CoverRatio, further, cancel),
            Cameras = NeededCameras.Of(question.Truth.Survival),
            Pastures = extras.Against is { } other && other != question.Truth.Survival ? Told(question, other) : null,
        };
    }

    private static TwoPastures Told(PowerQuestion question, double other)
    {
        double Effect(double survival) => DesignEffect.Of(question.Design.Nests, DesignEffect.Correlation(survival, question.Truth.LineSd));
        var independent = TwoProportions.Nests(question.Truth.Survival, other);
        var nests = independent * Math.Max(Effect(question.Truth.Survival), Effect(other));
        return new TwoPastures(other, independent, nests, (int)Math.Ceiling(nests / question.Design.Nests));
    }
}
