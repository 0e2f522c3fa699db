namespace Tussock.Review;

/// <summary>A second pass of a segment that has no first one.</summary>
internal static class SecondPassAlone
{
    internal static void Look(Inspection on)
    {
        var first = new HashSet<(string Transect, int Segment, string Cover)>();
        foreach (var segment in on.Season.Segments) if (segment.Pass == 1) first.Add((segment.Transect.Name, segment.Number, segment.Cover));
        foreach (var segment in on.Season.Segments)
        {
            if (segment.Pass != 1 && !first.Contains((segment.Transect.Name, segment.Number, segment.Cover)))
                on.Add("second_pass_alone", Severity.Odd, segment.Source.Place("pass"), segment.Transect, ("segment", segment.Number), ("pass", segment.Pass));
        }
    }
}
