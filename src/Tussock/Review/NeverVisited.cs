namespace Tussock.Review;

/// <summary>A nest that was set out and never visited.</summary>
internal static class NeverVisited
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (!history.Nest.IsSet || !history.Visits.IsEmpty) continue;
            if (on.Today is not null && !Deadline.Of(on, history.Nest, on.FirstCheck).IsPast) continue;
            var last = Deadline.Of(on, history.Nest, on.LastCheck);
            on.Add("never_visited", new Rank(last.Severity, 2), history.Nest.Source.Place(), history.Nest, ("then", last.Then));
        }
    }
}
