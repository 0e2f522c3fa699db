using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Collects visit intervals one by one, group by group.</summary>
/// <remarks>Not shared between threads.</remarks>
public sealed class VisitRowsMaker(ImmutableArray<string> columns)
{
    private readonly ModelTableMaker maker = new(columns);
    private readonly List<int> pieces = [0], groupRows = [], piecePattern = [];
    private readonly List<double> pieceDays = [];
    private readonly List<bool> lost = [];

    /// <summary>Nests that inform, counted by the caller.</summary>
    public int Nests { get; set; }

    /// <summary>Begins the next group; whatever follows belongs to it.</summary>
    public void Group(string name)
    {
        maker.Group(name);
        groupRows.Add(lost.Count);
    }

    /// <summary>One interval between visits.</summary>
    /// <param name="days">Its pieces of constant effects, in order, at least one.</param>
    /// <param name="isLost">Whether the nest was found lost at its end.</param>
    public void Interval(IReadOnlyList<PatternDays> days, bool isLost)
    {
        foreach (var piece in days)
        {
            piecePattern.Add(maker.Pattern(piece.X, piece.Offset));
            pieceDays.Add(piece.Days);
        }

        End(isLost);
    }

    /// <summary>Where patterns of the present group are made by those who know them by their index.</summary>
    internal ModelTableMaker Patterns => maker;

    /// <summary>One interval between visits, its pieces by the index of their pattern.</summary>
    internal void IntervalOf(List<(int Pattern, double Days)> days, bool isLost)
    {
        foreach (var (pattern, length) in days)
        {
            piecePattern.Add(pattern);
            pieceDays.Add(length);
        }

        End(isLost);
    }

    private void End(bool isLost)
    {
        pieces.Add(piecePattern.Count);
        lost.Add(isLost);
    }

    /// <summary>The intervals collected.</summary>
    public VisitRows Rows()
    {
        maker.Nests = Nests;
        return new VisitRows(maker.Table(), [.. pieces], [.. groupRows, lost.Count], [.. piecePattern], [.. pieceDays], [.. lost]);
    }
}
