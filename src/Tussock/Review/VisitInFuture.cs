namespace Tussock.Review;

/// <summary>A visit dated after today.</summary>
internal static class VisitInFuture
{
    internal static void Look(Inspection on)
    {
        if (on.Today is not { } today) return;
        foreach (var visit in on.Season.Visits)
        {
            if (visit.VisitedOn > today) on.Add("visit_in_future", Severity.Contradiction, visit.Source.Place("visited_on"), visit.Nest, ("visited", visit.VisitedOn.Value), ("today", today));
        }
    }
}
