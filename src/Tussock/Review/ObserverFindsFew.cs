using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>An observer who could not find far more nests than the others: Fisher's exact test, one-sided, at each planned check, the latest first.</summary>
/// <remarks>A nest that was found later counts as found; an observer is told once.</remarks>
internal static class ObserverFindsFew
{
    private const double Level = 0.05;

    internal static void Look(Inspection on)
    {
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (var check in on.Season.Settings.CheckDays.Reverse()) At(on, check, told);
    }

    private static void At(Inspection on, int check, HashSet<string> told)
    {
        var observers = new SortedDictionary<string, (int Nests, List<Visit> NotFound)>(StringComparer.Ordinal);
        var nests = 0;
        var notFound = 0;
        foreach (var history in on.Histories)
        {
            if (!history.Nest.IsSet || history.LatestIn(check - on.Window, check + on.Window) is not { } visit || visit.Observer.Length == 0) continue;
            var of = observers.GetValueOrDefault(visit.Observer, (0, []));
            nests++;
            if (visit.Finding == Finding.NotRelocated && history.Fate.IsNotRelocated)
            {
                notFound++;
                of.NotFound.Add(visit);
            }

            observers[visit.Observer] = (of.Nests + 1, of.NotFound);
        }

        foreach (var (observer, (own, missed)) in observers)
        {
            var p = Hypergeometric.AtLeast(missed.Count, own, notFound, nests);
            if (p < Level && told.Add(observer)) Tell(on, check, missed, ("observer", observer), ("missed", missed.Count), ("own", own), ("others_missed", notFound - missed.Count), ("others", nests - own), ("p", p), ("check", check));
        }
    }

    private static void Tell(Inspection on, int check, List<Visit> missed, params ReadOnlySpan<(string Name, object Value)> arguments)
    {
        var first = missed.MinBy(v => v.Source.Row.Line)!;
        var due = missed.Select(v => Deadline.Of(on, v.Nest, check)).MinBy(d => d.Until);
        var then = due.IsPast ? due.Then : Phrase.Of("review.search_until", ("date", due.Until), ("day", due.UntilDay));
        on.Add("observer_finds_few", new Rank(Severity.Missing, 100), first.Source.Place("observer"), [.. arguments, ("then", then)]);
    }
}
