using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest that could not be found at its latest visit and whose fate is open: to be searched again.</summary>
internal static class NotRelocated
{
    internal static void Look(Inspection on)
    {
        var reasons = new RowCells(on.Season, RecordKind.Visits, "not_found_because");
        foreach (var history in on.Histories)
        {
            if (!history.IsWatched || history.Fate.Day28 != FateAt.Unknown || history.LatestIn(double.NegativeInfinity, double.PositiveInfinity) is not { Finding: Finding.NotRelocated } visit) continue;
            var due = Deadline.Of(on, history.Nest, on.LastCheck);
            var reason = reasons.Token(visit.Source);
            on.Add("not_relocated", new Rank(due.Severity, 10), visit.Source.Place("finding"), history.Nest,
                ("day", visit.Day ?? 0), ("why", Phrase.Of(Why(reason), ("reason", reason.Replace('_', ' ')))), ("then", due.IsPast ? due.Then : Phrase.Of("review.search_until", ("date", due.Until), ("day", due.UntilDay))));
        }
    }

    private static string Why(string reason) => reason switch
    {
        "" => "review.no_reason",
        "searched_all" or "clump_gone" => "review.reason_suspicious",
        "ran_out_of_time" or "flag_gone" or "not_reached" => "review.reason_chance",
        _ => "review.reason_other",
    };
}
