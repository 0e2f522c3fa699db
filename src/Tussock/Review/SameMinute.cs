using Tussock.Records;

namespace Tussock.Review;

/// <summary>Visits of a line that were all noted at the same minute: written down afterwards, or copied.</summary>
internal static class SameMinute
{
    private const int Fewest = 4;

    internal static void Look(Inspection on)
    {
        var lines = on.Season.Visits.Where(v => v.VisitedAt is not null && v.VisitedOn is not null).GroupBy(v => (v.Nest.Transect, On: v.VisitedOn!.Value));
        foreach (var line in lines)
        {
            var visits = line.ToArray();
            var at = visits[0].VisitedAt!.Value;
            if (visits.Select(v => v.Nest).Distinct().Count() < Fewest || visits.Any(v => Minute(v.VisitedAt!.Value) != Minute(at))) continue;
            on.Add("same_minute", Severity.Odd, visits.MinBy(v => v.Source.Row.Line)!.Source.Place("visited_at"), line.Key.Transect, ("visits", visits.Length), ("on", line.Key.On), ("at", at.ToString("HH:mm")));
        }
    }

    private static int Minute(TimeOnly at) => (at.Hour * 60) + at.Minute;
}
