using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A loss on the day of set-out or before: the nest is in no count.</summary>
internal static class LostOnSetOut
{
    internal static void Look(Inspection on)
    {
        foreach (var visit in on.Season.Visits)
        {
            if (visit.Day <= 0 && VisitReading.Read(visit, on.Season.Settings.LossRule) == Seen.Lost)
                on.Add("lost_on_set_out", Severity.Contradiction, visit.Source.Place("finding"), visit.Nest, ("day", Math.Floor(visit.Day.Value)));
        }
    }
}
