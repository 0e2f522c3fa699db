using System.Collections.Concurrent;
using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Wayfinding;

/// <summary>How far the steps of one walk may be off: the share by which a walk is longer or shorter than the mean step says.</summary>
/// <remarks>
/// From two walks of the course on, Student's t times s·√(1 + 1/n); its degrees of freedom are those of the whole error along the way, of which counting
/// to whole steps is a known part: (n − 1)·(whole/own)². Where that is wider than the 8 % of a step that was never measured twice, those 8 %
/// (normal) are taken. Below two walks: those 8 %.
/// </remarks>
/// <source>Prediction of a further normal observation: any textbook, for example Hahn &amp; Meeker 1991, Statistical Intervals, section 4.7; degrees of freedom: Satterthwaite 1946, Biometrics Bulletin 2:110–114; 8 %: common practice, no source.</source>
/// <check>search-area</check>
internal static class StepSpread
{
    private const double Upper = 0.975;
    private const double MostDegrees = 100;

    private static readonly ConcurrentDictionary<int, double[]> Students = new();
    private static readonly Lazy<double[]> LazyNormals = new(() => [.. Levels().Select(Tails.NormalQuantile)]);

    /// <summary>One share for each draw of <see cref="SearchArea"/>.</summary>
    internal static double[] Draws(StepLength step, ImmutableArray<Leg> legs)
    {
        var assumed = StepLength.AssumedSpread;
        if (step is not { SdM: { } sd, Walks: >= 2 and var n }) return Scaled(LazyNormals.Value, assumed);
        var own = sd * sd / (step.Metres * step.Metres) * (1 + (1.0 / n));
        var steps = legs.Sum(l => l.Steps);
        var counted = legs.Length / (12 * steps * steps);
        if (own == 0) return new double[SearchArea.Draws];
        var degrees = (int)Math.Round(Math.Min(MostDegrees, (n - 1) * (own + counted) / own * ((own + counted) / own)));
        return Math.Sqrt(own) * Tails.StudentQuantile(Upper, degrees) > assumed * Tails.NormalQuantile(Upper)
            ? Scaled(LazyNormals.Value, assumed)
            : Scaled(Students.GetOrAdd(degrees, df => [.. Levels().Select(p => Tails.StudentQuantile(p, df))]), Math.Sqrt(own));
    }

    private static double[] Scaled(double[] draws, double by) => [.. draws.Select(d => d * by)];

    private static IEnumerable<double> Levels() => Enumerable.Range(1, SearchArea.Draws).Select(i => RadicalInverse.Of(i, SearchArea.StepRadix));
}
