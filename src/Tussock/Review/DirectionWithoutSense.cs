using Tussock.Records;

namespace Tussock.Review;

/// <summary>A direction of which nobody wrote whether it was taken from flag to nest or back: two places to look at.</summary>
internal static class DirectionWithoutSense
{
    internal static void Look(Inspection on)
    {
        var directions = new RowCells(on.Season, RecordKind.Nests, "direction");
        var senses = new RowCells(on.Season, RecordKind.Nests, "direction_sense");
        if (!directions.IsThere) return;
        foreach (var nest in on.Season.Nests)
        {
            if (directions.Text(nest.Source) is { Length: > 0 } text && senses.Text(nest.Source).Length == 0)
                on.Add("direction_without_sense", Severity.Missing, nest.Source.Place("direction_sense"), nest, ("direction", TableCheck.Shown(text)));
        }
    }
}
