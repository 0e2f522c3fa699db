namespace Tussock.Models;

/// <summary>Visit intervals one by one, where a <see cref="ModelTable"/> holds their sums: what a simulation of the same visits needs.</summary>
/// <remarks>Sorted by group. Made by <see cref="VisitRowsMaker"/>. May be shared between threads; arrays must not be changed by readers.</remarks>
public sealed class VisitRows
{
    private readonly ModelTable patterns;

    internal VisitRows(ModelTable patterns, int[] pieces, int[] groupRows, int[] piecePattern, double[] pieceDays, bool[] lost) =>
        (this.patterns, Pieces, GroupRows, PiecePattern, PieceDays, Lost) = (patterns, pieces, groupRows, piecePattern, pieceDays, lost);

    /// <summary>First piece of each interval; one more entry than intervals.</summary>
    public int[] Pieces { get; }

    /// <summary>First interval of each group; one more entry than groups.</summary>
    public int[] GroupRows { get; }

    /// <summary>Pattern of each piece.</summary>
    public int[] PiecePattern { get; }

    /// <summary>Days of each piece, &gt; 0.</summary>
    public double[] PieceDays { get; }

    /// <summary>Whether the nest was found lost at the end of each interval.</summary>
    public bool[] Lost { get; }

    /// <summary>Number of intervals.</summary>
    public int Count => Lost.Length;

    /// <summary>The table of these intervals.</summary>
    public ModelTable Table() => Table(Lost);

    /// <summary>The table of the same intervals with other outcomes.</summary>
    public ModelTable Table(bool[] lost)
    {
        var watched = new double[patterns.Patterns];
        List<int> piecePattern = [], losses = [0], groupLosses = [0];
        List<double> days = [];
        for (var g = 0; g + 1 < GroupRows.Length; g++)
        {
            for (var row = GroupRows[g]; row < GroupRows[g + 1]; row++)
            {
                for (var piece = Pieces[row]; piece < Pieces[row + 1]; piece++)
                {
                    if (lost[row]) piecePattern.Add(PiecePattern[piece]);
                    if (lost[row]) days.Add(PieceDays[piece]);
                    else watched[PiecePattern[piece]] += PieceDays[piece];
                }

                if (lost[row]) losses.Add(piecePattern.Count);
            }

            groupLosses.Add(losses.Count - 1);
        }

        return With(watched, [.. losses], [.. groupLosses], [.. piecePattern], [.. days]);
    }

    private ModelTable With(double[] watched, int[] losses, int[] groupLosses, int[] piecePattern, double[] days)
    {
        var weights = new double[losses.Length - 1];
        Array.Fill(weights, 1);
        return new ModelTable
        {
            Columns = patterns.Columns,
            X = patterns.X,
            Offset = patterns.Offset,
            Watched = watched,
            Timed = patterns.Timed,
            GroupPatterns = patterns.GroupPatterns,
            GroupLosses = groupLosses,
            LossPieces = losses,
            LossWeight = weights,
            PiecePattern = piecePattern,
            PieceDays = days,
            GroupNames = patterns.GroupNames,
            Nests = patterns.Nests,
            Intervals = Count,
        };
    }
}
