using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>What a careful colleague would find in the records of a season: wrong, missing, late or odd, worst first.</summary>
public static class Inspector
{
    private static readonly ImmutableArray<Rule> Rules =
    [
        NameTwice.Look, IntactAfterLost.Look, TwoFindingsOneDay.Look, VisitBeforeSetOut.Look, LostOnSetOut.Look, VisitInFuture.Look, DayAndDateDisagree.Look,
        EggsDisagree.Look, MoreEggsThanSet.Look, EggsSetMissing.Look, SpoiledInPlace.Look, CauseOfLoss.Look,
        NeverVisited.Look, VisitsWithoutSetOut.Look, FirstCheck.Look, LastCheckMissing.Look, LastCheckLate.Look, NotRelocated.Look, ObserverFindsFew.Look,
        RemainsWithoutLoss.Look, LossWithoutRemains.Look, CameraOutsideVisits.Look, CameraLossNotFound.Look, EggsTakenMissing.Look, CulpritNotListed.Look, CameraAnimalNotNamed.Look,
        ClumpsWithoutArea.Look, ClumpsNotCounted.Look, SecondPassAlone.Look, SegmentSize.Look, BeltMissing.Look,
        ImpossibleDirection.Look, DirectionWithoutSense.Look, StepsFar.Look, NestFarFromWalk.Look, FlagsUneven.Look, OutsidePasture.Look,
        LineAlike.Look, SameMinute.Look, TimeWithOffset.Look, SetOutSpread.Look, CoverNotListed.Look, ObserverSpellings.Look, LeftOnTheLand.Look,
        YearLabel.Look, PlannedNotSet.Look, PastureWithoutTransects.Look, QuailEggs.Look, TimeZoneMissing.Look,
    ];

    /// <summary>Looks through a season with every rule.</summary>
    /// <param name="season">The season.</param>
    /// <param name="today">Today's local date, so that findings know what can still be done; null: nothing is called due or too late.</param>
    /// <returns>Findings by severity, then weight (greatest first), then place: file in the order of the folder, line, column. Empty when nothing was found.</returns>
    /// <remarks>The order of rows in the files changes no finding but its line. Time grows with the number of rows, and with nests × corners of the boundaries. May be called from several threads.</remarks>
    public static ImmutableArray<Problem> Findings(Season season, DateOnly? today = null)
    {
        var on = new Inspection(season, today);
        foreach (var rule in Rules) rule(on);
        var found = on.Found.ToArray();
        Array.Sort(found, WorstFirst);
        return [.. found];
    }

    private static int WorstFirst(Problem a, Problem b)
    {
        var by = a.Severity.CompareTo(b.Severity);
        if (by == 0) by = b.Weight.CompareTo(a.Weight);
        if (by == 0) by = FileOrder(a.Place.File).CompareTo(FileOrder(b.Place.File));
        if (by == 0) by = (a.Place.Line ?? 0).CompareTo(b.Place.Line ?? 0);
        if (by == 0) by = string.CompareOrdinal(a.Place.Column, b.Place.Column);
        return by == 0 ? string.CompareOrdinal(a.Rule, b.Rule) : by;
    }

    private static int FileOrder(string file)
    {
        for (var i = 0; i < RecordKind.All.Length; i++) if (RecordKind.All[i].File == file) return i;
        return -1;
    }
}
