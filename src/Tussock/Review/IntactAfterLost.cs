using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest found whole after it was found lost.</summary>
internal static class IntactAfterLost
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (history.Fate.FirstLost is null) continue;
            foreach (var visit in history.Visits)
            {
                if (visit.Day is { } day && day > history.FirstLost && VisitReading.Read(visit, on.Season.Settings.LossRule) == Seen.Intact)
                    on.Add("intact_after_lost", Severity.Contradiction, visit.Source.Place("finding"), history.Nest, ("day", day), ("lost", history.FirstLost));
            }
        }
    }
}
