using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A visit before the nest was set out.</summary>
internal static class VisitBeforeSetOut
{
    internal static void Look(Inspection on)
    {
        foreach (var visit in on.Season.Visits)
        {
            if (visit.Day < 0 && VisitReading.Read(visit, on.Season.Settings.LossRule) != Seen.Lost)
                on.Add("visit_before_set_out", Severity.Contradiction, visit.Source.Place("visited_on"), visit.Nest, ("visited", visit.VisitedOn ?? visit.Nest.SetOn!.Value), ("set", visit.Nest.SetOn!.Value));
        }
    }
}
