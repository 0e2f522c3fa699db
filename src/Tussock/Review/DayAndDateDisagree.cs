using Tussock.Records;

namespace Tussock.Review;

/// <summary>A visit with both a date and a day since set-out that don't fit each other.</summary>
internal static class DayAndDateDisagree
{
    internal static void Look(Inspection on)
    {
        var days = new RowCells(on.Season, RecordKind.Visits, "day");
        if (!days.IsThere) return;
        foreach (var visit in on.Season.Visits)
        {
            if (visit.VisitedOn is { } date && visit.Nest.SetOn is { } set && days.Number(visit.Source) is { } written && Math.Abs(written - (date.DayNumber - set.DayNumber)) >= 1)
                on.Add("day_and_date_disagree", Severity.Contradiction, visit.Source.Place("day"), visit.Nest, ("day", written), ("visited", date), ("set", set), ("counted", date.DayNumber - set.DayNumber));
        }
    }
}
