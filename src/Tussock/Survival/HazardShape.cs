using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>How the cumulative hazard of a trial is spread over its days: G(u), 0 at set-out and 1 at the last day, with one bend at the first check.</summary>
/// <param name="Phi">Share φ of the trial's cumulative hazard that falls before the first check, in [0, 1].</param>
/// <param name="Trial">Days of the trial.</param>
public readonly record struct HazardShape(double Phi, Trial Trial)
{
    /// <summary>G(u): φu/c1 up to the first check c1, φ + (1 − φ)(u − c1)/(D − c1) after it, also beyond day D.</summary>
    /// <param name="day">Days since set-out, ≥ 0.</param>
    public double Upto(double day) => day <= Trial.FirstCheck
        ? Phi * day / Trial.FirstCheck
        : Phi + ((1 - Phi) * (day - Trial.FirstCheck) / (Trial.Days - Trial.FirstCheck));

    /// <summary>G′(u), per day; at the bend that of the days before it.</summary>
    /// <param name="day">Days since set-out, ≥ 0.</param>
    public double PerDay(double day) => day <= Trial.FirstCheck ? Phi / Trial.FirstCheck : (1 - Phi) / (Trial.Days - Trial.FirstCheck);
}
