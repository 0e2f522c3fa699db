using System.Collections.Immutable;
using Tussock.Measures;

namespace Tussock.Cover;

/// <summary>One segment on the picture of a line: its clumps and its density.</summary>
/// <param name="Line">Index of the flag line.</param>
/// <param name="Transect">Index of the transect.</param>
/// <param name="Segment">Number of the segment along the transect.</param>
/// <param name="Clumps">Clumps of the classes asked for; 0 when not counted.</param>
/// <param name="AreaM2">Area, m², taken once; 0 when not counted.</param>
/// <param name="PassDifference">What its passes differ by, summed over classes; null when walked once.</param>
public sealed record SegmentDensity(int Line, int Transect, int Segment, double Clumps, double AreaM2, double? PassDifference)
{
    /// <summary>Walkers of the segment, each with an equal share.</summary>
    public ImmutableArray<string> Walkers { get; init; } = [];

    /// <summary>Whether it was counted for every class asked for.</summary>
    public bool IsCounted => AreaM2 > 0;

    /// <summary>Clumps an acre; null when not counted.</summary>
    public double? PerAcre => IsCounted ? Area.PerAcre(Clumps / AreaM2) : null;

    /// <summary>The segments of some units, each once, in order along each line.</summary>
    /// <param name="units">Units of one group, any order.</param>
    /// <param name="question">Which classes are asked for.</param>
    /// <returns>
    /// One row a segment, also for segments that were not counted. A segment on which a class asked for was not counted is not counted;
    /// one that was counted, but has no row for such a class, has none of it. Units of one segment that disagree about its area: their mean.
    /// </returns>
    /// <source>Common practice, no source: clumps over the area walked.</source>
    /// <check>worked-by-hand</check>
    public static ImmutableArray<SegmentDensity> Along(IEnumerable<BeltUnit> units, DensityQuestion question) =>
        [.. units.GroupBy(u => (u.Line, u.Transect, u.Segment)).OrderBy(g => g.Key).Select(g => Segmented([.. g.OrderBy(u => u.Cover)], question))];

    /// <summary>How many of the counted segments lie at or above the benchmark: a picture, without interval.</summary>
    /// <remarks>A 50-step segment holds about five clumps at 300 an acre, so an even 300 shows some 40 % of its segments above by chance alone.</remarks>
    public static (int Above, int Counted) SegmentsAbove(IEnumerable<SegmentDensity> segments, double benchmarkPerAcre)
    {
        var densities = segments.Select(s => s.PerAcre).OfType<double>().ToArray();
        return (densities.Count(d => d >= benchmarkPerAcre), densities.Length);
    }

    private static SegmentDensity Segmented(BeltUnit[] units, DensityQuestion question)
    {
        var (line, transect, segment) = (units[0].Line, units[0].Transect, units[0].Segment);
        var asked = units.Where(u => question.Counts(u.Cover)).ToArray();
        var counted = units.Where(u => u.IsCounted && u.AreaM2 > 0).ToArray();
        if (counted.Length == 0 || asked.Any(u => !u.IsCounted)) return new SegmentDensity(line, transect, segment, 0, 0, null);
        var differences = asked.Select(u => u.PassDifference).OfType<double>().ToArray();
        return new SegmentDensity(line, transect, segment, asked.Sum(u => u.Clumps), counted.Average(u => u.AreaM2), differences.Length == 0 ? null : differences.Sum())
        {
            Walkers = [.. counted.SelectMany(u => u.Walkers).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        };
    }
}
