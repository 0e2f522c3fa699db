using Tussock.Records;

namespace Tussock.Review;

/// <summary>Clumps that were counted on a piece of belt whose area can't be had.</summary>
internal static class ClumpsWithoutArea
{
    internal static void Look(Inspection on)
    {
        foreach (var segment in on.Season.Segments)
        {
            if (!segment.IsCounted || segment.AreaM2 > 0) continue;
            var (column, what) = segment.Steps is not > 0 ? ("steps", "review.steps") : segment.StepM is not > 0 ? ("step_m", "review.step_m") : ("arm_span_m", "review.width");
            on.Add("clumps_without_area", Severity.Missing, segment.Source.Place(column), segment.Transect, ("segment", segment.Number), ("what", Phrase.Of(what)));
        }
    }
}
