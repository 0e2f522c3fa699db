using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>What a two-piece fit found. Numbers that can't be had are null, with their reason beside them.</summary>
/// <remarks>Hazards are per day. May be shared between threads.</remarks>
public sealed record TwoPieceFit
{
    /// <summary>Where the maximum lies.</summary>
    public required TwoPieceShape Shape { get; init; }

    /// <summary>Nests with a visit after day 0 that tells (or a camera time).</summary>
    public required int NestsUsed { get; init; }

    /// <summary>Lines with at least one such nest, m.</summary>
    public required int Lines { get; init; }

    /// <summary>Nests lost.</summary>
    public required int Lost { get; init; }

    /// <summary>Hazard a day up to the first check; null when infinite or not known.</summary>
    public double? H1 { get; init; }

    /// <summary>Hazard a day after the first check; null when infinite or not known.</summary>
    public double? H2 { get; init; }

    /// <summary>Why a hazard is missing, or what is special about the maximum; null when nothing is.</summary>
    public Phrase? Why { get; init; }

    /// <summary>Chance to survive to the first check.</summary>
    public double? S14 { get; init; }

    /// <summary>Chance to survive to the end of the trial.</summary>
    public double? S28 { get; init; }

    /// <summary>Log-likelihood at the maximum; null without a visit.</summary>
    public double? LogLikelihood { get; init; }

    /// <summary>Share of the cumulative hazard that falls before the first check, φ in [0, 1]; null without a visit.</summary>
    public double? Phi { get; init; }

    /// <summary>Where φ comes from; null without a visit.</summary>
    public Phrase? PhiFrom { get; init; }

    /// <summary>The constant hazard of the same nests; null when the test is.</summary>
    public double? ConstantHazard { get; init; }

    /// <summary>Log-likelihood at the constant hazard; null when the test is.</summary>
    public double? ConstantLogLikelihood { get; init; }

    /// <summary>Twice the difference of the log-likelihoods: test of equal hazards, nests taken as independent.</summary>
    public double? LikelihoodRatio { get; init; }

    /// <summary>Upper tail of χ²(1) at that ratio.</summary>
    public double? LikelihoodRatioP { get; init; }

    /// <summary>Why there is no test; null when there is one.</summary>
    public Phrase? WhyNoTest { get; init; }

    /// <summary>Limits of survival to the end of the trial, clustered by line.</summary>
    public Answer<ClusteredLimits> Limits { get; init; }

    /// <summary>When one hazard is 0 at the maximum: the limits from the other alone, the zero one taken as known; else null.</summary>
    public ClusteredLimits? ZeroHazardHeld { get; init; }

    /// <summary>What Newton's iteration did.</summary>
    public required NewtonDiary Diary { get; init; }

    /// <summary>Survival to the end of the trial with its clustered limits.</summary>
    public required Estimate Survival28 { get; init; }
}

/// <summary>Limits on log(−log S) from the scores of lines.</summary>
/// <param name="SeLogH28">Cluster-robust standard error of the log of the cumulative hazard.</param>
/// <param name="Low">Lower limit of survival.</param>
/// <param name="High">Upper limit of survival.</param>
public readonly record struct ClusteredLimits(double SeLogH28, double Low, double High);
