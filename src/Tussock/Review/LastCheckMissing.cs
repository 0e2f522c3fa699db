namespace Tussock.Review;

/// <summary>A nest that was still whole, or not found, when last looked for, and was not looked for near the end of the trial.</summary>
internal static class LastCheckMissing
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (!history.IsWatched || history.Visits.IsEmpty || history.HasVisitIn(on.LastCheck - on.Window, double.PositiveInfinity)) continue;
            var due = Deadline.Of(on, history.Nest, on.LastCheck);
            if (due.IsAhead) continue;
            on.Add("last_check_missing", new Rank(due.Severity, 3), history.Nest.Source.Place(), history.Nest, ("day", on.LastCheck), ("last", history.LatestIn(0, on.LastCheck)?.Day ?? 0), ("then", due.Then));
        }
    }
}
