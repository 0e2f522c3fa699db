using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>Beliefs of about one size, and how often they were right.</summary>
/// <param name="From">Lower edge of the chance; not in it.</param>
/// <param name="To">Upper edge; in it.</param>
/// <param name="Nests">Confirmed nests whose leading class had such a chance.</param>
/// <param name="MeanChance">Mean of those chances.</param>
/// <param name="Right">Share of them whose leading class it was, with limits.</param>
public sealed record CalibrationBand(double From, double To, int Nests, double MeanChance, Estimate Right)
{
    /// <summary>Number of even bands.</summary>
    public const int Bands = 5;

    /// <summary>Whether the mean chance lies outside the limits of how often it was right.</summary>
    public bool IsOff => MeanChance < Right.Low || MeanChance > Right.High;

    /// <summary>The bands that hold nests.</summary>
    internal static ImmutableArray<CalibrationBand> Of(IEnumerable<LeftOneOut> read) =>
        [.. read.Select(r => (Chance: r.Belief.Chances.Max(), IsRight: r.Belief.Chances.IndexOf(r.Belief.Chances.Max()) == r.Truth))
            .GroupBy(r => Math.Max(0, (int)Math.Ceiling(r.Chance * Bands) - 1)).OrderBy(g => g.Key)
            .Select(g => new CalibrationBand((double)g.Key / Bands, (g.Key + 1.0) / Bands, g.Count(), g.Average(r => r.Chance), Composition.Share(g.Count(r => r.IsRight), g.Count(), "share right, Jeffreys limits")))];
}
