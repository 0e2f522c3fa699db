using Tussock.Land;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A direction that is neither a compass point nor degrees from 0 to 360.</summary>
internal static class ImpossibleDirection
{
    internal static void Look(Inspection on)
    {
        foreach (var column in RecordKind.Nests.Columns)
        {
            var cells = new RowCells(on.Season, RecordKind.Nests, column.Name);
            if (column.Type != ColumnType.Direction || !cells.IsThere) continue;
            foreach (var nest in on.Season.Nests)
            {
                if (IsWrong(cells.Text(nest.Source), out var shown)) on.Add("impossible_direction", Severity.Contradiction, nest.Source.Place(column.Name), nest, ("found", shown));
            }
        }

        var bearing = new RowCells(on.Season, RecordKind.Transects, "bearing_true_deg");
        foreach (var transect in on.Season.Transects)
        {
            if (IsWrong(bearing.Text(transect.Source), out var shown)) on.Add("impossible_direction", Severity.Contradiction, transect.Source.Place("bearing_true_deg"), transect, ("found", shown));
        }
    }

    private static bool IsWrong(string text, out string shown)
    {
        shown = TableCheck.Shown(text);
        return text.Length > 0 && Direction.Parse(text) is null;
    }
}
