using Tussock.Fates;
using Tussock.Survival;

namespace Tussock.Verdicts;

/// <summary>What the chance of survival would be if the nests of unknown fate had all been lost, or had all survived.</summary>
internal static class OpenFates
{
    /// <summary>The side with the chance at both extremes.</summary>
    /// <param name="side">The side; its benchmark is used.</param>
    /// <param name="spans">Its nests.</param>
    /// <param name="isOpen">For each nest whether its fate at the end of the trial is open.</param>
    /// <param name="trial">Days of the trial.</param>
    internal static SurvivalSide AtBothEnds(SurvivalSide side, NestSpans spans, bool[] isOpen, Trial trial) => side with
    {
        ChanceIfUnknownLost = Chance(Supposed(spans, isOpen, trial, isLost: true), side.Benchmark, trial),
        ChanceIfUnknownSurvived = Chance(Supposed(spans, isOpen, trial, isLost: false), side.Benchmark, trial),
    };

    /// <summary>The chance of the nests alone, at their own shape.</summary>
    internal static Answer<double> Chance(NestSpans spans, double benchmark, Trial trial) =>
        BenchmarkChance.AtOwnShape(spans, TwoPiece.Fit(spans, trial), benchmark, trial).Then(p => p.Chance);

    /// <summary>The same nests, those of open fate supposed lost at the end of the trial, or intact then.</summary>
    private static NestSpans Supposed(NestSpans spans, bool[] isOpen, Trial trial, bool isLost)
    {
        var supposed = spans.Rows([.. Enumerable.Range(0, spans.Count)]);
        for (var i = 0; i < isOpen.Length; i++)
        {
            if (!isOpen[i]) continue;
            if (isLost) supposed.FirstLost[i] = Math.Max(trial.Days, supposed.LastIntact[i] + 1);
            else supposed.LastIntact[i] = Math.Max(trial.Days, supposed.LastIntact[i]);
        }

        return supposed;
    }
}
