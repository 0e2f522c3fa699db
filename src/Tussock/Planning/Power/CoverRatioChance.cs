using Tussock.Numerics;
using Tussock.Simulation;
using Tussock.Survival;

namespace Tussock.Planning.Power;

/// <summary>How likely a season shows that nests in one cover class survive more often than in the other.</summary>
/// <param name="Ratio">The true ratio of survivals, averaged over lines.</param>
/// <param name="Seen">Share of seasons whose interval of the survival ratio lies wholly on the side of the truth.</param>
/// <param name="Opposite">Share whose interval lies wholly on the other side.</param>
/// <param name="Seasons">Invented seasons.</param>
/// <param name="NestsByFormula">Nests a class by the two-proportion formula for a chance of 0.8, nests taken as independent; null at a ratio of 1.</param>
/// <param name="ChanceByFormula">Chance by the same formula with the nests of the design; null at a ratio of 1.</param>
public sealed record CoverRatioChance(double Ratio, double Seen, double Opposite, int Seasons, double? NestsByFormula, double? ChanceByFormula)
{
    /// <summary>How likely is a ratio seen?</summary>
    /// <param name="question">Truth (its average survival and spread of lines), seed.</param>
    /// <param name="design">Lines and nests; classes alternate along each line.</param>
    /// <param name="ratio">Survival in one class divided by the other's, &gt; 0.</param>
    /// <param name="seasons">Invented seasons.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <returns>The chance; a reason when no survival of the better class could give the ratio.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <remarks>Mantel–Haenszel over transects, as in every season: differences between lines don't enter, so the formula's independent nests are not far off.</remarks>
    /// <source>Mantel &amp; Haenszel 1959, Journal of the National Cancer Institute 22:719–748; formula: Fleiss, Levin &amp; Paik 2003, chapter 4 (from memory).</source>
    /// <check>published-values</check>
    public static Answer<CoverRatioChance> Of(PowerQuestion question, SeasonDesign design, double ratio, int seasons, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(design);
        var truth = question.Truth with { CoverRatio = ratio };
        var (reference, other) = truth.ByCover;
        if (Math.Max(reference, other) >= 0.999) return NoAnswer.Because("power.ratio_impossible", ("ratio", ratio), ("survival", question.Truth.Survival));
        var sides = new int[seasons];
        Ordered.WithRoom(seasons, () => new SimulatedNests(design, truth, question.Trial), (season, room) =>
        {
            room.Draw(Seeded.Of(question.Seed, (ulong)season + 1));
            var seen = MantelHaenszel.Compare(room.Spans, 0, 1).SurvivalRatio;
            sides[season] = seen.Low > 1 ? 1 : seen.High < 1 ? -1 : 0;
        }, cancel);
        var toTruth = ratio >= 1 ? 1 : -1;
        var each = design.Lines * design.Nests / 2.0;
        return new CoverRatioChance(ratio, (double)sides.Count(s => s == toTruth) / seasons, (double)sides.Count(s => s == -toTruth) / seasons, seasons,
            ratio == 1 ? null : TwoProportions.Nests(reference, other), ratio == 1 ? null : TwoProportions.Power(each, reference, other));
    }
}
