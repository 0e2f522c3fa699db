using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>Broken or leaking eggs, none gone, in a bowl as it was set, without remains: perhaps heat, not a predator.</summary>
internal static class SpoiledInPlace
{
    internal static void Look(Inspection on)
    {
        var bowls = new RowCells(on.Season, RecordKind.Visits, "bowl");
        var broken = new RowCells(on.Season, RecordKind.Visits, "eggs_broken");
        var spoiled = new RowCells(on.Season, RecordKind.Visits, "eggs_spoiled");
        var missing = new RowCells(on.Season, RecordKind.Visits, "eggs_missing");
        if (!bowls.IsThere || (!broken.IsThere && !spoiled.IsThere)) return;
        foreach (var history in on.Histories)
        {
            if (!history.Remains.IsEmpty) continue;
            foreach (var visit in history.Visits)
            {
                if (VisitReading.Read(visit, on.Season.Settings.LossRule) != Seen.Lost || visit.Cause.Length > 0 || bowls.Token(visit.Source) != "as_set" || missing.Number(visit.Source) > 0) continue;
                var count = (broken.Number(visit.Source) ?? 0) + (spoiled.Number(visit.Source) ?? 0);
                if (count > 0) on.Add("maybe_spoiled_in_place", Severity.Odd, visit.Source.Place("finding"), history.Nest, ("eggs", count));
            }
        }
    }
}
