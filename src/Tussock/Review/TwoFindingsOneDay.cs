using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>Two visits of one day that say different things about the nest. Both are told.</summary>
internal static class TwoFindingsOneDay
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            var visits = history.Visits;
            for (var start = 0; start < visits.Length;)
            {
                var end = start + 1;
                while (end < visits.Length && Date(visits[end]) is { } date && date == Date(visits[start])) end++;
                if (end - start > 1) OneDay(on, history.Nest, visits[start..end]);
                start = end;
            }
        }
    }

    private static void OneDay(Inspection on, Nest nest, ReadOnlySpan<Visit> visits)
    {
        var rule = on.Season.Settings.LossRule;
        var atAll = 0;
        var withoutTime = 0;
        var atTime = new Dictionary<double, int>();
        foreach (var visit in visits)
        {
            var said = Said(visit, rule);
            var day = visit.Day ?? 0;
            atAll |= said;
            if (!HasTime(visit)) withoutTime |= said;
            atTime[day] = atTime.GetValueOrDefault(day) | said;
        }

        foreach (var visit in visits)
        {
            var said = Said(visit, rule);
            var day = visit.Day ?? 0;
            var beside = HasTime(visit) ? withoutTime | atTime[day] : atAll;
            if (said != 0 && (beside & ~said) != 0) on.Add("two_findings_one_day", Severity.Contradiction, visit.Source.Place("finding"), nest, ("day", Math.Floor(day)));
        }
    }

    /// <summary>Whether the day of a visit holds a time, so that visits of one date have an order.</summary>
    private static bool HasTime(Visit visit) => visit.VisitedOn is null ? visit.Day != Math.Floor(visit.Day ?? 0) : visit.VisitedAt is not null && visit.Nest.SetAt is not null;

    private static double? Date(Visit visit) => visit.Day is { } day ? Math.Floor(day) : null;

    /// <summary>One bit for each thing that a visit may say; none for a nest that was not relocated.</summary>
    private static int Said(Visit visit, LossRule rule) => VisitReading.Read(visit, rule) switch
    {
        Seen.Nothing => 0,
        Seen.Intact => 1,
        Seen.EndOfWatching => 2,
        _ => visit.Finding == Finding.OtherLoss ? 4 : 8,
    };
}
