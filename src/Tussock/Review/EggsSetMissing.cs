namespace Tussock.Review;

/// <summary>Eggs were counted at a nest for which nobody wrote how many were set, so the count decides nothing.</summary>
internal static class EggsSetMissing
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (history.Nest.Eggs is not null || !history.Nest.IsSet) continue;
            foreach (var visit in history.Visits)
            {
                if (visit.EggsIntact is null) continue;
                on.Add("eggs_set_missing", Severity.Missing, history.Nest.Source.Place("eggs"), history.Nest);
                break;
            }
        }
    }
}
