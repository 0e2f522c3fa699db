namespace Tussock.Review;

/// <summary>No visit near the first planned check: due now, or made up for too late.</summary>
internal static class FirstCheck
{
    internal static void Look(Inspection on)
    {
        if (on.Season.Settings.CheckDays.Length < 2) return;
        var from = on.FirstCheck - on.Window;
        var to = on.FirstCheck + on.Window;
        foreach (var history in on.Histories)
        {
            if (!history.Nest.IsSet || !history.Fate.IsCounted || history.Over < from || history.HasVisitIn(from, to)) continue;
            var nest = history.Nest;
            if (history.FirstVisitAfter(to) is { } late) on.Add("first_check_late", Severity.Late, late.Source.Place("visited_on"), nest, ("day", late.Day ?? 0), ("from", from), ("to", to));
            else if (on.Today is not null && Deadline.Of(on, nest, on.FirstCheck) is { IsAhead: false, IsPast: false } due) on.Add("first_check_missing", Severity.Missing, nest.Source.Place(), nest, ("day", on.FirstCheck), ("then", due.Then));
        }
    }
}
