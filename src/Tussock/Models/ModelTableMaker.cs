using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Adds up nests to a <see cref="ModelTable"/>, group by group.</summary>
/// <remarks>Not shared between threads.</remarks>
public sealed class ModelTableMaker(ImmutableArray<string> columns)
{
    /// <summary>How many of the group's latest patterns are searched for an equal one: enough for neighbours that share their effects, and a bound on the cost.</summary>
    private const int LookBack = 16;

    private readonly List<double> x = [], offset = [], watched = [], timed = [], lossWeight = [], pieceDays = [];
    private readonly List<int> groupPatterns = [], groupLosses = [], lossPieces = [0], piecePattern = [];
    private readonly List<string> groupNames = [];

    /// <summary>Nests that inform, counted by the caller.</summary>
    public int Nests { get; set; }

    /// <summary>Visit intervals used, counted by the caller.</summary>
    public int Intervals { get; set; }

    /// <summary>Begins the next group; whatever follows belongs to it.</summary>
    public void Group(string name)
    {
        groupNames.Add(name);
        groupPatterns.Add(offset.Count);
        groupLosses.Add(lossWeight.Count);
    }

    /// <summary>The index of a pattern of the present group: a new one, or an equal one met lately.</summary>
    /// <param name="effects">Finite values of the k columns.</param>
    /// <param name="plus">Offset of the linear predictor.</param>
    /// <exception cref="ArgumentException">The length differs from the number of columns, or no group was begun.</exception>
    public int Pattern(ReadOnlySpan<double> effects, double plus = 0)
    {
        if (effects.Length != columns.Length) throw new ArgumentException("one value a column", nameof(effects));
        if (groupPatterns.Count == 0) throw new ArgumentException("a pattern belongs to a group", nameof(effects));
        var all = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(x);
        for (var p = offset.Count - 1; p >= Math.Max(groupPatterns[^1], offset.Count - LookBack); p--)
            if (offset[p] == plus && all.Slice(p * columns.Length, columns.Length).SequenceEqual(effects)) return p;
        foreach (var value in effects) x.Add(value);
        offset.Add(plus);
        watched.Add(0);
        timed.Add(0);
        return offset.Count - 1;
    }

    /// <summary>Days watched intact.</summary>
    public void Watched(int pattern, double days, double weight = 1) => watched[pattern] += weight * days;

    /// <summary>A loss at a known time; the days before it are watched days.</summary>
    public void LostAt(int pattern, double weight = 1) => timed[pattern] += weight;

    /// <summary>A loss within an interval of one pattern.</summary>
    public void LostWithin(int pattern, double days, double weight = 1) => LostWithin([(pattern, days)], weight);

    /// <summary>A loss within an interval cut into pieces.</summary>
    public void LostWithin(ReadOnlySpan<(int Pattern, double Days)> pieces, double weight = 1)
    {
        foreach (var (pattern, days) in pieces)
        {
            piecePattern.Add(pattern);
            pieceDays.Add(days);
        }

        lossPieces.Add(piecePattern.Count);
        lossWeight.Add(weight);
    }

    /// <summary>The table of everything added.</summary>
    public ModelTable Table() => new()
    {
        Columns = columns,
        X = [.. x],
        Offset = [.. offset],
        Watched = [.. watched],
        Timed = [.. timed],
        GroupPatterns = [.. groupPatterns, offset.Count],
        GroupLosses = [.. groupLosses, lossWeight.Count],
        LossPieces = [.. lossPieces],
        LossWeight = [.. lossWeight],
        PiecePattern = [.. piecePattern],
        PieceDays = [.. pieceDays],
        GroupNames = [.. groupNames],
        Nests = Nests,
        Intervals = Intervals,
    };
}
