using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A camera saw the eggs taken at a time that the visits exclude, so that its time is not used.</summary>
/// <remarks>Less than a day outside is no matter where the fate rule moves the time, because a date stands for a whole day.</remarks>
internal static class CameraOutsideVisits
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (history.Cameras.IsEmpty || !history.Fate.IsCounted) continue;
            var allowed = history.Fate.LostAt is null && history.Fate.EndedBy is null ? double.Epsilon : 1;
            foreach (var seen in FateRule.TimingEvents(history.Cameras, on.Season.Settings.LossRule, history.Nest.Eggs))
            {
                var day = seen.Day ?? 0;
                var isEarly = history.Fate.LastIntact - day >= allowed;
                if (isEarly || day - history.FirstLost >= allowed)
                    on.Add("camera_outside_visits", Severity.Contradiction, seen.Source.Place(), history.Nest, ("day", day), ("visits", Visits(history, isEarly)));
            }
        }
    }

    private static Phrase Visits(NestHistory history, bool isEarly) =>
        !isEarly ? Phrase.Of("review.camera_after_lost", ("day", history.FirstLost))
        : history.Fate.LastIntact > 0 ? Phrase.Of("review.camera_before_whole", ("day", history.Fate.LastIntact))
        : Phrase.Of("review.camera_before_set_out");
}
