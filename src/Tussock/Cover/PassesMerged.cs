using System.Collections.Immutable;

namespace Tussock.Cover;

/// <summary>Belt rows as they were written → one unit a segment and class: passes averaged, sides added, the area taken once.</summary>
public static class PassesMerged
{
    /// <summary>Merges the passes and sides of each segment and class.</summary>
    /// <param name="rows">Rows in any order; several rows of one segment, class, pass and side are added (a segment written down in pieces).</param>
    /// <returns>
    /// Units in order of line, transect, segment and class. Clumps and area are means over passes; within a pass the sides add.
    /// A pass that was not counted, or has no area, is left out; a segment of such passes alone is a unit that is not counted.
    /// </returns>
    /// <remarks>Passes that disagree stay in the interval by themselves: the variance between lines holds the counting error. What they differ by is kept.</remarks>
    /// <source>Common practice, no source.</source>
    /// <check>worked-by-hand</check>
    public static ImmutableArray<BeltUnit> Of(IEnumerable<SegmentCount> rows) =>
        [.. rows.GroupBy(r => (r.Line, r.Transect, r.Segment, r.Cover)).OrderBy(g => g.Key).Select(g => Unit([.. g]))];

    private static BeltUnit Unit(SegmentCount[] rows)
    {
        var first = rows[0];
        var passes = rows.Where(r => r.IsCounted && r.AreaM2 > 0).GroupBy(r => r.Pass).OrderBy(g => g.Key)
            .Select(g => (Clumps: g.Sum(r => r.Clumps), Area: g.Sum(r => r.AreaM2), Walkers: g.Select(r => r.Walker))).ToArray();
        var unit = new BeltUnit { Line = first.Line, Transect = first.Transect, Pasture = first.Pasture, Segment = first.Segment, Cover = first.Cover, Clumps = 0, AreaM2 = 0, IsCounted = false };
        if (passes.Length == 0) return unit;
        return unit with
        {
            Clumps = passes.Average(p => p.Clumps),
            AreaM2 = passes.Average(p => p.Area),
            IsCounted = true,
            Walkers = [.. passes.SelectMany(p => p.Walkers).OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
            PassDifference = passes.Length > 1 ? passes.Max(p => p.Clumps) - passes.Min(p => p.Clumps) : null,
        };
    }
}
