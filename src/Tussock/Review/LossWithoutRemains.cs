using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest found depredated without a sign or a note, in a season that records signs; or a season that records none.</summary>
internal static class LossWithoutRemains
{
    internal static void Look(Inspection on)
    {
        var notes = new RowCells(on.Season, RecordKind.Visits, "note");
        Visit? firstOfAll = null;
        foreach (var history in on.Histories)
        {
            if (history.Fate.FirstLost is null || !history.Remains.IsEmpty) continue;
            foreach (var visit in history.Visits)
            {
                if (visit.Day != history.FirstLost || visit.Finding != Finding.Depredated || notes.Text(visit.Source).Length > 0) continue;
                if (firstOfAll is null || visit.Source.Row.Line < firstOfAll.Source.Row.Line) firstOfAll = visit;
                if (!on.Season.Remains.IsEmpty) on.Add("loss_without_remains", Severity.Odd, visit.Source.Place("finding"), history.Nest);
            }
        }

        if (on.Season.Remains.IsEmpty && firstOfAll is not null) on.Add("no_remains", Severity.Note, new Place(RecordKind.Remains.File));
    }
}
