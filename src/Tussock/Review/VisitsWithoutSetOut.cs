using Tussock.Records;

namespace Tussock.Review;

/// <summary>Visits to a nest without a date of set-out, or to a station where no nest was set: in no count.</summary>
internal static class VisitsWithoutSetOut
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            var nest = history.Nest;
            if (history.Visits.IsEmpty) continue;
            if (nest.Status is StationStatus.NoClump or StationStatus.NotSet) on.Add("visit_to_no_nest", Severity.Contradiction, nest.Source.Place("status"), nest, ("visits", history.Visits.Length));
            else if (nest.SetOn is null) on.Add("set_out_missing", new Rank(Severity.Missing, 5), nest.Source.Place("set_on"), nest, ("visits", history.Visits.Length));
        }
    }
}
