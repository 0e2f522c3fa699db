namespace Tussock.Models;

/// <summary>Copies what is left of a table at the end of a direction: patterns that stand still, and losses that are not sure.</summary>
internal sealed class RestMaker(ModelTable table, sbyte[] signs)
{
    private readonly ModelTableMaker maker = new(table.Columns) { Nests = table.Nests, Intervals = table.Intervals };
    private readonly Dictionary<int, int> place = [];

    /// <summary>Copies one group, which may end up empty.</summary>
    public void Group(int group)
    {
        maker.Group(table.GroupNames[group]);
        place.Clear();
        for (var p = table.GroupPatterns[group]; p < table.GroupPatterns[group + 1]; p++)
        {
            if (signs[p] != 0) continue;
            place[p] = maker.Pattern(table.Row(p), table.Offset[p]);
            maker.Watched(place[p], table.Watched[p]);
            maker.LostAt(place[p], table.Timed[p]);
        }

        for (var loss = table.GroupLosses[group]; loss < table.GroupLosses[group + 1]; loss++) Loss(loss);
    }

    /// <summary>The table of everything copied.</summary>
    public ModelTable Table() => maker.Table();

    private void Loss(int loss)
    {
        var pieces = new List<(int, double)>();
        for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++)
        {
            var pattern = table.PiecePattern[piece];
            if (signs[pattern] > 0) return;
            if (signs[pattern] == 0) pieces.Add((place[pattern], table.PieceDays[piece]));
        }

        maker.LostWithin(pieces.ToArray(), table.LossWeight[loss]);
    }
}
