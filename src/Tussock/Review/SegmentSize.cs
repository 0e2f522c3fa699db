using Tussock.Records;

namespace Tussock.Review;

/// <summary>A segment far smaller or larger than the others of its line, though nobody wrote that one side only was counted.</summary>
internal static class SegmentSize
{
    private const double MuchLarger = 1.6;

    internal static void Look(Inspection on)
    {
        foreach (var line in on.Season.Segments.Where(s => s.AreaM2 > 0 && !s.IsOneSided).GroupBy(s => s.Transect))
        {
            var segments = line.ToArray();
            if (segments.Select(s => s.Number).Distinct().Count() < 2) continue;
            var areas = segments.Select(s => s.AreaM2!.Value).Order().ToArray();
            var usual = areas[areas.Length / 2];
            foreach (var segment in segments) if (segment.AreaM2 is { } area) Compare(on, segment, area, usual);
        }
    }

    private static void Compare(Inspection on, Segment segment, double area, double usual)
    {
        if (area < usual * MuchLarger && area * MuchLarger > usual) return;
        var half = area / usual;
        var why = half is > 0.45 and < 0.55 ? "review.one_side" : half is > 1.9 and < 2.1 ? "review.two_passes" : "review.other_size";
        on.Add("segment_size", Severity.Odd, segment.Source.Place(), segment.Transect, ("segment", segment.Number), ("area", area), ("usual", usual), ("why", Phrase.Of(why)));
    }
}
