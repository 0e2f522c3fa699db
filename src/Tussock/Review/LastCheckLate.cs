using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>The check at the end of the trial was made after the days that count.</summary>
internal static class LastCheckLate
{
    internal static void Look(Inspection on)
    {
        var from = on.LastCheck - on.Window;
        var to = on.LastCheck + on.Window;
        foreach (var history in on.Histories)
        {
            if (!history.Nest.IsSet || !history.Fate.IsCounted || history.HasVisitIn(from, to)) continue;
            if (history.FirstVisitAfter(to) is not { Day: { } day } late || history.Over < day) continue;
            var seen = VisitReading.Read(late, on.Season.Settings.LossRule);
            var isUnknown = history.Fate.Day28 == FateAt.Unknown;
            on.Add("last_check_late", new Rank(Severity.Late, isUnknown ? 1 : 0), late.Source.Place("visited_on"), history.Nest,
                ("day", day), ("from", from), ("to", to), ("so", Phrase.Of(isUnknown ? seen == Seen.Lost ? "review.late_lost" : "review.late_not_found" : "review.late_known", ("trial", on.LastCheck))));
        }
    }
}
