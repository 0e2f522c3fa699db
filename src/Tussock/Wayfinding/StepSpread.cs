using System.Collections.Concurrent;
using Tussock.Numerics;

namespace Tussock.Wayfinding;

/// <summary>How far the steps of one walk may be off: the share by which a walk is longer or shorter than the mean step says.</summary>
/// <remarks>
/// From two walks of the course on, Student's t with one degree of freedom less than walks, times s·√(1 + 1/n); where that is wider than the 8 % of
/// a step that was never measured twice, those 8 % (normal) are taken. Below two walks: those 8 %. Together with the errors that are known the area is
/// then a little too large for few walks (96 of 100 instead of 95 with three); degrees of freedom of the whole error would make it too small (91 of 100).
/// </remarks>
/// <source>Prediction of a further normal observation: any textbook, for example Hahn &amp; Meeker 1991, Statistical Intervals, section 4.7; 8 %: common practice, no source.</source>
/// <check>search-area</check>
internal static class StepSpread
{
    private const double Upper = 0.975;

    private static readonly ConcurrentDictionary<int, double[]> Students = new();
    private static readonly Lazy<double[]> LazyNormals = new(() => [.. Levels().Select(Tails.NormalQuantile)]);

    /// <summary>One share for each draw of <see cref="SearchArea"/>.</summary>
    internal static double[] Draws(StepLength step)
    {
        var assumed = StepLength.AssumedSpread;
        if (step is not { SdM: { } sd, Walks: >= 2 and var n }) return Scaled(LazyNormals.Value, assumed);
        var share = sd / step.Metres * Math.Sqrt(1 + (1.0 / n));
        return share * Tails.StudentQuantile(Upper, n - 1) > assumed * Tails.NormalQuantile(Upper)
            ? Scaled(LazyNormals.Value, assumed)
            : Scaled(Students.GetOrAdd(n - 1, df => [.. Levels().Select(p => Student(p, df))]), share);
    }

    /// <summary>Quantile of Student's t; with one and two degrees of freedom by formula, because the library's search does not reach so far out.</summary>
    private static double Student(double p, int degrees) => degrees switch
    {
        1 => Math.Tan(Math.PI * (p - 0.5)),
        2 => ((2 * p) - 1) / Math.Sqrt(2 * p * (1 - p)),
        _ => Tails.StudentQuantile(p, degrees),
    };

    private static double[] Scaled(double[] draws, double by) => [.. draws.Select(d => d * by)];

    private static IEnumerable<double> Levels() => Enumerable.Range(1, SearchArea.Draws).Select(i => RadicalInverse.Of(i, SearchArea.StepRadix));
}
