using Tussock.Survival;

namespace Tussock.Simulation;

/// <summary>How large an invented trial is: lines that are judged together, nests on each, ground counted beside each nest.</summary>
/// <param name="Lines">Lines, ≥ 1.</param>
/// <param name="Nests">Nests on each line, ≥ 1.</param>
/// <param name="SegmentM2">Belt counted for each nest, m²; the default is 50 steps of 0.75 m times an arm span of 1.8 m.</param>
public sealed record SeasonDesign(int Lines, int Nests, double SegmentM2 = 67.5);

/// <summary>What is true where an invented trial is walked.</summary>
/// <remarks>Shares in [0, 1]. Equal when all parts are equal. May be shared between threads.</remarks>
public sealed record SeasonTruth
{
    /// <summary>Survival to the end of the trial, averaged over lines and over both cover classes, in (0, 1).</summary>
    public double Survival { get; init; } = 0.5;

    /// <summary>Standard deviation of lines on the log cumulative hazard, τ in [0, 3].</summary>
    public double LineSd { get; init; } = 0.5;

    /// <summary>Share φ of the cumulative hazard that falls before the first check; one half is an even hazard when the check halves the trial.</summary>
    public double EarlyShare { get; init; } = 0.5;

    /// <summary>Chance that a nest not yet found lost can't be found at the last check, whatever became of it.</summary>
    public double NotRelocated { get; init; }

    /// <summary>Chance that a lost nest can never be found again because what took it took bowl and washer too.</summary>
    public double LostNotRelocated { get; init; }

    /// <summary>Whole days by which a line's checks may come late: 0 to this, all equally likely, each line for itself.</summary>
    public int LateDays { get; init; }

    /// <summary>Survival in the other cover class divided by that in the reference, averaged over lines; classes alternate along the line.</summary>
    public double CoverRatio { get; init; } = 1;

    /// <summary>True clump density, clumps an acre, &gt; 0.</summary>
    public double PerAcre { get; init; } = 300;

    /// <summary>Coefficient of variation of the lines' true densities, ≥ 0; counting adds its own.</summary>
    public double DensityCv { get; init; } = 0.3;

    /// <summary>Survival of each class, the reference first; above 1 when the ratio can't be had at this survival.</summary>
    public (double Reference, double Other) ByCover => (2 * Survival / (1 + CoverRatio), 2 * Survival * CoverRatio / (1 + CoverRatio));

    internal LineHazards Hazards() => new(Beta(ByCover.Reference), Beta(ByCover.Other), LineSd, EarlyShare);

    /// <summary>Mean log cumulative hazard of lines that gives a survival averaged over them.</summary>
    private double Beta(double survival) => AverageSurvival.Betas([Math.Log(survival / (1 - survival))], [LineSd])[0, 0];
}

/// <summary>The hazards of an invented trial.</summary>
/// <param name="Reference">Mean over lines of the log cumulative hazard to the end of the trial, reference class.</param>
/// <param name="Other">The same, other class.</param>
/// <param name="Sd">Standard deviation of lines.</param>
/// <param name="EarlyShare">Share of the hazard before the first check.</param>
internal readonly record struct LineHazards(double Reference, double Other, double Sd, double EarlyShare);
