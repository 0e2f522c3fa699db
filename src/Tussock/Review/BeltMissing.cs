using Tussock.Records;

namespace Tussock.Review;

/// <summary>A transect that was set out and has no belt; or a season without belts.</summary>
internal static class BeltMissing
{
    internal static void Look(Inspection on)
    {
        if (on.Season.Segments.IsEmpty)
        {
            // Clumps are counted on the day of set-out: where nothing is set yet, none are missing.
            if (on.Season.Transects.Any(t => t.SetOn is not null) || on.Season.Nests.Any(n => n.SetOn is not null) || !on.Season.Visits.IsEmpty) on.Add("no_belts", Severity.Missing, new Place(RecordKind.Belts.File));
            return;
        }

        var walked = on.Season.Segments.Select(s => s.Transect).ToHashSet();
        foreach (var transect in on.Season.Transects)
        {
            if (transect.SetOn is not null && !walked.Contains(transect)) on.Add("belt_missing", Severity.Missing, transect.Source.Place(), transect);
        }
    }
}
