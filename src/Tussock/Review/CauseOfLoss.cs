using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>An other loss without a cause, or with one that is not on the list.</summary>
internal static class CauseOfLoss
{
    internal static void Look(Inspection on)
    {
        foreach (var visit in on.Season.Visits)
        {
            if (visit.Finding != Finding.OtherLoss || VisitReading.IsArtefact(visit.Cause)) continue;
            var cause = VisitReading.CauseOf(visit);
            if (cause == Cause.NotRecorded) on.Add("cause_missing", Severity.Missing, visit.Source.Place("cause"), visit.Nest, ("causes", Phrase.Of("review.causes")));
            else if (cause == Cause.Other) on.Add("cause_not_listed", Severity.Odd, visit.Source.Place("cause"), visit.Nest, ("cause", TableCheck.Shown(visit.Source.Text("cause"))), ("causes", Phrase.Of("review.causes")));
        }
    }
}
