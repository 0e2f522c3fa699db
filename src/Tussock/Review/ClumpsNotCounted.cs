using Tussock.Records;

namespace Tussock.Review;

/// <summary>Clumps written for a segment that is called not counted; or none written for one that is called counted.</summary>
internal static class ClumpsNotCounted
{
    internal static void Look(Inspection on)
    {
        var status = new RowCells(on.Season, RecordKind.Belts, "status");
        foreach (var segment in on.Season.Segments)
        {
            var written = status.Token(segment.Source);
            if (written == "not_counted" && segment.Clumps is { } clumps) on.Add("clumps_not_counted", Severity.Contradiction, segment.Source.Place("status"), segment.Transect, ("segment", segment.Number), ("clumps", clumps));
            else if (written != "not_counted" && segment.Clumps is null) on.Add("clumps_missing", Severity.Missing, segment.Source.Place("clumps"), segment.Transect, ("segment", segment.Number));
        }
    }
}
