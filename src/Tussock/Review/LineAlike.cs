using Tussock.Records;

namespace Tussock.Review;

/// <summary>A line on which every nest has the same steps and the same direction: nobody walks so.</summary>
internal static class LineAlike
{
    private const int Fewest = 4;

    internal static void Look(Inspection on)
    {
        var steps = new RowCells(on.Season, RecordKind.Nests, "steps");
        var directions = new RowCells(on.Season, RecordKind.Nests, "direction");
        if (!steps.IsThere || !directions.IsThere) return;
        foreach (var line in on.Season.Nests.Where(n => n.IsSet).GroupBy(n => n.Transect))
        {
            var walks = line.Select(n => (Steps: steps.Text(n.Source), Direction: directions.Token(n.Source))).ToArray();
            if (walks.Length < Fewest || walks[0].Steps.Length == 0 || walks[0].Direction.Length == 0 || walks.Any(w => w != walks[0])) continue;
            on.Add("line_alike", Severity.Odd, line.MinBy(n => n.Source.Row.Line)!.Source.Place("steps"), line.Key, ("nests", walks.Length), ("steps", walks[0].Steps), ("direction", walks[0].Direction.ToUpperInvariant()));
        }
    }
}
