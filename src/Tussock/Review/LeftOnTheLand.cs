using Tussock.Records;

namespace Tussock.Review;

/// <summary>Flags or washers that were taken out and not brought back, or the other way round.</summary>
internal static class LeftOnTheLand
{
    internal static void Look(Inspection on)
    {
        foreach (var what in new[] { "flags", "washers" })
        {
            var took = new RowCells(on.Season, RecordKind.Transects, what + "_out");
            var brought = new RowCells(on.Season, RecordKind.Transects, what + "_in");
            foreach (var transect in on.Season.Transects)
            {
                if (took.Number(transect.Source) is not { } outside || brought.Number(transect.Source) is not { } back || outside == back) continue;
                var place = transect.Source.Place(what + "_in");
                if (outside > back) on.Add(what + "_left", new Rank(Severity.Missing, 1), place, transect, ("left", outside - back), ("out", outside), ("in", back));
                else on.Add(what + "_more_in", Severity.Odd, place, transect, ("out", outside), ("in", back));
            }
        }
    }
}
