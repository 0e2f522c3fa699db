using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>Eggs found whole that say another thing than the finding under the season's loss rule.</summary>
internal static class EggsDisagree
{
    internal static void Look(Inspection on)
    {
        var rule = on.Season.Settings.LossRule;
        foreach (var visit in on.Season.Visits)
        {
            if (visit.EggsIntact is not { } whole || whole > visit.Nest.Eggs) continue;
            var disagrees = visit.Finding == Finding.NotRelocated ? whole > 0 : VisitReading.Read(visit, rule) != Seen.EndOfWatching && VisitReading.ByCount(visit, rule) is { } isLost && isLost == (visit.Finding == Finding.Intact);
            if (!disagrees) continue;
            on.Add("eggs_disagree", Severity.Contradiction, visit.Source.Place("finding"), visit.Nest,
                ("whole", whole), ("finding", Phrase.Of("review.finding." + Token(visit.Finding))), ("eggs", visit.Nest.Eggs is { } set ? Phrase.Of("review.of_eggs", ("eggs", set)) : ""),
                ("rule", Phrase.Of(visit.Finding == Finding.NotRelocated ? "review.not_relocated_rule" : rule == LossRule.AnyEgg ? "review.any_egg_rule" : "review.all_eggs_rule")));
        }
    }

    private static string Token(Finding finding) => finding switch { Finding.Intact => "intact", Finding.Depredated => "depredated", Finding.OtherLoss => "other_loss", _ => "not_relocated" };
}
