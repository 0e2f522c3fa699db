using System.Collections.Immutable;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>A row of the answer about a design: what invented seasons say, and formulas beside it.</summary>
/// <param name="What">What it is.</param>
/// <param name="Simulated">Share or width in [0, 1] of invented seasons; null where there is none.</param>
/// <param name="Formula">The same by formula.</param>
/// <param name="IsWidth">Whether both are widths, told in points, and not shares.</param>
public sealed record PowerRow(Phrase What, double? Simulated, double? Formula, bool IsWidth = false);

/// <summary>The table of the answer about a design; command line and desk show the same.</summary>
public static class PowerRows
{
    private const double Nominal = 0.95;

    /// <summary>The rows, in the order in which they are read.</summary>
    /// <param name="answer">The answer.</param>
    /// <returns>Shares and widths in [0, 1].</returns>
    /// <source>The answer's own numbers; a verdict by formula is the product of its two calls, taken as unrelated: common practice, no source.</source>
    /// <check>published-values</check>
    public static ImmutableArray<PowerRow> Of(PowerAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var (rates, formula, hasDensity) = (answer.Rates, answer.Formula, answer.Question.HasDensity);
        var rows = ImmutableArray.CreateBuilder<PowerRow>();
        Add("power.row.width", rates.MeanWidth, formula.Width, isWidth: true);
        Add("power.row.coverage", rates.Coverage, Nominal);
        Add("power.row.survival_likely", rates.SurvivalLikely, formula.SurvivalLikely);
        Add("power.row.survival_unlikely", rates.SurvivalUnlikely, formula.SurvivalUnlikely);
        if (hasDensity)
        {
            Add("power.row.density_likely", rates.DensityLikely, formula.DensityLikely);
            Add("power.row.density_unlikely", rates.DensityUnlikely, formula.DensityUnlikely);
            Named(VerdictKind.Good, formula.SurvivalLikely * formula.DensityLikely);
            Named(VerdictKind.SurvivalGoodCoverThin, formula.SurvivalLikely * formula.DensityUnlikely);
            Named(VerdictKind.LossesDespiteCover, formula.SurvivalUnlikely * formula.DensityLikely);
            Named(VerdictKind.CoverLimited, formula.SurvivalUnlikely * formula.DensityUnlikely);
        }

        Add("power.row.not_enough", rates.NotEnough, 1 - formula.Clear(hasDensity));
        return rows.ToImmutable();

        void Add(string key, double? simulated, double? byFormula, bool isWidth = false) => rows.Add(new PowerRow(Phrase.Of(key), simulated, byFormula, isWidth));

        void Named(VerdictKind kind, double? byFormula) =>
            rows.Add(new PowerRow(Phrase.Of("power.row.verdict", ("verdict", Phrase.Of("verdict.words." + Verdict.TokenOf(kind)))), rates.Verdicts[(int)kind], byFormula));
    }
}
