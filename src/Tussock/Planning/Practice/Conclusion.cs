using Tussock.Evidence;
using Tussock.Verdicts;

namespace Tussock.Planning.Practice;

/// <summary>What became of a conclusion once the truth is known.</summary>
public enum ConclusionEnd
{
    /// <summary>Nothing was settled.</summary>
    Open,

    /// <summary>The side where the truth is.</summary>
    Right,

    /// <summary>The other side.</summary>
    Wrong,
}

/// <summary>What somebody concludes about a benchmark, and how sure he or she is of it.</summary>
/// <param name="Side">At the benchmark or above (likely), below (unlikely), or not settled.</param>
/// <param name="Percent">How sure of that side; where nothing is settled, the chance of the benchmark or above.</param>
public sealed record Conclusion(CallKind Side, int Percent)
{
    /// <summary>What is wrong with it; null when nothing is.</summary>
    public Phrase? Wrong() => Percent is < 0 or > 100 ? Phrase.Of("student.wrong.percent", ("found", Percent))
        : Side != CallKind.None && Percent < 50 ? Phrase.Of("student.wrong.side", ("found", Percent)) : null;

    /// <summary>The chance, in [0, 1], that is given to the benchmark or above.</summary>
    public double ChanceAbove => (Side == CallKind.Unlikely ? 100 - Percent : Percent) / 100.0;

    /// <summary>The side in words.</summary>
    public Phrase InWords => SideInWords(Side);

    /// <summary>A side in words.</summary>
    public static Phrase SideInWords(CallKind side) => Phrase.Of(side switch { CallKind.Likely => "student.side.likely", CallKind.Unlikely => "student.side.unlikely", _ => "student.side.not_settled" });

    /// <summary>What became of a side.</summary>
    /// <param name="side">What was said.</param>
    /// <param name="isAbove">Whether the truth is at the benchmark or above.</param>
    public static ConclusionEnd EndOf(CallKind side, bool isAbove) => side == CallKind.None ? ConclusionEnd.Open : (side == CallKind.Likely) == isAbove ? ConclusionEnd.Right : ConclusionEnd.Wrong;

    /// <summary>What a chance was worth: half its Brier score in hundredths, 0 for all given to the truth, 25 for even chances, 100 for all given to the other side.</summary>
    /// <param name="chanceAbove">Chance that was given to the benchmark or above, in [0, 1].</param>
    /// <param name="isAbove">Whether the truth is there.</param>
    public static double Penalty(double chanceAbove, bool isAbove) => 50 * Scoring.BrierOf([[chanceAbove, 1 - chanceAbove]], [isAbove ? 0 : 1]);
}
